"""A pilot follows charging cards: started, ticked, left, come back to, timed and ended, on two small pages of the same shape.

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

from site_builder.building.bundling import joined
from site_builder.building.loaded_folders import page_facts
from site_builder.commands.serve import Server
from site_builder.engine.answer import respond
from site_builder.harness.pilot import end_card, run_on
from site_builder.harness.store import REFUSES, WITHOUT_SCRIPTS, forget, kept, lay_records, put_records, records, sealed, until_kept
from site_builder.setting_up.checkout import ROOT, WEB

CLUB = tomllib.loads((ROOT / "content" / "club.toml").read_text(encoding="utf-8"))
A_MINUTE_MS = 60_000
OPENED = datetime(2026, 5, 9, 13, 59)  # a minute before the clock stands still

PAGE = """<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><title>{title}</title>
<link rel="icon" href="icon.svg"><link rel="stylesheet" href="targets.css"><script type="module" src="page.js"></script></head>
<body data-page="{key}" data-engine="engine/"><header class="top"></header><main><h1>{title}</h1>{main}</main>
<footer><p id="arrived"></p></footer><nav class="bottom"><a href="index.html">Charging card</a> <a href="cards.html">Cards</a></nav></body></html>"""

OFFER = """<form id="entries"><label for="entry-cells">Cells</label><input id="entry-cells" name="cells" data-measured></form>
<section id="answer" data-state="example"><div id="card-controls"></div><div id="answer-body">{card}</div></section>"""

CARDS_PAGE = """<div id="running-cards"></div><details id="all-cards" open><summary>Start a card</summary></details>
<section id="card-records" hidden><h2>Records</h2></section>"""

# In the place of form.js: it answers with a card that it is given, and keeps what is entered.
PAGE_JS = """import { CARDS, ONE_CARD, takeOverOneCard } from "./card_kept.js";
import * as offer from "./card_offer.js";
import * as cards from "./card_page.js";
import { RECORDS } from "./card_records.js";
import * as watch from "./card_watch.js";
import * as clocks from "./clocks.js";
import { keep, lookUp } from "./kept.js";
import { ENTRIES, OVER } from "./kept_entries.js";
import { LISTS, PICKED } from "./own_kept.js";
import * as ownRows from "./own_rows.js";
import { trustedHtml } from "./trusted.js";
import * as travel from "./travel.js";
window.answer = (kind, html) => {
  document.getElementById("answer-body").innerHTML = trustedHtml(html);
  document.getElementById("answer").dataset.state = kind;
  document.dispatchEvent(new CustomEvent("fieldslate:answer", { detail: { kind } }));
};
window.parsed = (html) => new DOMParser().parseFromString(trustedHtml(html), "text/html");
const opened = lookUp(clocks.CLOCK, CARDS, ONE_CARD, ENTRIES, OVER, RECORDS, PICKED, ...Object.values(LISTS)).then(() => {
  takeOverOneCard();
  watch.start();
  clocks.start();
});
travel.start(async (leaving) => {
  await opened;
  watch.arrive();
  const form = document.getElementById("entries");
  if (!form) return cards.start(leaving);
  form.addEventListener("input", ({ target }) => {
    keep(ENTRIES, { cells: [target.value, Date.now()] });
    document.dispatchEvent(new CustomEvent("fieldslate:entries"));
  });
  ownRows.start(leaving);
  offer.start(leaving);
});"""

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
TITLES = re.findall(r'class="step-title">([^<]+)<', CARD)
COUNT_STEP = TITLES.index("Compare before you start")
START_STEP = TITLES.index("Start the charge")
LIKELY_MIN = int(re.search(r'data-step="expected-end".*?data-minutes="(\d+)"', CARD, re.DOTALL)[1])


@pytest.fixture(scope="module")
def page_js(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The scripts of the cards as a page gets them, joined into one."""
    folder = tmp_path_factory.mktemp("scripts")
    for script in WEB.glob("*.js"):
        shutil.copy(script, folder)
    (folder / "page.js").write_text(PAGE_JS, encoding="utf-8")
    return joined(folder / "page.js", facts=page_facts())


@pytest.fixture
def host(tmp_path: Path, page_js: bytes) -> Iterator[Server]:
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "page.js").write_bytes(page_js)
    (folder / "icon.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>', encoding="utf-8")
    (folder / "targets.css").write_text("summary, .button { display: block; min-height: 48px; }", encoding="utf-8")
    put_card(folder, CARD)
    (folder / "cards.html").write_text(PAGE.format(title="Cards", key="cards", main=CARDS_PAGE), encoding="utf-8")
    (folder / WITHOUT_SCRIPTS).write_text("Nothing runs here.", encoding="utf-8")
    with Server(folder) as server:
        yield server


def put_card(folder: Path, card: str) -> None:
    page = PAGE.format(title="Charging card", key="charging-card", main=OFFER.format(card=card))
    (folder / "index.html").write_text(page, encoding="utf-8")


def open_page(phone: BrowserContext, host: Server, at: datetime = OPENED, path: str = "") -> Page:
    """Open a page at a time of day that stands still until a test moves it."""
    page = phone.new_page()
    page.add_init_script(COUNT_TONES)
    page.clock.install(time=at)
    page.goto(host.address + path)
    expect(page.locator("#card-controls:empty")).to_have_count(0)  # the script has started
    page.clock.pause_at(at + timedelta(minutes=1))
    return page


def offer_card(page: Page, card: str, reading: str) -> None:
    """Enter a reading, and have it answered with a card."""
    page.get_by_role("textbox", name="Cells").fill(reading)
    page.evaluate("card => answer('answer', card)", card)


def start_card(page: Page, card: str = CARD, reading: str = "3.80") -> None:
    offer_card(page, card, reading)
    button(page, "Start this card").click()
    expect(heading(page)).to_be_visible()


def start_second_card(page: Page) -> None:
    page.get_by_role("link", name="Charging card", exact=True).click()
    expect(controls(page)).not_to_be_empty()
    start_card(page, OTHER_CARD, "3.71")
    expect(page.get_by_role("navigation", name="Running cards")).to_be_visible()


@pytest.fixture
def opened(phone: BrowserContext, host: Server) -> Page:
    return open_page(phone, host)


@pytest.fixture
def running(opened: Page) -> Page:
    start_card(opened)
    return opened


def button(page: Page, name: str):
    return page.get_by_role("button", name=name, exact=True)


def heading(page: Page):
    return page.locator("#card-now-title")


def tick(page: Page):
    return page.locator(".card-tick")


def strip(page: Page):
    return page.get_by_role("region", name="Numbers of this card")


def controls(page: Page):
    return page.locator("#card-controls")


def tick_next(page: Page, times: int = 1) -> None:
    """Tick the next steps, each once the finger that ticked the one before has had time to leave, and see each kept."""
    for _ in range(times):
        page.clock.run_for(700)
        step = TITLES.index(heading(page).text_content())
        if step == COUNT_STEP:
            page.get_by_role("textbox", name="Cells that the charger shows").fill("3")
        tick(page).click()
        expect(heading(page)).to_have_text([*TITLES, "Every step is ticked"][step + 1])


def to_step(page: Page, title: str) -> None:
    tick_next(page, TITLES.index(title) - TITLES.index(heading(page).text_content()))


def unfold_foot(page: Page) -> None:
    page.locator(".card-foot > summary").click()


def running_cards(page: Page) -> list[dict]:
    """Return the cards that run, as the phone keeps them."""
    return (kept(page, "running-cards") or {"running": []})["running"]


# Before it runs


def test_the_clubs_example_cannot_be_started_and_says_why(opened):
    expect(controls(opened)).to_have_text("This is the club's example. Enter your own pack to start a card.")
    expect(opened.get_by_role("checkbox", name="Choose the place")).to_be_disabled()
    expect(button(opened, "Start this card")).to_have_count(0)


@pytest.mark.parametrize(
    ("kind", "sentence"),
    [
        ("waiting", "A card can be started as soon as your entries are answered."),
        ("partial", "A card can be started once the pack has been read."),
        ("refusal", "There is no card for these entries: the reason is below."),
        ("fault", "This could not be worked out, so there is no card to start."),
    ],
)
def test_without_an_answer_no_card_can_be_started_and_the_page_says_why(opened, kind, sentence):
    offer_card(opened, CARD, "3.80")
    expect(button(opened, "Start this card")).to_be_enabled()
    opened.evaluate("([kind, card]) => answer(kind, card)", [kind, CARD])
    expect(controls(opened)).to_have_text(sentence)
    expect(opened.get_by_role("checkbox", name="Choose the place")).to_be_disabled()


def test_a_card_cannot_be_started_between_a_new_entry_and_its_answer(opened):
    offer_card(opened, CARD, "3.80")
    opened.get_by_role("textbox", name="Cells").fill("4")
    expect(button(opened, "Start this card")).to_be_disabled()
    opened.evaluate("card => answer('answer', card)", OTHER_CARD)
    expect(button(opened, "Start this card")).to_be_enabled()


def test_a_started_card_stands_at_its_first_step_which_has_the_focus(running):
    expect(heading(running)).to_have_text("Compare the label in your hand")
    expect(heading(running)).to_be_focused()
    expect(running.get_by_text(f"Step 1 of {len(TITLES)}")).to_be_visible()
    assert [card["ticked"] for card in running_cards(running)] == [[]]


def test_a_second_tap_of_a_cold_finger_starts_no_second_card(opened):
    offer_card(opened, CARD, "3.80")
    button(opened, "Start this card").dblclick()
    expect(heading(opened)).to_be_visible()
    assert len(running_cards(opened)) == 1


def test_the_readings_of_a_card_that_runs_start_no_second_one(running):
    running.get_by_role("link", name="Charging card", exact=True).click()
    expect(controls(running)).not_to_be_empty()
    running.evaluate("card => answer('answer', card)", CARD)
    expect(controls(running)).to_contain_text("These readings have started the card that runs: Charging card. Measure the next pack")
    expect(button(running, "Start this card")).to_have_count(0)
    offer_card(running, OTHER_CARD, "3.71")
    expect(button(running, "Start this card")).to_be_enabled()


# Step by step


def test_the_first_step_holds_the_pack_against_the_label_that_was_entered(running):
    now = running.locator(".card-now")
    for words in ("Lithium-polymer", "3\u00a0cells", "2650\u00a0mAh"):
        expect(now).to_contain_text(words)


def test_a_ticked_step_folds_and_the_next_comes_forward_with_the_focus(running):
    tick_next(running)
    expect(heading(running)).to_be_focused()
    done = running.get_by_role("region", name="Done")
    expect(done).to_contain_text("Compare the label in your hand")
    expect(done.get_by_text("Its kind, its cells")).to_be_hidden()
    expect(running.get_by_role("status").first).to_have_text("Ticked: Compare the label in your hand")
    coming = running.get_by_role("region", name="Coming").locator("summary:visible")
    expect(coming.first).to_have_text(TITLES[2])


def test_a_step_comes_forward_only_once_its_tick_is_on_the_disk(running):
    running.clock.run_for(700)
    running.evaluate("""() => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (...given) { window.wrote = () => put.apply(this, given); throw new Error("full"); };
    }""")
    tick(running).click()
    expect(running.get_by_text("Your last change could not be kept on this phone")).to_be_visible()
    expect(heading(running)).to_have_text(TITLES[1])


def test_none_ticks_itself_and_a_second_tap_of_a_cold_finger_counts_for_nothing(running):
    running.clock.run_for(700)
    tick(running).dblclick()
    expect(heading(running)).to_have_text(TITLES[1])
    running.clock.run_for(699)
    tick(running).click()
    expect(heading(running)).to_have_text(TITLES[1])
    running.clock.run_for(1)
    tick(running).click()
    expect(heading(running)).to_have_text(TITLES[2])
    running.clock.run_for(3_600_000)
    expect(heading(running)).to_have_text(TITLES[2])


def test_a_tick_is_taken_back_and_its_step_is_the_next_again(running):
    tick_next(running, 4)
    running.clock.run_for(700)
    button(running, f"Undo: {TITLES[3]}").click()
    expect(heading(running)).to_have_text(TITLES[3])
    running.clock.run_for(700)
    running.get_by_text("1 more done").click()
    running.get_by_role("region", name="Done").get_by_text(TITLES[0]).click()
    button(running, f"Take this tick back: {TITLES[0]}").click()
    expect(heading(running)).to_have_text(TITLES[0])
    assert running_cards(running)[0]["ticked"] == ["place", "look"]


def test_older_steps_are_folded_and_unfold_at_a_touch(running):
    tick_next(running, 6)
    older = running.get_by_text("4 more done")
    expect(running.get_by_role("region", name="Done").get_by_text(TITLES[0])).to_be_hidden()
    older.click()
    expect(running.get_by_role("region", name="Done").get_by_text(TITLES[0])).to_be_visible()


def test_a_card_is_followed_by_the_keyboard_alone(running):
    for title in TITLES[1:4]:
        running.clock.run_for(700)
        while not tick(running).evaluate("one => one === document.activeElement"):
            running.keyboard.press("Tab")
        running.keyboard.press("Enter")
        expect(heading(running)).to_have_text(title)
        expect(heading(running)).to_be_focused()


def test_another_count_than_the_packs_stops_before_the_charge_is_started(running):
    to_step(running, "Compare before you start")
    expect(running.locator(".card-now .figure")).to_have_count(0)  # what is asked for does not stand beside it
    running.clock.run_for(700)
    tick(running).click(force=True)
    expect(running.get_by_role("alert")).to_contain_text("Type what the charger shows")
    field = running.get_by_role("textbox", name="Cells that the charger shows")
    for count in ("2", "13", "3.0"):
        field.fill(count)
        tick(running).click(force=True)
        expect(running.get_by_role("alert")).to_contain_text("The charger counts other cells than this pack has. Do not start")
        expect(heading(running)).to_have_text("Compare before you start")
    field.fill("3")
    expect(running.get_by_role("alert")).to_be_empty()
    tick(running).click()
    expect(heading(running)).to_have_text("Start the charge")


def test_a_count_that_stopped_the_charge_stops_it_after_a_reload_too(running):
    to_step(running, "Compare before you start")
    running.get_by_role("textbox", name="Cells that the charger shows").fill("4")
    expect(running.get_by_role("alert")).to_contain_text("Do not start")
    running.reload()
    expect(running.get_by_role("alert")).to_contain_text("Do not start")
    expect(tick(running)).to_have_attribute("aria-disabled", "true")


def test_the_numbers_to_compare_with_the_charger_stay_on_top(running):
    numbers = ["12.60\u00a0V", "2.6\u00a0A", "mAh", "min", "45\u00a0°C"]
    for _ in range(3):
        for number in numbers:
            expect(strip(running)).to_contain_text(number)
        tick_next(running)
    assert running.evaluate("card => parsed(card).querySelector('[data-step=set-current] .figure').textContent", CARD) == numbers[1]


def test_a_card_followed_to_its_end_ends_at_one_tap_and_keeps_its_record(running):
    tick_next(running, len(TITLES))
    button(running, "End this card and keep its record").click()
    expect(running.locator(".card-record")).to_contain_text("Every step was ticked.")
    assert running_cards(running) == []


# Kept


def test_ticks_and_note_are_there_after_a_reload(running):
    tick_next(running, len(TITLES) - 1)
    running.get_by_role("textbox", name="Your note").fill("lowest cell 4.18 V")
    running.reload()
    expect(heading(running)).to_have_text("Write it down")
    expect(running.get_by_role("textbox", name="Your note")).to_have_value("lowest cell 4.18 V")


def test_both_cards_and_their_timers_are_there_after_the_browser_was_closed_even_in_a_new_version(opened_phone, host):
    with opened_phone() as phone:
        page = open_page(phone, host)
        start_card(page)
        to_step(page, "First look")
        start_second_card(page)
        tick_next(page, 2)
        first, second = running_cards(page)
    put_card(host.folder, OTHER_CARD)
    with opened_phone() as phone:
        page = open_page(phone, host, at=OPENED + timedelta(minutes=3), path="cards.html")
        page.get_by_role("link", name=re.compile("output 1")).click()
        expect(heading(page)).to_have_text("First look")
        expect(strip(page).get_by_role("timer")).to_have_text(re.compile(rf"^{LIKELY_MIN - 3}:"))
        expect(strip(page)).to_contain_text("2.6\u00a0A")
        page.get_by_role("link", name=re.compile("output 2")).click()
        expect(heading(page)).to_have_text(TITLES[2])
        assert running_cards(page) == [first, second]


def test_the_one_card_of_a_former_version_is_taken_over_with_its_ticks_and_timers(opened, host):
    timer = {"title": "First look", "ends": (OPENED + timedelta(minutes=5)).timestamp() * 1000, "looked": False}
    former = {
        "page": "charging-card", "title": "Charging card", "started": OPENED.timestamp() * 1000, "html": CARD,
        "ticked": ["label", "place"], "notes": {"note": "61 minutes"}, "timers": {"first-look": timer}, "silent": False,
    }  # fmt: skip
    lay_records(opened, host.address, {"running-card": sealed("running-card", former)})
    opened.goto(host.address + "cards.html")
    expect(heading(opened)).to_have_text(TITLES[2])
    expect(strip(opened).get_by_role("timer")).to_have_text(re.compile(r"^0[34]:"))
    assert (kept(opened, "running-card"), running_cards(opened)[0]["notes"]) == (None, {"note": "61 minutes"})


def test_cards_that_cannot_be_read_are_dropped_and_told_of(opened, host):
    lay_records(opened, host.address, {"running-cards": {"version": 1, "checksum": 0, "value": '{"running":'}})
    opened.goto(host.address + "cards.html")
    expect(
        opened.get_by_text("Something that was kept on this phone is damaged, and put aside: the cards that were running.")
    ).to_be_visible()
    expect(heading(opened)).to_have_count(0)
    assert kept(opened, "running-cards") is None


def test_where_nothing_can_be_kept_the_card_works_and_says_so(phone, host):
    phone.add_init_script(REFUSES)
    faults = []
    phone.on("weberror", lambda fault: faults.append(fault.error.message))
    page = open_page(phone, host)
    start_card(page)
    tick_next(page, 2)
    expect(page.get_by_text("This browser keeps nothing for Fieldslate")).to_be_visible()
    end_card(page)
    expect(page.locator(".card-record")).to_contain_text("Charging card")
    assert faults == []


# Several side by side


def test_a_second_card_has_its_own_numbers_ticks_and_output(running):
    tick_next(running, 3)
    start_second_card(running)
    expect(heading(running)).to_have_text(TITLES[0])
    second = strip(running).text_content()
    running.get_by_role("link", name=re.compile("output 1")).click()
    expect(heading(running)).to_have_text(TITLES[3])
    expect(strip(running)).not_to_have_text(second)
    assert [(len(card["ticked"]), card["output"]) for card in running_cards(running)] == [(3, 1), (0, 2)]


def test_an_output_of_its_own_can_be_chosen_and_one_that_is_taken_cannot(running):
    start_second_card(running)
    unfold_foot(running)
    choice = running.get_by_role("combobox", name="Output of the charger")
    expect(choice.locator("option", has_text="Output 1")).to_be_disabled()
    choice.select_option("Output 3")
    expect(running.get_by_role("link", name=re.compile("output 3"))).to_be_visible()
    assert [card["output"] for card in running_cards(running)] == [1, 3]


def test_an_output_is_chosen_by_the_keyboard_alone(running):
    unfold_foot(running)
    choice = running.get_by_role("combobox", name="Output of the charger")
    choice.focus()
    for output in ("2", "3"):
        choice.press("ArrowDown")
        expect(choice).to_have_value(output)
        expect(choice).to_be_focused()
    assert running_cards(running)[0]["output"] == 3


def test_what_another_tab_ticks_leaves_whoever_is_on_the_card_where_they_are(running, phone, host):
    tick_next(running)
    other = open_page(phone, host, path="cards.html")
    tick(running).focus()
    tick_next(other)
    expect(heading(running)).to_have_text(TITLES[2])
    expect(heading(running)).to_be_focused()


def test_an_alarm_says_of_which_card_it_is(running):
    to_step(running, "First look")
    start_second_card(running)
    running.clock.run_for(5 * 60_000)
    expect(running.get_by_role("alert")).to_contain_text("Charging card, output 1: First look: time was up")


def test_the_bar_says_what_is_left_of_what_is_ready_first_and_leads_to_the_cards(running):
    to_step(running, "First look")
    running.get_by_role("link", name="Charging card", exact=True).click()
    expect(controls(running)).not_to_be_empty()
    bar = running.get_by_role("link", name=re.compile("^Cards"))
    expect(bar).to_contain_text(re.compile(rf"{LIKELY_MIN - 1}:\d\d|{LIKELY_MIN}:00"))
    bar.click()
    expect(heading(running)).to_have_text("First look")


def test_a_second_tab_shows_the_same_cards_and_the_same_end(running, phone, host):
    other = open_page(phone, host, path="cards.html")
    expect(heading(other)).to_have_text(TITLES[0])
    tick_next(running)
    expect(heading(other)).to_have_text(TITLES[1])
    tick_next(other)
    expect(heading(running)).to_have_text(TITLES[2])
    end_card(running)
    expect(other.locator(".card-ended")).to_contain_text("The card was ended in another tab, and its record stands below.")
    expect(heading(other)).to_have_count(0)


def test_a_tab_that_slept_through_the_end_of_a_card_shows_it_once_it_is_looked_at_and_its_record_as_soon_as_it_has_it(running, phone, host):
    phone.add_init_script("delete window.BroadcastChannel")
    other = open_page(phone, host, path="cards.html")
    expect(heading(other)).to_have_text(TITLES[0])
    end_card(running)
    record = records(running)["card-records"]
    for laid, words in ((sealed("card-records", []), "in another tab."), (record, "in another tab, and its record stands below.")):
        put_records(running, {"card-records": laid})
        other.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(other.locator(".card-ended")).to_contain_text(f"The card was ended {words}")


@pytest.mark.parametrize("left", ["nothing", "something damaged"])
def test_a_card_that_the_store_has_lost_runs_on_where_it_is_open_and_is_kept_again(at_first_look, left):
    page = at_first_look
    record = records(page)["running-cards"]
    forget(page)
    if left == "something damaged":
        put_records(page, {"running-cards": record | {"value": record["value"][:-1]}})
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    until_kept(page, "running-cards", record)
    expect(heading(page)).to_have_text("First look")
    page.clock.fast_forward("05:01")
    expect(page.get_by_role("alert")).to_contain_text("First look: time was up")


# Timers


def test_the_time_of_the_charge_runs_from_the_tick_that_starts_it(running):
    to_step(running, "Start the charge")
    expect(strip(running).get_by_role("timer")).to_be_empty()
    tick_next(running)
    expect(strip(running).get_by_role("timer")).to_have_text(f"{LIKELY_MIN}:00")
    expect(strip(running)).to_contain_text("First look 05:00")
    running.clock.run_for(700)
    button(running, "Undo: Start the charge").click()
    expect(strip(running).get_by_role("timer")).to_be_empty()
    assert running_cards(running)[0]["timers"] == {}


def test_a_timer_counts_down_in_minutes_and_seconds_without_being_read_out(at_first_look):
    timer = at_first_look.locator(".card-now").get_by_role("timer")
    expect(timer).to_have_text("05:00")
    at_first_look.clock.run_for(61_500)
    expect(timer).to_have_text(re.compile("^03:5[89]$"))
    expect(timer).to_have_attribute("aria-live", "off")
    button(at_first_look, "Stop timer: First look").click()
    expect(timer).to_be_empty()


@pytest.fixture
def at_first_look(running: Page) -> Page:
    """A card whose charge has just been started: its first look is the next step, and is called in five minutes."""
    to_step(running, "First look")
    return running


def test_a_timer_goes_on_over_a_reload(at_first_look):
    at_first_look.clock.run_for(120_000)
    at_first_look.reload()
    expect(at_first_look.locator(".card-now").get_by_role("timer")).to_have_text("03:00")


def look_at(page: Page, title: str) -> None:
    """Tap "I have looked" once the alarm has stood for long enough to be read."""
    page.clock.run_for(700)
    button(page, f"I have looked: {title}").click()


def test_a_timer_that_is_up_calls_again_and_again_until_the_pilot_has_looked(at_first_look):
    at_first_look.clock.fast_forward("05:01")
    expect(at_first_look.get_by_role("alert")).to_contain_text("First look: time was up at 14:05. Look now.")
    first = at_first_look.evaluate("tones")
    at_first_look.clock.run_for(5_000)
    again = at_first_look.evaluate("tones")
    button(at_first_look, "I have looked: First look").click()
    expect(at_first_look.get_by_role("alert")).to_have_count(0)
    expect(heading(at_first_look)).to_be_focused()
    at_first_look.clock.run_for(5_000)
    assert 0 < first < again == at_first_look.evaluate("tones")


def test_a_second_tap_of_a_cold_finger_stops_no_timer(running):
    to_step(running, "Start the charge")
    running.clock.run_for(700)
    tick(running).click()
    button(running, "Stop timer: First look").click()  # the tick's finger, where the timer has come to lie
    timer = running.locator(".card-now").get_by_role("timer")
    running.clock.run_for(2_000)
    expect(timer).to_have_text(re.compile("^04:5"))
    button(running, "Stop timer: First look").click()
    expect(timer).to_be_empty()
    running.clock.run_for(700)
    button(running, "Start timer: First look").dblclick()
    running.clock.run_for(700)
    expect(timer).to_have_text(re.compile("^0[45]:"))
    assert "first-look" in running_cards(running)[0]["timers"]


def test_a_second_tap_of_a_cold_finger_passes_no_other_alarm_and_touches_nothing_behind(at_first_look):
    at_first_look.get_by_role("link", name="Charging card", exact=True).click()
    expect(controls(at_first_look)).not_to_be_empty()
    start_card(at_first_look, reading="3.71")
    to_step(at_first_look, "First look")
    at_first_look.evaluate("Object.assign(document.querySelector('.card-alarms').style, { position: 'fixed', bottom: 0 })")
    at_first_look.clock.run_for(6 * A_MINUTE_MS)
    expect(at_first_look.get_by_role("alert")).to_have_count(2)
    looked = at_first_look.get_by_role("button", name=re.compile("I have looked"))
    place = looked.last.bounding_box()
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    at_first_look.mouse.click(x, y)
    expect(at_first_look.get_by_role("alert")).to_have_count(1)
    at_first_look.mouse.click(x, y)
    looked.click()
    expect(at_first_look.get_by_role("alert")).to_have_count(1)
    assert at_first_look.evaluate("([x, y]) => document.elementFromPoint(x, y).closest('.card-alarms') !== null", [x, y])
    at_first_look.clock.run_for(700)
    looked.click()
    expect(at_first_look.get_by_role("alert")).to_have_count(0)


def test_an_alarm_takes_the_tap_of_no_finger_that_is_down_and_of_none_that_comes_down_with_it(at_first_look):
    at_first_look.clock.run_for(5 * A_MINUTE_MS - 100)
    foot = at_first_look.locator(".card-foot")
    foot.scroll_into_view_if_needed()
    place = foot.locator("summary").bounding_box()
    at_first_look.mouse.move(place["x"] + 20, place["y"] + 20)
    at_first_look.mouse.down()
    at_first_look.clock.run_for(600)
    expect(at_first_look.get_by_role("alert")).to_have_count(0)
    at_first_look.mouse.up()
    expect(foot).to_have_attribute("open", "")
    at_first_look.clock.run_for(600)
    looked = button(at_first_look, "I have looked: First look")
    expect(looked).to_be_disabled()
    at_first_look.clock.run_for(700)
    looked.click()
    expect(at_first_look.get_by_role("alert")).to_have_count(0)


def test_after_a_look_by_the_keyboard_one_is_where_one_was(at_first_look):
    at_first_look.get_by_role("link", name="Charging card", exact=True).click()
    reading = at_first_look.get_by_role("textbox", name="Cells")
    reading.focus()
    at_first_look.clock.run_for(6 * A_MINUTE_MS)
    button(at_first_look, "I have looked: First look").focus()
    at_first_look.keyboard.press("Enter")
    expect(at_first_look.get_by_role("alert")).to_have_count(0)
    expect(reading).to_be_focused()


def test_looks_repeat_and_ring_again_until_the_charger_says_done(at_first_look):
    tick_next(at_first_look)
    at_first_look.clock.fast_forward("15:01")
    look_at(at_first_look, "Look again, and again")
    expect(at_first_look.get_by_role("alert")).to_have_count(0)
    expect(at_first_look.locator(".card-now").get_by_role("timer")).to_have_text("15:00")
    before = at_first_look.evaluate("tones")
    at_first_look.clock.fast_forward("15:01")
    expect(at_first_look.get_by_role("alert")).to_contain_text("Look again, and again: time was up")
    assert at_first_look.evaluate("tones") > before
    look_at(at_first_look, "Look again, and again")
    tick_next(at_first_look, 3)
    assert running_cards(at_first_look)[0]["timers"] == {}


@pytest.mark.parametrize("wall_min", [0, -600], ids=["stands still", "is set back"])
def test_a_wall_clock_that_stands_still_or_is_set_back_makes_no_timer_longer(at_first_look, wall_min):
    at_first_look.clock.set_system_time(OPENED + timedelta(minutes=1 + wall_min))
    run_on(at_first_look, 3 * A_MINUTE_MS)
    at_first_look.clock.run_for(1_500)
    expect(at_first_look.locator(".card-now").get_by_role("timer")).to_have_text(re.compile("^01:"))
    run_on(at_first_look, 3 * A_MINUTE_MS)
    at_first_look.clock.run_for(1_000)
    expect(at_first_look.get_by_role("alert")).to_contain_text("First look: time was up")


def test_a_wall_clock_that_goes_back_over_a_reload_makes_no_timer_longer(at_first_look):
    at_first_look.clock.run_for(120_000)
    at_first_look.clock.set_system_time(OPENED - timedelta(hours=1))
    at_first_look.reload()
    expect(at_first_look.locator(".card-now").get_by_role("timer")).to_have_text(re.compile("^0[23]:"))


def test_a_timer_that_ended_while_the_phone_slept_rings_at_once_on_waking(at_first_look):
    at_first_look.clock.set_system_time(OPENED + timedelta(minutes=30))  # no timer of the page has run meanwhile
    at_first_look.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(at_first_look.get_by_role("alert")).to_contain_text("First look: time was up at 14:05.")
    assert at_first_look.evaluate("tones") > 0


def test_a_timer_that_ended_while_the_browser_was_closed_says_when(opened_phone, host):
    with opened_phone() as phone:
        page = open_page(phone, host)
        start_card(page)
        to_step(page, "First look")
    with opened_phone() as phone:
        page = open_page(phone, host, at=OPENED + timedelta(minutes=20), path="cards.html")
        expect(page.locator(".card-now").get_by_role("timer")).to_have_text("Time was up at 14:05")
        expect(page.get_by_role("alert").first).to_contain_text("First look: time was up at 14:05.")


def test_a_look_that_was_done_is_not_asked_for_again_after_a_reload(at_first_look):
    at_first_look.clock.fast_forward("05:01")
    look_at(at_first_look, "First look")
    expect(at_first_look.get_by_role("alert")).to_have_count(0)
    at_first_look.reload()
    expect(at_first_look.locator(".card-now").get_by_role("timer")).to_have_text("Time was up at 14:05")
    expect(at_first_look.get_by_role("alert")).to_have_count(0)


def test_a_timer_started_again_counts_from_the_full_time(at_first_look):
    at_first_look.clock.fast_forward("05:01")
    button(at_first_look, "Start timer again: First look").click()
    expect(at_first_look.get_by_role("alert")).to_have_count(0)
    expect(at_first_look.locator(".card-now").get_by_role("timer")).to_have_text("05:00")


# Sound and screen


def test_the_card_says_that_no_page_rings_in_a_sleeping_phone_and_what_the_guard_is(running):
    unfold_foot(running)
    foot = running.locator(".card-foot")
    expect(foot).to_contain_text("No page can ring while the phone sleeps; it rings as soon as it wakes.")
    expect(foot).to_contain_text("The guard is the charger's own stops: set them, and stay by the pack.")


def test_with_the_sound_off_only_the_alert_comes(at_first_look):
    unfold_foot(at_first_look)
    at_first_look.get_by_label("Sound when a timer is up").uncheck()
    at_first_look.clock.fast_forward("05:01")
    expect(at_first_look.get_by_role("alert")).to_be_visible()
    assert at_first_look.evaluate("tones") == 0
    at_first_look.reload()
    unfold_foot(at_first_look)
    expect(at_first_look.get_by_label("Sound when a timer is up")).not_to_be_checked()


def test_the_sound_can_be_tested(running, until):
    unfold_foot(running)
    button(running, "Test the sound").click()
    until(running, "tones > 0")


def test_a_browser_that_refuses_its_sound_says_so(phone, host):
    page = open_page(phone, host)
    page.evaluate("() => { window.AudioContext = class { constructor() { throw new DOMException('no', 'NotSupportedError'); } }; }")
    start_card(page)
    unfold_foot(page)
    expect(page.locator(".card-foot")).to_contain_text("This browser has no sound for a timer: watch the clock.")


def test_a_tone_that_cannot_be_made_does_not_keep_the_phone_from_shaking(at_first_look, until):
    at_first_look.evaluate("() => { window.shaken = 0; navigator.vibrate = () => { window.shaken += 1; }; }")
    at_first_look.evaluate(
        "() => { AudioContext.prototype.createOscillator = () => { throw new DOMException('no', 'InvalidStateError'); }; }"
    )
    at_first_look.clock.fast_forward("05:01")
    until(at_first_look, "shaken > 0")


def test_after_a_reload_the_sound_needs_a_tap_and_says_so(running):
    foot = running.locator(".card-foot")
    expect(foot).to_contain_text("It sounds only while Fieldslate is in front")
    running.reload()
    expect(foot).to_contain_text("The browser holds the sound back: tap anywhere")
    running.locator(".card-place").first.click()
    expect(foot).to_contain_text("It sounds only while Fieldslate is in front")


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
    expect(page.locator(".card-foot")).to_contain_text("The screen stays on")
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
    expect(page.locator(".card-foot")).to_contain_text("The screen may go off now: set it in the phone.")
    page.clock.run_for(15_000)
    expect(page.locator(".card-foot")).to_contain_text("The screen stays on")
    assert page.evaluate("asked") == 2


def test_a_browser_that_cannot_keep_the_screen_on_says_so(phone, host):
    phone.add_init_script("Object.defineProperty(navigator, 'wakeLock', { value: undefined })")
    page = open_page(phone, host)
    start_card(page)
    expect(page.locator(".card-foot")).to_contain_text("This browser cannot keep the screen on: set it in the phone.")


# Its end


def test_a_card_ends_at_the_second_tap_and_its_record_names_pack_settings_and_times(running):
    tick_next(running, 2)
    running.clock.run_for(3_600_000)
    end_card(running)
    expect(running.locator("#card-ended-title")).to_be_focused()
    record = running.locator(".card-record")
    for words in (
        "Started: 14:00 on 9 May 2026",
        "Ended: 15:00 on 9 May 2026",
        "Compare the label in your hand: Lithium-polymer",
        "Charge current: 2.6\u00a0A",
        "Full voltage: 12.60\u00a0V",
        "Ticked: Compare the label in your hand 14:00; Choose the place 14:00",
        "Not ticked: Look at the pack, and feel it; Read every cell;",
    ):
        expect(record).to_contain_text(words)


def test_a_record_is_there_to_be_read_again_and_the_last_fifty_are(running, host):
    end_card(running)
    (record,) = kept(running, "card-records")
    many = [record | {"id": str(number), "name": f"Pack {number}"} for number in range(50)]
    lay_records(running, host.address, {"card-records": sealed("card-records", many)})
    running.goto(host.address)
    start_card(running, reading="3.71")
    end_card(running)
    running.clock.run_for(61_000)
    running.goto(host.address + "cards.html")
    records = running.get_by_role("group").filter(has_text="Charging card,")
    expect(records).to_have_count(50)
    expect(running.get_by_text("Pack 0:")).to_have_count(0)
    running.get_by_text("Pack 49:").click()
    expect(running.get_by_role("listitem").filter(has_text="Charge current: 2.6").first).to_be_visible()


def test_an_end_is_taken_back_within_a_minute_with_ticks_and_timers(at_first_look):
    before = running_cards(at_first_look)
    end_card(at_first_look)
    assert running_cards(at_first_look) == []
    at_first_look.clock.run_for(50_000)
    button(at_first_look, "Take the end back").click()
    expect(heading(at_first_look)).to_have_text("First look")
    assert (running_cards(at_first_look), kept(at_first_look, "card-records")) == (before, [])


def test_after_a_minute_an_end_is_taken_back_no_more(at_first_look):
    end_card(at_first_look)
    at_first_look.clock.run_for(61_000)
    expect(button(at_first_look, "Take the end back")).to_have_count(0)
    at_first_look.reload()
    expect(at_first_look.locator(".card-record")).to_have_count(1)
    expect(button(at_first_look, "Take the end back")).to_have_count(0)


def test_the_first_tap_on_the_end_can_be_taken_back(running):
    unfold_foot(running)
    button(running, "End this card").click()
    expect(running.get_by_role("group", name="End this card and its timers?")).to_be_visible()
    expect(button(running, "Go on with this card")).to_be_focused()
    button(running, "Go on with this card").click()
    expect(button(running, "End this card")).to_be_focused()
    assert len(running_cards(running)) == 1


def test_a_record_can_be_copied(running):
    running.context.grant_permissions(["clipboard-read", "clipboard-write"])
    end_card(running)
    button(running, "Copy it").click()
    expect(running.locator(".card-record")).to_contain_text("It is copied.")
    assert "Started: 14:00 on 9 May 2026\n" in running.evaluate("navigator.clipboard.readText()")


def test_a_running_card_with_an_alarm_and_the_question_of_its_end_breaks_no_rule_of_access(at_first_look, axe):
    at_first_look.clock.fast_forward("05:01")
    unfold_foot(at_first_look)
    button(at_first_look, "End this card").click()
    expect(at_first_look.get_by_role("alert")).to_be_visible()
    at_first_look.clock.resume()  # axe waits on the clock
    assert axe(at_first_look) == []
