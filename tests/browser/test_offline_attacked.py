"""Damaged storage, hosts that misbehave and versions that change in mid-visit, on the small site: no page is ever dead."""

import threading
from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from site_builder.building.offline import FIRST_AID, files_to_keep
from site_builder.commands.serve import Response
from tests.browser.small_site import (
    ALL_SAVED,
    ENGINE,
    FIRST_FILE,
    LOADER,
    PAGES,
    SPARE,
    STORE,
    STORED_FILES,
    WAITS,
    WORKER,
    Host,
    damage,
    end_the_service_worker,
    go_on_to_version_2,
    heading,
    lose,
    lose_the_signal,
    new_version_of_voltages,
    run_card,
    shorten_patience,
)

MOST_LOOKS = 300
LISTS = f"{STORE}.then(async s => (await s.keys()).map(k => k.url).filter(url => url.includes('list-in-use')))"
# What may become of the stored list, as JavaScript on its text.
DAMAGES = {
    "cut short": "text.slice(0, text.length / 2)",
    "empty": "''",
    "another list": "JSON.stringify({ version: 'x', policy: '', headers: {}, files: [] })",
    "a flipped bit in a name": "text.replace('voltages.html', 'voltagds.html')",
    "a flipped bit in a hash": "text.replace(/sha256\":\"(.)/, (all, one) => all.slice(0, -1) + (one === 'a' ? 'b' : 'a'))",
    "no text": "new Uint8Array([0xff, 0xfe, 0xfd])",
}


def offline_state(page: Page):
    return page.locator("#offline-state")


def damage_the_lists(page: Page, damage: str, most: int = 2) -> int:
    """Damage the stored lists of files in use, at most so many of them; say how many there were."""
    found = page.evaluate(
        f"""{STORE}.then(async (store) => {{
            const keys = (await store.keys()).filter((key) => key.url.includes("list-in-use"));
            for (const key of keys.slice(0, {most})) {{
                const text = await (await store.match(key)).text();
                await store.put(key, new Response({damage}));
            }}
            return keys.length;
        }})"""
    )
    end_the_service_worker(page)
    return found


@pytest.fixture
def stalling(host: Host) -> Iterator[threading.Event]:
    """Ends, at the end of a test, what stood still in it: before its host stops, which would wait for that."""
    assert host.is_up
    signal = threading.Event()
    yield signal
    signal.set()


# Damaged storage


@pytest.mark.parametrize("damage", DAMAGES.values(), ids=DAMAGES)
def test_a_damaged_list_leaves_every_page_open_with_no_signal_and_heals(saved_page, host, damage, until):
    assert damage_the_lists(saved_page, damage) > 0
    lose_the_signal(host, saved_page)
    for path, title in PAGES.items():
        saved_page.goto(host.address + path)
        expect(heading(saved_page)).to_have_text(title)
    saved_page.evaluate("mend()")
    whole = f"""{STORE}.then(async (s) => {{
        const texts = await Promise.all((await s.keys()).filter((k) => k.url.includes("list-in-use")).map(async (k) => (await s.match(k)).text()));
        return texts.length > 0 && texts.every((text) => text.endsWith("}}") && text.includes("voltages.html"));
    }})"""
    until(saved_page, whole)


def test_a_damaged_list_does_not_change_the_version_under_a_running_card(saved_page, host, until, phone):
    run_card(saved_page, running=True)
    new_version_of_voltages(host, until, saved_page)
    saved_page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.waiting.postMessage({ kind: 'take-over' }))")
    until(saved_page, f"{WAITS}.then(waits => !waits)")
    assert damage_the_lists(saved_page, DAMAGES["cut short"], most=1) == 2
    other = phone.new_page()
    other.goto(host.address + "voltages.html")
    expect(heading(other)).to_have_text("Voltages")


def test_two_damaged_lists_under_a_running_card_leave_every_page_open_with_no_signal(saved_page, host):
    run_card(saved_page, running=True)
    assert damage_the_lists(saved_page, DAMAGES["cut short"]) == 2
    lose_the_signal(host, saved_page)
    for path, title in PAGES.items():
        saved_page.goto(host.address + path)
        expect(heading(saved_page)).to_have_text(title)


@pytest.mark.parametrize("spoil", [damage, lose])
@pytest.mark.parametrize("path", FIRST_AID)
def test_a_damaged_page_against_a_fire_opens_with_no_signal(saved_page, host, files, path, spoil):
    spoil(saved_page, files[path])
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + path)
    expect(heading(saved_page)).to_have_text(PAGES[path])


@pytest.mark.parametrize("path", FIRST_AID)
def test_the_pages_against_a_fire_open_with_no_signal_when_the_whole_store_is_gone(saved_page, host, path):
    saved_page.evaluate("caches.keys().then(names => Promise.all(names.map(name => caches.delete(name))))")
    end_the_service_worker(saved_page)
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + path)
    expect(heading(saved_page)).to_have_text(PAGES[path])


def test_a_store_that_is_gone_is_filled_again_where_there_is_a_signal(saved_page, host):
    saved_page.evaluate("caches.keys().then(names => Promise.all(names.map(name => caches.delete(name))))")
    end_the_service_worker(saved_page)
    saved_page.goto(host.address + "voltages.html")
    expect(offline_state(saved_page)).to_have_text(ALL_SAVED)
    lose_the_signal(host, saved_page)
    saved_page.reload()
    expect(heading(saved_page)).to_have_text("Voltages")
    expect(saved_page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


FULL_FOR_LISTS = """{ const put = Cache.prototype.put;
Cache.prototype.put = function (key, response) {
  if (String(key.url ?? key).includes("list-in-use")) return Promise.reject(new DOMException("full", "QuotaExceededError"));
  return put.call(this, key, response);
}; }
"""


def test_a_new_version_that_finds_no_room_for_its_list_leaves_the_old_one_whole(saved_page, host, until, phone):
    new_version_of_voltages(host, until, saved_page)
    script = (host.folder / WORKER).read_text(encoding="utf-8")
    (host.folder / WORKER).write_text(FULL_FOR_LISTS + script, encoding="utf-8")
    saved_page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update()).then(() => null)")
    until(saved_page, "navigator.serviceWorker.getRegistration().then(r => r.installing === null && r.waiting !== null)")
    run_card(saved_page, running=True)
    saved_page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.waiting.postMessage({ kind: 'take-over' }))")
    until(saved_page, f"{WAITS}.then(waits => !waits)")
    run_card(saved_page, running=False)
    until(saved_page, f"{STORE}.then(s => s.match('.stored/running-card')).then(r => r === undefined)")
    host.stop()
    saved_page.goto("about:blank")  # nothing is open: from here on the new version would be taken
    for path, title in PAGES.items():
        page = phone.new_page()
        page.goto(host.address + path)
        expect(heading(page)).to_have_text(title)
        page.goto("about:blank")


@pytest.mark.parametrize("spoil", [damage, lose])
def test_a_new_version_that_was_damaged_while_it_waited_leaves_the_one_before_until_it_is_whole(saved_page, host, until, spoil):
    new_version_of_voltages(host, until, saved_page)
    [corrected] = [file.sha256 for file in files_to_keep(host.folder) if file.path == "voltages.html"]
    spoil(saved_page, corrected)
    lose_the_signal(host, saved_page)
    saved_page.get_by_role("button", name="Use the new version").click()
    until(saved_page, f"{WAITS}.then(waits => !waits)")
    saved_page.goto(host.address + "voltages.html")
    expect(heading(saved_page)).to_have_text("Voltages")
    host.start()
    # One opening has the file fetched, a later one begins with it: a page that was left counts as open for a moment.
    for _ in range(MOST_LOOKS):
        saved_page.goto("about:blank")
        saved_page.goto(host.address + "voltages.html")
        if heading(saved_page).text_content() == "Voltages, corrected":
            return
        saved_page.wait_for_timeout(25)  # lets the service worker go on; nothing depends on how long
    pytest.fail("There is a signal again, and no opening begins with the new version.")


# Hosts that misbehave


class PackingHost(Host):
    """Takes .gz for a way of sending, as some hosts do: the browser unpacks it on the way."""

    def response(self, address: str) -> Response:
        found = super().response(address)
        return Response(found.status, found.body, "text/javascript", encoding="gzip") if urlsplit(address).path.endswith(".gz") else found


class CuttingHost(Host):
    """Breaks off in the middle of each .gz."""

    def response(self, address: str) -> Response:
        found = super().response(address)
        return (
            Response(200, found.body, found.content_type, cut_to=len(found.body) // 2) if urlsplit(address).path.endswith(".gz") else found
        )


@pytest.mark.usefixtures("files")
@pytest.mark.parametrize("kind", [PackingHost, CuttingHost])
def test_a_host_that_sends_the_packed_files_otherwise_is_taken_as_it_is(page, tmp_path, kind):
    with kind(tmp_path / "site") as host:
        page.goto(host.address)
        expect(offline_state(page)).to_have_text(ALL_SAVED)
        lose_the_signal(host, page)
        assert page.evaluate(f"import(new URL('{LOADER}', document.baseURI)).then(m => m.loads)")


def test_a_host_that_has_no_packed_files_sends_the_plain_ones(page, host):
    host.faults[f"{LOADER}.gz"] = lambda: 404
    page.goto(host.address)
    expect(offline_state(page)).to_have_text(ALL_SAVED)


def test_a_file_that_stands_still_keeps_no_other_from_the_phone(page, host, stalling, until):
    shorten_patience(host)
    host.faults["voltages.html"] = lambda: stalling.wait() and None
    page.goto(host.address)
    expect(offline_state(page)).to_contain_text("One file does not arrive. The others are saved meanwhile")
    expect(offline_state(page)).to_contain_text("The host has stopped sending (voltages.html).")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    until(page, f"{STORE}.then(s => s.keys()).then(keys => keys.length >= 11)")  # all but one, and the lists


def breaks_off() -> bytes:
    raise ConnectionResetError


@pytest.mark.parametrize("path", ["voltages.html", ENGINE])
def test_a_file_that_breaks_off_each_time_keeps_no_other_from_the_phone_and_is_no_lost_signal(page, host, files, until, path):
    page.clock.install()
    host.faults[path] = breaks_off
    page.goto(host.address)
    expect(offline_state(page)).to_contain_text(f"The host has stopped sending ({path}).")
    until(page, f"{STORED_FILES}.then(stored => stored === {len(files) - 1})")
    host.faults.clear()
    page.clock.fast_forward(30_000)
    expect(offline_state(page)).to_have_text(ALL_SAVED)


def test_a_host_that_stands_still_is_asked_again_by_the_page_itself(page, host, stalling):
    shorten_patience(host)
    page.clock.install()
    host.faults["voltages.html"] = lambda: stalling.wait() and None
    page.goto(host.address)
    expect(offline_state(page)).to_contain_text("The host has stopped sending (voltages.html).")
    host.faults.clear()
    page.clock.fast_forward(30_000)
    expect(offline_state(page)).to_have_text(ALL_SAVED)


def test_a_first_file_that_stands_still_does_not_hold_the_engine_up(page, host, stalling):
    shorten_patience(host)
    host.faults[FIRST_FILE] = lambda: stalling.wait() and None
    page.goto(host.address)
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    expect(offline_state(page)).to_contain_text(f"The host has stopped sending ({FIRST_FILE}).")


def test_a_service_workers_script_that_stands_still_does_not_hold_the_engine_up(page, host, stalling):
    host.faults[WORKER] = lambda: stalling.wait() and None
    page.clock.install()
    page.goto(host.address)
    for _ in range(2):  # the host's silence, then that of what is asked about it
        page.clock.fast_forward(20_000)
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    expect(offline_state(page)).to_have_text("The host does not answer. Nothing is saved until it does.")


class SigningInHost(Host):
    """Answers for the service worker's script alone with a page to sign in on."""

    def response(self, address: str) -> Response:
        if urlsplit(address).path.endswith(WORKER):
            return Response(200, b"<h1>Sign in to this network</h1>", "text/html")
        return super().response(address)


class SendingElsewhereHost(Host):
    """Sends whoever asks for the service worker's script to the page of a network."""

    def response(self, address: str) -> Response:
        if urlsplit(address).path.endswith(WORKER):
            return Response(302, b"", moved_to="http://sign-in.invalid/")
        return super().response(address)


@pytest.mark.usefixtures("files")
@pytest.mark.parametrize("kind", [SigningInHost, SendingElsewhereHost])
def test_a_network_to_sign_in_to_is_not_called_a_browser_that_cannot_keep_anything(page, tmp_path, kind):
    with kind(tmp_path / "site") as host:
        page.goto(host.address)
        expect(offline_state(page)).to_contain_text("This network shows its own page first")
        expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


def test_a_host_without_the_service_workers_script_is_named_as_the_reason(page, host):
    host.faults[WORKER] = lambda: 404
    page.goto(host.address)
    expect(offline_state(page)).to_contain_text("The host does not have what keeps Fieldslate on this phone")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


# What the page says of it


def test_progress_counts_what_the_engine_fetches(page, host, stalling):
    host.faults["engine-1/library.zip"] = lambda: stalling.wait() and None  # saved before the engine's own file
    page.goto(host.address)
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    expect(offline_state(page)).to_contain_text("Saving to this phone: 0.3 MB of 0.6 MB")


def test_everything_is_said_to_be_here_only_while_it_is(saved_page, host, files):
    saved_page.clock.install()
    saved_page.reload()
    expect(offline_state(saved_page)).to_have_text(ALL_SAVED)
    lose(saved_page, files[ENGINE])
    lose_the_signal(host, saved_page)
    for _ in range(MOST_LOOKS):  # each look takes a way to the service worker, which no clock of a page hastens
        if "damaged or gone" in offline_state(saved_page).inner_text():
            break
        saved_page.clock.run_for(1_000)
    expect(offline_state(saved_page)).to_contain_text("A file on this phone is damaged or gone.")
    host.start()
    saved_page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(offline_state(saved_page)).to_have_text(ALL_SAVED)
    lose_the_signal(host, saved_page)
    saved_page.reload()
    expect(saved_page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


# Whoever asks is answered

ASK = """(kind) => new Promise((resolve) => {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = ({ data }) => resolve(data);
  navigator.serviceWorker.controller.postMessage({ kind }, [port2]);
  setTimeout(resolve, 10_000, "nothing came back");
})"""


def test_whoever_asks_for_saving_is_told_why_it_cannot_go_on(saved_page, host, files):
    lose(saved_page, files[SPARE])
    lose_the_signal(host, saved_page)
    told = saved_page.evaluate(ASK, "save")
    assert told["kind"] == "failed"
    assert told["isSignalLost"]
    assert told["sentence"] == "The signal was lost. Saving goes on when it is back."


def test_a_question_that_the_service_worker_does_not_know_is_refused(saved_page):
    assert saved_page.evaluate(ASK, "fly")["kind"] == "failed"


# A host that goes on to a new version


def test_a_host_that_goes_on_before_the_service_worker_has_come_gives_the_tab_one_whole_version(page, host):
    def go_on() -> None:
        host.faults.clear()
        go_on_to_version_2(host)

    host.faults[WORKER] = go_on
    page.goto(host.address + "voltages.html")
    expect(heading(page)).to_have_text("Voltages, corrected")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    expect(offline_state(page)).to_have_text(ALL_SAVED)
    assert page.locator("body").get_attribute("data-engine") == "engine-2/"


@pytest.mark.parametrize("at", [FIRST_FILE, "voltages.html", ENGINE])
def test_a_host_that_goes_on_in_the_middle_of_a_first_visit_gives_the_tab_one_whole_version(page, host, at):
    has_gone_on = threading.Event()

    def go_on() -> None:
        del host.faults[at]
        go_on_to_version_2(host)
        has_gone_on.set()

    host.faults = {ENGINE: lambda: has_gone_on.wait() and None, at: go_on}
    page.goto(host.address)
    expect(offline_state(page)).to_have_text(ALL_SAVED)
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    assert page.locator("body").get_attribute("data-engine") == "engine-2/"
    lose_the_signal(host, page)
    page.goto(host.address + "voltages.html")
    expect(heading(page)).to_have_text("Voltages, corrected")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


LATE_NEWS = """
  const listen = navigator.serviceWorker.addEventListener.bind(navigator.serviceWorker);
  navigator.serviceWorker.addEventListener = (kind, hear) => listen(kind, kind === "message" ? (news) => setTimeout(hear, 1000, news) : hear);
"""


def test_a_page_that_hears_late_that_a_first_visit_was_cut_short_takes_the_new_version_all_the_same(page, host):
    def go_on() -> None:
        host.faults.clear()
        go_on_to_version_2(host)

    page.add_init_script(LATE_NEWS)
    host.faults = {"safety-rules.html": go_on}
    page.goto(host.address)
    expect(offline_state(page)).to_have_text(ALL_SAVED)


def test_the_page_for_what_is_not_here_says_what_to_do_in_a_fire(saved_page, host):
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + "no/such/page.html")
    expect(heading(saved_page)).to_have_text("This page is not on this phone")
    expect(saved_page.get_by_text("People first.")).to_be_visible()
    expect(saved_page.get_by_role("button", name="Use the new version")).to_have_count(0)


def test_the_page_for_what_is_not_here_offers_the_new_version_that_waits(saved_page, host, files, until, axe):
    new_version_of_voltages(host, until, saved_page)
    damage(saved_page, files["voltages.html"])
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + "voltages.html")
    expect(heading(saved_page)).to_have_text("This page is not on this phone")
    assert axe(saved_page) == []
    saved_page.get_by_role("button", name="Use the new version").click()
    expect(heading(saved_page)).to_have_text("First page")
    saved_page.goto(host.address + "voltages.html")
    expect(heading(saved_page)).to_have_text("Voltages, corrected")


def test_the_page_for_what_is_not_here_takes_no_new_version_while_a_card_runs(saved_page, host, files, until):
    run_card(saved_page, running=True)
    new_version_of_voltages(host, until, saved_page)
    damage(saved_page, files["voltages.html"])
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + "voltages.html")
    expect(heading(saved_page)).to_have_text("This page is not on this phone")
    expect(saved_page.get_by_role("button", name="Use the new version")).to_have_count(0)
