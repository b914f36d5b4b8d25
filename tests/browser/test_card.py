"""A pilot follows a charging card: started, ticked, left, come back to, timed and ended, on a small page of the same shape.

The page's clock is set and moved by the tests, so nothing here waits for a timer.
"""

import re
import shutil
import tomllib
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.building.bundle import WEB
from site_builder.building.bundling import joined
from site_builder.commands.serve import Server
from site_builder.engine.answer import respond
from site_builder.harness.store import REFUSES, WITHOUT_SCRIPTS, kept, lay_records
from site_builder.setting_up.checkout import ROOT

CLUB = tomllib.loads((ROOT / "content" / "club.toml").read_text(encoding="utf-8"))
OPENED = datetime(2026, 5, 9, 13, 59)  # a minute before the clock stands still

HTML = """<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><title>Charging card</title>
<link rel="icon" href="icon.svg"><script type="module" src="page.js"></script></head>
<body data-page="charging-card"><main><h1>Charging card</h1>
<form id="entries"><fieldset><label for="entry-cells">Cells</label><input id="entry-cells" name="cells"></fieldset></form>
<section id="answer" data-state="example"><h2 id="answer-title" tabindex="-1">Worked example</h2>
<p id="answer-about">These are not your numbers.</p><div id="card-controls"></div>
<div id="answer-body">{card}</div></section></main><div class="bottom"></div></body></html>"""

# In the place of form.js: it answers with a card that it is given, and leaves a running card alone.
PAGE_JS = """import { start } from "./card.js";
import { CARD } from "./card_kept.js";
import * as watch from "./card_watch.js";
import * as clocks from "./clocks.js";
import { lookUp } from "./kept.js";
import { trustedHtml } from "./trusted.js";
const answer = document.getElementById("answer");
window.answer = (kind, html) => {
  if (document.body.dataset.cardRunning !== "yes") {
    document.getElementById("answer-body").innerHTML = trustedHtml(html);
    answer.dataset.state = kind;
  }
  document.dispatchEvent(new CustomEvent("fieldslate:answer", { detail: { kind } }));
};
window.parsed = (html) => new DOMParser().parseFromString(trustedHtml(html), "text/html");
window.cardEvents = 0;
document.addEventListener("fieldslate:card", () => (window.cardEvents += 1));
document.getElementById("entries").addEventListener("input", () => document.dispatchEvent(new CustomEvent("fieldslate:entries")));
await lookUp(clocks.CLOCK, CARD);
watch.start();
clocks.start();
watch.arrive();
start(new AbortController().signal);"""

# The browser's own sound, counted: how many tones it was asked for.
COUNT_TONES = """window.tones = 0;
window.AudioContext = class extends AudioContext {
  createOscillator() { window.tones += 1; return super.createOscillator(); }
};"""


def card_of(pack: str) -> str:
    parts = CLUB["packs"][pack] | CLUB["chargers"]["small"] | CLUB["supplies"]["field-battery"]
    response = respond("charging_card", {name: text for name, text in parts.items() if name not in ("name", "flies_in")})
    assert response.kind == "answer"
    return response.html


CARD = card_of("brass-heron")
OTHER_CARD = card_of("paper-wren")


@pytest.fixture(scope="module")
def page_js(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The scripts of the card as a page gets them, joined into one."""
    folder = tmp_path_factory.mktemp("scripts")
    for script in WEB.glob("*.js"):
        shutil.copy(script, folder)
    (folder / "page.js").write_text(PAGE_JS, encoding="utf-8")
    return joined(folder / "page.js")


@pytest.fixture
def host(tmp_path: Path, page_js: bytes) -> Iterator[Server]:
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "page.js").write_bytes(page_js)
    (folder / "icon.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>', encoding="utf-8")
    (folder / "index.html").write_text(HTML.format(card=CARD), encoding="utf-8")
    (folder / WITHOUT_SCRIPTS).write_text("Nothing runs here.", encoding="utf-8")
    with Server(folder) as server:
        yield server


def open_page(phone: BrowserContext, host: Server, at: datetime = OPENED) -> Page:
    """Open the page at a time of day that stands still until a test moves it."""
    page = phone.new_page()
    page.add_init_script(COUNT_TONES)
    page.clock.install(time=at)
    page.goto(host.address)
    expect(controls(page)).not_to_be_empty()  # the script has started
    page.clock.pause_at(at + timedelta(minutes=1))
    return page


def start_card(page: Page) -> None:
    page.evaluate("card => answer('answer', card)", CARD)
    button(page, "Start this card").click()
    expect(page.get_by_role("heading", name="Your card", exact=True)).to_be_visible()
    expect(controls(page)).to_contain_text("It sounds only while Fieldslate is in front")  # the sound is awake


@pytest.fixture
def opened(phone: BrowserContext, host: Server) -> Page:
    return open_page(phone, host)


@pytest.fixture
def running(opened: Page) -> Page:
    start_card(opened)
    return opened


def button(page: Page, name: str):
    return page.get_by_role("button", name=name, exact=True)


def tick(page: Page, title: str):
    return page.get_by_role("checkbox", name=title, exact=True)


def note(page: Page):
    return page.get_by_role("textbox", name="Your note")


def controls(page: Page):
    return page.locator("#card-controls")


def step(page: Page, title: str):
    return page.get_by_role("listitem").filter(has=tick(page, title))


def end_card(page: Page) -> None:
    button(page, "End this card").click()
    button(page, "Yes, end it").click()


def test_the_clubs_example_cannot_be_started_and_says_why(opened):
    expect(controls(opened)).to_have_text("This is the club's example. Enter your own pack to start a card.")
    expect(tick(opened, "Choose the place")).to_be_disabled()
    expect(note(opened)).to_be_disabled()
    expect(button(opened, "Start this card")).to_have_count(0)


@pytest.mark.parametrize(
    ("kind", "sentence"),
    [
        ("waiting", "A card can be started as soon as your entries are answered."),
        ("refusal", "There is no card for these entries: the reason stands below."),
        ("fault", "This could not be worked out, so there is no card to start."),
    ],
)
def test_without_an_answer_no_card_can_be_started_and_the_page_says_why(opened, kind, sentence):
    opened.evaluate("card => answer('answer', card)", CARD)
    expect(button(opened, "Start this card")).to_be_enabled()
    opened.evaluate("([kind, card]) => answer(kind, card)", [kind, CARD])
    expect(controls(opened)).to_have_text(sentence)
    expect(tick(opened, "Choose the place")).to_be_disabled()


def test_a_card_cannot_be_started_between_a_new_entry_and_its_answer(opened):
    opened.evaluate("card => answer('answer', card)", CARD)
    opened.get_by_role("textbox", name="Cells").fill("4")
    expect(button(opened, "Start this card")).to_be_disabled()
    opened.evaluate("card => answer('answer', card)", OTHER_CARD)
    expect(button(opened, "Start this card")).to_be_enabled()


def test_a_started_card_can_be_ticked_is_told_to_the_page_and_has_the_focus(running):
    expect(tick(running, "Choose the place")).to_be_enabled()
    expect(running.get_by_role("heading", name="Your card")).to_be_focused()
    expect(running.locator("#answer-about")).to_contain_text("Started at 14:00.")
    assert running.evaluate("cardEvents") == 1


def test_the_entries_are_locked_while_the_card_runs(running):
    expect(running.get_by_text("The entries are locked while the card runs.")).to_be_visible()
    running.locator("#entry-cells").focus()
    expect(running.locator("#entry-cells")).not_to_be_focused()


def test_the_next_step_is_named_with_its_place_and_marked(running):
    count = running.locator(".tick input[id^=tick]").count()
    tick(running, "Choose the place").check()
    tick(running, "Read every cell").check()
    expect(controls(running).get_by_role("status").first).to_have_text(f"Next: Look at the pack, and feel it, 2 of {count}")
    expect(step(running, "Look at the pack, and feel it")).to_have_attribute("aria-current", "step")
    expect(running.locator("[aria-current]")).to_have_count(1)
    tick(running, "Choose the place").uncheck()
    expect(controls(running)).to_contain_text(f"Next: Choose the place, 1 of {count}")


def test_a_button_leads_to_the_next_step(running):
    tick(running, "Choose the place").check()
    button(running, "Go to this step").click()
    expect(tick(running, "Look at the pack, and feel it")).to_be_focused()


def test_a_card_followed_to_its_end_has_no_next_step(running):
    for box in running.locator(".tick input[id^=tick]").all():
        box.check()
    expect(controls(running)).to_contain_text("Every step is ticked.")
    expect(button(running, "Go to this step")).to_be_hidden()
    expect(running.locator("[aria-current]")).to_have_count(0)


def test_ticks_and_note_are_there_after_a_reload(running):
    tick(running, "Choose the place").check()
    tick(running, "Main lead").check()
    tick(running, "Main lead").uncheck()
    note(running).fill("lowest cell 4.18 V")
    expect(running.locator("[data-keeping]")).to_have_count(0)
    running.reload()
    expect(tick(running, "Choose the place")).to_be_checked()
    expect(tick(running, "Main lead")).not_to_be_checked()
    expect(note(running)).to_have_value("lowest cell 4.18 V")
    expect(running.get_by_text("The entries are locked while the card runs.")).to_be_visible()


def test_a_card_is_there_after_the_browser_was_closed_even_in_a_new_version(opened_phone, host):
    with opened_phone() as phone:
        page = open_page(phone, host)
        start_card(page)
        tick(page, "Choose the place").check()
        expect(page.locator("[data-keeping]")).to_have_count(0)
    (host.folder / "index.html").write_text(HTML.format(card=OTHER_CARD), encoding="utf-8")
    with opened_phone() as phone:
        page = open_page(phone, host, at=OPENED + timedelta(days=1))
        expect(page.locator("#answer-about")).to_contain_text("Started at 14:00 on 9 May 2026.")
        expect(tick(page, "Choose the place")).to_be_checked()
        expect(step(page, "Charge current").locator(".figure")).to_have_text(figure_in(page, CARD))


def figure_in(page: Page, card: str) -> str:
    """Return the charge current that a card's HTML sets."""
    return page.evaluate(
        """card => parsed(card)
            .querySelector("[data-step=set-current] .figure").textContent""",
        card,
    )


def test_a_new_answer_does_not_replace_a_running_card(running):
    tick(running, "Choose the place").check()
    running.evaluate("card => answer('answer', card)", OTHER_CARD)
    expect(tick(running, "Choose the place")).to_be_checked()
    expect(button(running, "Start this card")).to_have_count(0)
    assert figure_in(running, CARD) != figure_in(running, OTHER_CARD)
    expect(step(running, "Charge current").locator(".figure")).to_have_text(figure_in(running, CARD))


def test_a_card_that_cannot_be_read_is_dropped(opened, host):
    lay_records(opened, host.address, {"running-card": {"version": 1, "checksum": 0, "value": '{"html":'}})
    opened.goto(host.address)
    expect(controls(opened)).to_contain_text("This is the club's example.")
    expect(
        opened.get_by_text("Something that was kept on this phone is damaged, and put aside: the card that was running.")
    ).to_be_visible()
    assert kept(opened, "running-card") is None


def test_a_timer_counts_down_in_minutes_and_seconds_without_being_read_out(running):
    button(running, "Start timer: First look").click()
    timer = step(running, "First look").get_by_role("timer")
    expect(timer).to_have_text("05:00")
    running.clock.run_for(61_000)
    expect(timer).to_have_text("03:59")
    expect(timer).to_have_attribute("aria-live", "off")
    button(running, "Stop timer: First look").click()
    expect(timer).to_be_empty()


def test_a_timer_goes_on_over_a_reload(running):
    button(running, "Start timer: First look").click()
    expect(step(running, "First look").get_by_role("timer")).to_have_text("05:00")
    running.clock.run_for(120_000)
    running.reload()
    expect(step(running, "First look").get_by_role("timer")).to_have_text("03:00")


def test_a_timer_that_is_up_calls_again_and_again_until_the_pilot_has_looked(running):
    button(running, "Start timer: First look").click()
    running.clock.fast_forward("05:01")
    expect(running.get_by_role("alert")).to_have_text("First look: time was up at 14:05. Look now.")
    first = running.evaluate("tones")
    running.clock.run_for(5_000)
    again = running.evaluate("tones")
    button(running, "I have looked: First look").click()
    expect(running.get_by_role("alert")).to_have_count(0)
    expect(button(running, "Start timer again: First look")).to_be_focused()
    running.clock.run_for(5_000)
    assert 0 < first < again == running.evaluate("tones")


def test_a_look_that_repeats_starts_its_timer_anew_and_rings_again(running):
    button(running, "Start timer: Look again, and again").click()
    running.clock.fast_forward("15:01")
    button(running, "I have looked: Look again, and again").click()
    expect(running.get_by_role("alert")).to_have_count(0)
    expect(step(running, "Look again, and again").get_by_role("timer")).to_have_text("15:00")
    before = running.evaluate("tones")
    running.clock.fast_forward("15:01")
    expect(running.get_by_role("alert")).to_contain_text("Look again, and again: time was up at 14:30. Look now.")
    assert running.evaluate("tones") > before


# Only the clock that runs on: the one on the wall stands still.
RUN_ON = "minutes => { const now = performance.now.bind(performance); performance.now = () => now() + minutes * 60_000; }"


@pytest.mark.parametrize("wall_min", [0, -600], ids=["stands still", "is set back"])
def test_a_wall_clock_that_stands_still_or_is_set_back_makes_no_timer_longer(running, wall_min):
    button(running, "Start timer: First look").click()
    expect(step(running, "First look").get_by_role("timer")).to_have_text("05:00")  # it has begun once it is on the disk
    running.clock.set_system_time(OPENED + timedelta(minutes=1 + wall_min))
    running.evaluate(RUN_ON, 3)
    running.clock.run_for(1_000)
    expect(step(running, "First look").get_by_role("timer")).to_have_text("01:59")
    running.evaluate(RUN_ON, 3)
    running.clock.run_for(1_000)
    expect(running.get_by_role("alert")).to_contain_text("First look: time was up")


def test_a_wall_clock_that_goes_back_over_a_reload_makes_no_timer_longer(running):
    button(running, "Start timer: First look").click()
    expect(step(running, "First look").get_by_role("timer")).to_have_text("05:00")
    running.clock.run_for(120_000)
    running.clock.set_system_time(OPENED - timedelta(hours=1))
    running.reload()
    expect(step(running, "First look").get_by_role("timer")).to_have_text(re.compile("^0[23]:"))


def test_a_timer_that_ended_while_the_phone_slept_rings_at_once_on_waking(running):
    button(running, "Start timer: First look").click()
    running.clock.set_system_time(OPENED + timedelta(minutes=30))  # no timer of the page has run meanwhile
    running.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(running.get_by_role("alert")).to_contain_text("First look: time was up at 14:05.")
    assert running.evaluate("tones") > 0


def test_the_card_says_that_no_page_rings_in_a_sleeping_phone_and_what_the_guard_is(running):
    expect(controls(running)).to_contain_text("No page can ring while the phone sleeps; it rings as soon as it wakes.")
    expect(controls(running)).to_contain_text("The guard is the charger's own stops: set them, and stay by the pack.")


def test_a_timer_started_again_counts_from_the_full_time(running):
    button(running, "Start timer: First look").click()
    running.clock.fast_forward("05:01")
    button(running, "Start timer again: First look").click()
    expect(running.get_by_role("alert")).to_have_count(0)
    expect(step(running, "First look").get_by_role("timer")).to_have_text("05:00")


def test_several_timers_run_and_each_calls_by_its_name(running):
    button(running, "Start timer: First look").click()
    button(running, "Start timer: Look again, and again").click()
    running.clock.fast_forward("15:01")
    expect(running.get_by_role("alert")).to_have_text(
        ["First look: time was up at 14:05. Look now.", "Look again, and again: time was up at 14:15. Look now."]
    )
    button(running, "I have looked: First look").click()
    expect(running.get_by_role("alert")).to_have_count(1)


def test_with_the_sound_off_only_the_alert_comes(running):
    running.get_by_label("Sound when a timer is up").uncheck()
    button(running, "Start timer: First look").click()
    running.clock.fast_forward("05:01")
    expect(running.get_by_role("alert")).to_be_visible()
    assert running.evaluate("tones") == 0
    running.reload()
    expect(running.get_by_label("Sound when a timer is up")).not_to_be_checked()


def test_the_sound_can_be_tested(running, until):
    button(running, "Test the sound").click()
    until(running, "tones > 0")


def test_after_a_reload_the_sound_needs_a_tap_and_says_so(running):
    expect(controls(running)).to_contain_text("It sounds only while Fieldslate is in front")
    running.reload()
    expect(controls(running)).to_contain_text("The sound is asleep: tap anywhere")
    running.get_by_role("heading", level=1).click()
    expect(controls(running)).to_contain_text("It sounds only while Fieldslate is in front")


def test_a_timer_that_ended_while_the_browser_was_closed_says_when(opened_phone, host):
    with opened_phone() as phone:
        page = open_page(phone, host)
        start_card(page)
        button(page, "Start timer: First look").click()
        expect(step(page, "First look").get_by_role("timer")).to_have_text("05:00")
    with opened_phone() as phone:
        page = open_page(phone, host, at=OPENED + timedelta(hours=1))
        expect(step(page, "First look").get_by_role("timer")).to_have_text("Time was up at 14:05")
        expect(page.get_by_role("alert")).to_contain_text("First look: time was up at 14:05.")


def test_a_look_that_was_done_is_not_asked_for_again_after_a_reload(running):
    button(running, "Start timer: First look").click()
    running.clock.fast_forward("05:01")
    button(running, "I have looked: First look").click()
    expect(running.get_by_role("alert")).to_have_count(0)
    running.reload()
    expect(step(running, "First look").get_by_role("timer")).to_have_text("Time was up at 14:05")
    expect(running.get_by_role("alert")).to_have_count(0)


def test_a_card_ends_at_the_second_tap_and_leaves_a_record(running):
    tick(running, "Choose the place").check()
    note(running).fill("61 minutes, 2480 mAh")
    running.clock.run_for(3_600_000)
    end_card(running)
    record = controls(running).get_by_role("listitem")
    expect(record.nth(0)).to_have_text("Started: 14:00 on 9 May 2026")
    expect(record.nth(1)).to_have_text("Ended: 15:00 on 9 May 2026")
    expect(record.filter(has_text="Write it down: 61 minutes, 2480 mAh")).to_be_visible()
    expect(record.last).to_contain_text("Not ticked: Look at the pack, and feel it; Read every cell;")
    expect(running.get_by_role("heading", name="Record of this card")).to_be_focused()


def test_the_end_of_a_card_unlocks_the_entries_and_forgets_the_card(running):
    tick(running, "Choose the place").check()
    end_card(running)
    assert kept(running, "running-card") is None
    assert running.evaluate("[cardEvents, document.body.dataset.cardRunning ?? 'no']") == [2, "no"]
    expect(running.get_by_text("The entries are locked")).to_have_count(0)
    running.get_by_role("textbox", name="Cells").fill("3")
    running.reload()
    expect(controls(running)).to_contain_text("This is the club's example.")


def test_after_a_card_the_pack_must_be_entered_anew(running):
    end_card(running)
    running.evaluate("card => answer('answer', card)", CARD)
    expect(controls(running)).to_contain_text("the pack is not as it was: measure it and enter it anew")
    expect(button(running, "Start this card")).to_have_count(0)
    running.get_by_role("textbox", name="Cells").fill("3")
    running.evaluate("card => answer('answer', card)", CARD)
    expect(button(running, "Start this card")).to_be_enabled()
    expect(tick(running, "Choose the place")).not_to_be_checked()


def test_the_first_tap_on_the_end_can_be_taken_back(running):
    button(running, "End this card").click()
    expect(running.get_by_role("group", name="End this card and its timers?")).to_contain_text("Steps not ticked:")
    expect(button(running, "Go on with this card")).to_be_focused()
    button(running, "Go on with this card").click()
    expect(button(running, "End this card")).to_be_focused()
    expect(tick(running, "Choose the place")).to_be_enabled()
    assert kept(running, "running-card") is not None


def test_a_record_can_be_copied(running):
    running.context.grant_permissions(["clipboard-read", "clipboard-write"])
    end_card(running)
    button(running, "Copy it").click()
    expect(controls(running)).to_contain_text("It is copied.")
    assert running.evaluate("navigator.clipboard.readText()").startswith("Started: 14:00 on 9 May 2026\n")


def test_where_nothing_can_be_kept_the_card_works_and_says_so(phone, host):
    phone.add_init_script(REFUSES)
    faults = []
    phone.on("weberror", lambda fault: faults.append(fault.error.message))
    page = open_page(phone, host)
    start_card(page)
    tick(page, "Choose the place").check()
    expect(controls(page)).to_contain_text("the card will not survive a reload")
    expect(controls(page)).to_contain_text("Next: Look at the pack, and feel it")
    end_card(page)
    expect(controls(page)).to_contain_text("Record of this card")
    assert faults == []


def test_a_second_tab_shows_the_same_card_and_the_same_end(running, phone, host):
    other = open_page(phone, host)
    expect(other.get_by_role("heading", name="Your card")).to_be_visible()
    tick(running, "Choose the place").check()
    expect(tick(other, "Choose the place")).to_be_checked()
    tick(other, "Read every cell").check()
    expect(tick(running, "Read every cell")).to_be_checked()
    end_card(running)
    expect(controls(other)).to_contain_text("The card was ended in another tab.")
    expect(tick(other, "Choose the place")).to_be_disabled()


def test_a_card_started_in_another_tab_locks_this_one(opened, phone, host):
    other = open_page(phone, host)
    start_card(opened)
    expect(other.get_by_role("heading", name="Your card")).to_be_visible()
    expect(other.get_by_text("The entries are locked while the card runs.")).to_be_visible()


SCREEN_LOCKS = """window.asked = 0;
Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => {
  window.asked += 1;
  window.lock = { released: false, release() { this.released = true; } };
  return window.lock;
} } });"""


def test_the_screen_is_kept_on_asked_for_again_at_each_return_and_let_go_at_the_end(phone, host, until):
    phone.add_init_script(SCREEN_LOCKS)
    page = open_page(phone, host)
    start_card(page)
    expect(controls(page)).to_contain_text("The screen stays on")
    page.evaluate("lock.released = true; document.dispatchEvent(new Event('visibilitychange'))")
    until(page, "asked === 2 && !lock.released")
    end_card(page)
    until(page, "lock.released")


def test_a_screen_that_the_browser_lets_go_is_told_of_and_asked_for_again(phone, host, until):
    phone.add_init_script(SCREEN_LOCKS)
    page = open_page(phone, host)
    start_card(page)
    until(page, "typeof window.lock?.onrelease === 'function'")
    page.evaluate("lock.released = true; lock.onrelease()")
    expect(controls(page)).to_contain_text("The screen may go off now: set it in the phone.")
    page.clock.run_for(15_000)
    expect(controls(page)).to_contain_text("The screen stays on")
    assert page.evaluate("asked") == 2


def test_a_browser_that_cannot_keep_the_screen_on_says_so(phone, host):
    phone.add_init_script("Object.defineProperty(navigator, 'wakeLock', { value: undefined })")
    page = open_page(phone, host)
    start_card(page)
    expect(controls(page)).to_contain_text("This browser cannot keep the screen on: set it in the phone.")


def test_a_running_card_with_an_alarm_and_the_question_of_its_end_breaks_no_rule_of_access(running, axe):
    button(running, "Start timer: First look").click()
    running.clock.fast_forward("05:01")
    button(running, "End this card").click()
    expect(running.get_by_role("alert")).to_be_visible()
    running.clock.resume()  # axe waits on the clock
    assert axe(running) == []
