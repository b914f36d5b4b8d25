"""How long until something stands on the screen, and until Python answers: ours and a bare Pyodide's, in one browser."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import ClassVar

from playwright.sync_api import Browser, BrowserContext, Page

from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.offline import write_service_worker
from site_builder.commands.serve import Response, Server
from site_builder.harness.host import CountingHost
from site_builder.harness.phone import PHONE, visit
from site_builder.harness.pilot import club_entries, link_to
from site_builder.measuring.machine import megabytes_of, renderers
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.node import node_modules

PAGE = "charge-settings"
ENTRIES = club_entries("slate-badger", "large", "field-battery")

BARE = "bare Pyodide boot"
EMPTY = "empty page from its host, first paint"
EMPTY_KEPT = "empty page from the phone, first paint"
EMPTY_PAGE = "<!doctype html><title>Empty</title><p>Empty</p>"

FIRST_PAINT = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null"
# Told by the page when it changes: looking at every frame would itself keep a busy core busy.
LIVE_ANSWER = """() => new Promise((resolve) => {
  const look = () => document.getElementById("answer")?.dataset.state === "answer" && resolve(performance.now());
  new MutationObserver(look).observe(document, { subtree: true, childList: true, attributeFilter: ["data-state"] });
  look();
})"""
BARE_WORKER = """self.onmessage = async ({ data: engine }) => {
  const { loadPyodide } = await import(`${engine}pyodide.mjs`);
  const python = await loadPyodide({ indexURL: engine, packageBaseUrl: engine });
  self.postMessage(python.runPython("1 + 1"));
}"""
BARE_BOOT = """(host) => new Promise((resolve) => {
  const begun = performance.now();
  const policy = trustedTypes.createPolicy("fieldslate", { createScriptURL: (address) => address });
  window.bare = new Worker(policy.createScriptURL(`${host}worker.js`), { type: "module" });
  window.bare.onmessage = () => resolve(performance.now() - begun);
  window.bare.postMessage(host);
})"""


class BareHost(Server):
    """Pyodide as its makers publish it, with a page that holds one word."""

    MADE: ClassVar[dict[str, tuple[str, str]]] = {"/": (".html", EMPTY_PAGE), "/worker.js": (".js", BARE_WORKER)}

    def __init__(self, folder: Path | None = None):
        super().__init__(folder or node_modules() / "pyodide")

    def response(self, address: str) -> Response:
        if address not in self.MADE:
            return super().response(address)
        ending, text = self.MADE[address]
        return Response(200, text.encode(), CONTENT_TYPES[ending])


def starts(browser: Browser, rounds: int, tell: Callable[[str], None]) -> dict[str, list[float]]:
    """Return the milliseconds of each start, by name. Each round takes one of each in turn, so that all share the weather."""
    taken: dict[str, list[float]] = {}

    def note(name: str, milliseconds: float) -> None:
        taken.setdefault(name, []).append(milliseconds)

    with _with_empty_page() as dist, BareHost() as bare, Server(dist) as server:
        phone = browser.new_context(**PHONE)
        visit(phone.new_page(), server.address)
        for turn in range(1, rounds + 1):
            tell(f"start {turn} of {rounds}")
            server.start()
            _bare(browser, bare, note)
            _first_visit(browser, server.address, note)
            _second_visit(phone, server.address, "second visit", note)
            server.stop()
            _second_visit(phone, server.address, "second visit, no signal", note)
            note(EMPTY_KEPT, _empty_kept(phone, server.address))
        phone.close()
    return taken


@contextmanager
def _with_empty_page() -> Iterator[Path]:
    """Give the built site with an empty page in it, which the service worker keeps like any other."""
    with TemporaryDirectory() as folder:
        dist = shutil.copytree(DIST, Path(folder) / "dist")
        (dist / "empty.html").write_text(EMPTY_PAGE, encoding="utf-8")
        write_service_worker(dist)
        yield dist


def _empty_kept(phone: BrowserContext, address: str) -> float:
    page = phone.new_page()
    _end_service_workers(page)
    page.goto(f"{address}empty.html")
    painted = first_paint(page)
    page.close()
    return float(painted)


def _bare(browser: Browser, bare: BareHost, note: Callable[[str, float], None]) -> None:
    fresh = browser.new_context(**PHONE)
    page = fresh.new_page()
    page.goto(bare.address)
    note(EMPTY, first_paint(page))
    note(BARE, page.evaluate(BARE_BOOT, bare.address))
    fresh.close()


def _first_visit(browser: Browser, address: str, note: Callable[[str, float], None]) -> None:
    fresh = browser.new_context(**PHONE)
    _opened(fresh.new_page(), address, "first visit", note)
    fresh.close()


def _second_visit(phone: BrowserContext, address: str, name: str, note: Callable[[str, float], None]) -> None:
    page = phone.new_page()
    _end_service_workers(page)
    _opened(page, address, name, note)
    page.close()


def _end_service_workers(page: Page) -> None:
    """A phone that comes to the field has none that runs: starting it is part of the start."""
    tools = page.context.new_cdp_session(page)
    tools.send("ServiceWorker.enable")
    tools.send("ServiceWorker.stopAllWorkers")
    tools.detach()


def _opened(page: Page, address: str, name: str, note: Callable[[str, float], None]) -> None:
    page.goto(link_to(address, PAGE, ENTRIES), wait_until="commit")
    note(f"{name}, live answer", page.evaluate(LIVE_ANSWER))
    note(f"{name}, first paint", first_paint(page))


def first_paint(page: Page) -> float:
    while (painted := page.evaluate(FIRST_PAINT)) is None:
        page.wait_for_timeout(10)
    return float(painted)


def bytes_of_a_first_visit(browser: Browser) -> int:
    """Return what a host sends to a phone that has nothing, until all of Fieldslate is there."""
    phone = browser.new_context(**PHONE)
    with CountingHost(DIST) as host:
        visit(phone.new_page(), host.address)
        phone.close()
        return host.sent


def memory(browser: Browser) -> dict[str, float | None]:
    """Return the megabytes that a page with a bare Pyodide takes, and ours with its service worker."""
    with BareHost() as bare, Server(DIST) as server:
        return {
            "a page with a bare Pyodide": _grown(browser, lambda page: _boot_bare(page, bare.address)),
            "our page with its answer": _grown(browser, lambda page: _answer(page, server.address)),
        }


def _grown(browser: Browser, open_it: Callable[[Page], None]) -> float | None:
    before = renderers(browser)
    fresh = browser.new_context(**PHONE)
    open_it(fresh.new_page())
    taken = megabytes_of(renderers(browser) - before)
    fresh.close()
    return taken


def _boot_bare(page: Page, address: str) -> None:
    page.goto(address)
    page.evaluate(BARE_BOOT, address)


def _answer(page: Page, address: str) -> None:
    visit(page, address)
    page.goto(link_to(address, PAGE, ENTRIES))
    page.evaluate(LIVE_ANSWER)
