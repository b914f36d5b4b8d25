"""The quick start and what comes after it where it fails, and a question that never comes back.

The pack of 2650 mAh at 1C makes 2.6 A by the charger's step of 0.1 A, and one of 350 mAh makes 0.3 A.
"""

import gzip
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from site_builder.building.offline import files_to_keep
from site_builder.commands.serve import Server
from site_builder.harness.phone import visit
from site_builder.harness.pilot import club_entries, entry, link_to, setting

ENTRIES = club_entries("brass-heron", "small", "field-battery")
SNAPSHOT = "snapshot.bin"
SPARE = "plain-start.zip"
LONGER = "Starting takes longer this time. Your entries are kept."
QUICK_LIMIT_MS, PLAIN_LIMIT_MS = 120_000, 360_000  # from the host, where nothing is on the phone
ANSWER_LIMIT_MS = 20_000
PUT = "([key, body]) => caches.keys().then(([name]) => caches.open(name)).then(store => store.put(`.stored/${key}`, new Response(body)))"
STARTS = ("quick", "quick", "plain")
CHECK = """() => new Promise((resolve) => {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => resolve();
  navigator.serviceWorker.controller.postMessage({ kind: "check" }, [port2]);
})"""
DELETE = "(key) => caches.keys().then(([name]) => caches.open(name)).then(store => store.delete(`.stored/${key}`))"

Fault = Callable[[], int | bytes | None]


def state(page: Page):
    return page.get_by_role("region", name="Calculator").get_by_role("status")


@pytest.fixture
def host(dist) -> Iterator[Callable]:
    """A host with faults by the end of a file's path; what they hold back is let go when the test is over."""
    over = threading.Event()

    @contextmanager
    def faulty(faults: dict[str, Fault]) -> Iterator[Server]:
        def tamper(path: str) -> int | bytes | None:
            fault = next((fault for end, fault in faults.items() if path.endswith(end)), None)
            return fault() if fault else None

        with Server(dist, tamper=tamper) as server:
            server.over = over
            yield server
            over.set()

    yield faulty
    over.set()


def content(dist: Path, name: str) -> bytes:
    [file] = dist.glob(f"*/{name}")
    return file.read_bytes()


def damaged(dist: Path) -> bytes:
    whole = content(dist, SNAPSHOT)
    return whole[:1_000_000] + bytes(100) + whole[1_000_100:]


def of_another_version(dist: Path) -> bytes:
    """The snapshot with another hash of its WebAssembly: the 17th to 48th byte of the head, which follows the table of spans."""
    whole = gzip.decompress(content(dist, SNAPSHOT))
    spans = int.from_bytes(whole[8:12], "little")
    place = 12 + 8 * spans + 16
    return gzip.compress(whole[:place] + bytes(32) + whole[place + 32 :], compresslevel=1)


def cut_off(dist: Path) -> bytes:
    return content(dist, SNAPSHOT)[:2_000_000]


def missing(_: Path) -> int:
    return 404


@pytest.mark.parametrize("spoilt", [damaged, of_another_version, cut_off, missing], ids=["damaged", "version", "cut", "missing"])
def test_where_the_snapshot_is_no_good_the_plain_start_answers_and_the_page_says_that_it_takes_longer(
    phone_without_store, dist, host, spoilt
):
    signal = threading.Event()
    with host({SNAPSHOT: lambda: spoilt(dist), SPARE: lambda: signal.wait() and None}) as server:
        page = phone_without_store.new_page()
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        expect(state(page)).to_have_text(LONGER)
        signal.set()
        expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
        expect(page.locator("#answer")).to_have_attribute("data-state", "answer")


@pytest.mark.parametrize("missing", [{SNAPSHOT, SPARE}, {".wasm"}, {"start.mjs"}], ids=" and ".join)
def test_where_no_start_works_the_page_says_so_and_keeps_entries_and_example(phone_without_store, host, missing):
    with host(dict.fromkeys(missing, lambda: 404)) as server:
        page = phone_without_store.new_page()
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        expect(state(page)).to_contain_text("The calculator could not start on this phone.")
        expect(page.locator("#answer-about")).to_contain_text("these are not your numbers")
        expect(page.get_by_role("heading", name="Worked example")).to_be_visible()
        expect(entry(page, "capacity_mah")).to_have_value("2650")


def test_a_webassembly_that_never_settles_is_given_up_after_its_time(phone_without_store, host):
    asked = threading.Semaphore(0)

    def held() -> None:
        asked.release()
        server.over.wait()

    with host({".wasm": held}) as server:
        page = phone_without_store.new_page()
        page.clock.install()
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        for limit in (QUICK_LIMIT_MS, QUICK_LIMIT_MS, PLAIN_LIMIT_MS):
            wait_for(page, asked)
            expect(state(page)).not_to_contain_text("could not start")
            page.clock.fast_forward(limit)
        expect(state(page)).to_contain_text("The calculator could not start on this phone.")
        expect(page.locator("#answer")).to_have_attribute("data-state", "fault")


def test_a_browser_that_cannot_unpack_starts_plainly(phone_without_store, dist, host):
    worker = b"delete self.DecompressionStream;\n" + content(dist, "worker.js")
    with host({"/worker.js": lambda: worker}) as server:
        page = phone_without_store.new_page()
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
        expect(page.locator("#answer")).to_have_attribute("data-state", "answer")


# The quick start gives Pyodide other ways to compile and to fetch. Here nobody can change what the browser has.
NOTHING_CHANGES = b"""Object.freeze(WebAssembly);
Object.defineProperty(self, "fetch", { value: self.fetch, writable: false, configurable: false });
"""


def test_where_nothing_of_the_browser_can_be_changed_the_plain_start_answers(phone_without_store, dist, host):
    with host({"/worker.js": lambda: NOTHING_CHANGES + content(dist, "worker.js")}) as server:
        page = phone_without_store.new_page()
        notes = note_states(page)
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
        expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
        assert LONGER in notes(page)


# On the phone


def test_a_damaged_engine_is_mended_with_a_signal_and_starts_plainly_without(phone: BrowserContext, dist):
    hashes = {Path(file.path).name: file.sha256 for file in files_to_keep(dist)}
    with Server(dist) as server:
        page = phone.new_page()
        visit(page, server.address)
        for name in (SNAPSHOT, "pyodide.asm.wasm"):
            page.evaluate(PUT, [hashes[name], "4.35 V"])
        page.evaluate(DELETE, hashes["start.mjs"])
        opened_with_answer(page, server.address)
        server.stop()
        opened_with_answer(page, server.address)  # all of it was put back
        page.evaluate(PUT, [hashes[SNAPSHOT], "4.35 V"])
        page.context.new_cdp_session(page).send("Network.clearBrowserCache")
        notes = note_states(page)
        opened_with_answer(page, server.address)
        assert LONGER in notes(page)


def opened_with_answer(page: Page, address: str) -> None:
    page.goto(link_to(address, "charge-settings", ENTRIES))
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
    expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")


CANNOT_COMPILE = "WebAssembly.compile = () => Promise.reject(new Error('no'))"
CANNOT_SEND = """{
  const send = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (message, ...others) {
    if (message.wasm) throw new DOMException("no", "DataCloneError");
    return send.call(this, message, ...others);
  };
}"""


@pytest.mark.parametrize("cannot", [CANNOT_COMPILE, CANNOT_SEND], ids=["compile", "send"])
def test_where_the_page_cannot_give_the_webassembly_its_worker_compiles_it_and_no_other_start_is_needed(visited, far_page, cannot):
    started = []
    far_page.on("worker", lambda _: started.append(cannot))
    far_page.add_init_script(cannot)
    opened_with_answer(far_page, visited.address)
    assert len(started) == 1


def note_states(page: Page) -> Callable[[Page], list[str]]:
    """Note each line that the page says of its calculator from the next page on, and give what reads them."""
    page.add_init_script("""window.said = [];
document.addEventListener("DOMContentLoaded", () => {
  const line = document.getElementById("engine-state");
  new MutationObserver(() => said.push(line.textContent)).observe(line, { childList: true, characterData: true });
});""")
    return lambda page: page.evaluate("said")


def test_a_first_visit_that_lost_its_signal_starts_the_calculator_once_the_rest_has_come(page, dist):
    lost = threading.Event()

    def lose(path: str) -> None:
        if path.endswith(SNAPSHOT) and not lost.is_set():
            lost.set()
            server.stop()
            raise ConnectionResetError

    notes = note_states(page)
    with Server(dist, tamper=lose) as server:
        page.goto(link_to(server.address, "charge-settings", ENTRIES))
        expect(page.locator("#offline-state")).to_contain_text("The signal was lost.")
        for _ in STARTS:  # time enough for each start to be tried in vain
            page.evaluate(CHECK)
        expect(state(page)).to_have_text("Starting. Your entries are kept.")
        server.start()
        page.evaluate("window.dispatchEvent(new Event('online'))")
        expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
        expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
        assert LONGER not in notes(page)


# Questions


class Asked(Server):
    """A host that hears from its worker what it is asked for, before it answers: `worker` comes in place of worker.js."""

    def __init__(self, dist: Path, worker: Callable[[], bytes]):
        self.capacities: list[str] = []
        self.heard = threading.Semaphore(0)
        self.held = {}
        super().__init__(dist, tamper=lambda path: worker() if path.endswith("/worker.js") else None)

    def response(self, address: str):
        if "?capacity=" in address:
            self.capacities.append(address.split("=")[1])
            self.heard.release()
            if self.capacities[-1] in self.held:
                self.held[self.capacities[-1]].wait()
        return super().response(address)

    def wait_for(self, page: Page, capacity: str) -> None:
        """Wait until that is asked next. The page goes on meanwhile; nothing depends on how long."""
        wait_for(page, self.heard)
        assert self.capacities[-1] == capacity


def telling_worker(dist: Path, stuck_at: str = "none") -> bytes:
    """The worker as it is, but it tells the host what it is asked, and never comes back from one of the questions."""
    told = f"""const told = new XMLHttpRequest();
    told.open("GET", `../sources.html?capacity=${{entries.capacity_mah}}`, false);
    told.send();
    if (entries.capacity_mah === "{stuck_at}") for (;;);
    const text=respond"""
    worker, answers_here = content(dist, "worker.js"), b"const text=respond"
    assert answers_here in worker
    return worker.replace(answers_here, told.encode())


def wait_for(page: Page, happened: threading.Semaphore) -> None:
    while not happened.acquire(blocking=False):
        page.wait_for_timeout(25)


@pytest.fixture
def opened(phone_without_store) -> Callable[[Asked], Page]:
    def open_with_answer(host: Asked) -> Page:
        page = phone_without_store.new_page()
        page.clock.install()
        page.goto(link_to(host.address, "charge-settings", ENTRIES))
        host.wait_for(page, "2650")
        expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
        expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
        return page

    return open_with_answer


def test_a_question_that_is_stuck_is_ended_and_the_newest_one_is_answered(opened, dist):
    with Asked(dist, lambda: telling_worker(dist, stuck_at="351")) as host:
        page = opened(host)
        for text in ("351", "352", "350"):
            entry(page, "capacity_mah").fill(text)
        host.wait_for(page, "351")
        page.clock.fast_forward(ANSWER_LIMIT_MS)
        expect(setting(page, "Charge current")).to_contain_text("0.3\u00a0A")
        assert host.capacities == ["2650", "351", "350"]


def test_a_question_that_was_only_late_is_asked_once_more(opened, dist):
    workers = iter([telling_worker(dist, stuck_at="350"), telling_worker(dist)])
    with Asked(dist, lambda: next(workers)) as host:
        page = opened(host)
        entry(page, "capacity_mah").fill("350")
        host.wait_for(page, "350")
        page.clock.fast_forward(ANSWER_LIMIT_MS)
        expect(setting(page, "Charge current")).to_contain_text("0.3\u00a0A")


def test_a_question_that_is_stuck_again_is_given_up_and_the_next_one_is_answered(opened, dist):
    with Asked(dist, lambda: telling_worker(dist, stuck_at="350")) as host:
        page = opened(host)
        entry(page, "capacity_mah").fill("350")
        for _ in ("once", "once more"):
            host.wait_for(page, "350")
            page.clock.fast_forward(ANSWER_LIMIT_MS)
        expect(page.locator("#answer-about")).to_contain_text("it took too long")
        expect(page.locator("#answer-about")).to_contain_text("these are not your numbers")
        entry(page, "capacity_mah").fill("2650")
        expect(page.locator("#answer")).to_have_attribute("data-state", "answer")
        expect(setting(page, "Charge current")).to_contain_text("2.6\u00a0A")
        assert host.capacities == ["2650", "350", "350", "2650"]


def test_a_newer_question_drops_an_older_one_that_has_not_begun(opened, dist):
    with Asked(dist, lambda: telling_worker(dist)) as host:
        host.held["3"] = threading.Event()
        page = opened(host)
        for text in ("3", "35", "350"):
            entry(page, "capacity_mah").fill(text)
        host.held["3"].set()
        expect(setting(page, "Charge current")).to_contain_text("0.3\u00a0A")
        assert host.capacities == ["2650", "3", "350"]


def test_a_browser_that_refuses_the_worker_says_that_the_calculator_cannot_start(phone_without_store: BrowserContext, site):
    phone_without_store.add_init_script("window.Worker = class { constructor() { throw new DOMException('no', 'SecurityError'); } }")
    page = phone_without_store.new_page()
    page.goto(site.address + "charge-settings.html")
    expect(state(page)).to_contain_text("The calculator could not start on this phone.")
