"""A small site that our own list is written for, and the hosts that it is on.

The host notes what it is asked for, so each test can say what went over the network and what came from the phone.
"""

import gzip
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Page

from site_builder.building.bundling import joined
from site_builder.building.offline import FIRST_AID, write_service_worker
from site_builder.commands.serve import Response, Server

ALL_SAVED = "Everything is on this phone."
WORKER = "service-worker.js"
FIRST_FILE = "code-1/paper.css"  # saved first, and asked for by no page
ENGINE = "engine-1/python.wasm"
SPARE = "engine-1/plain-start.zip"  # saved last
LOADER = "engine-1/loader.mjs"  # travels packed
LOADER_TEXT = "export const loads = true;\n" + "// and many bytes\n" * 10_000

PAGES = {
    "index.html": "First page",
    "pack-in-trouble.html": "Pack in trouble",
    "safety-rules.html": "Safety rules",
    "voltages.html": "Voltages",
}

HTML = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>
<link rel="icon" href="icons/icon.svg"><link rel="stylesheet" href="code-1/style.css">
<script type="module" src="code-1/page.js"></script></head><body data-engine="engine-1/"><main><h1>{title}</h1>
<p id="offline-state" role="status"></p><p id="engine-state" role="status"></p>
<div id="new-version" hidden><p>A new version is here.</p><button id="use-new-version">Use the new version</button></div>
{lead}</main></body></html>"""
FIRST_WORDS = '<div class="lead"><p>People first.</p></div>'

PAGE_JS = Path(__file__).with_suffix(".js")

STORE = "caches.keys().then(([name]) => caches.open(name))"
STORED_FILES = f"{STORE}.then(s => s.keys()).then(keys => keys.filter(key => /[0-9a-f]{{64}}$/.test(key.url)).length)"
WAITS = "navigator.serviceWorker.getRegistration().then(r => r.waiting !== null)"


def write(file: Path, content: str | bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content.encode() if isinstance(content, str) else content)


def page_html(title: str) -> str:
    return HTML.format(title=title, lead=FIRST_WORDS if title == PAGES["pack-in-trouble.html"] else "")


def make_site(folder: Path) -> dict[str, str]:
    """Write a small site with its service worker and return the hash of each of its files."""
    for path, title in PAGES.items():
        write(folder / path, page_html(title))
    write(folder / "code-1/style.css", "main { font-size: 1.2rem }")
    write(folder / FIRST_FILE, "@media print { main { margin: 0 } }")
    write(folder / "code-1/page.js", joined(PAGE_JS))
    write(folder / "icons/icon.svg", '<svg xmlns="http://www.w3.org/2000/svg"/>')
    write(folder / "engine-1/library.zip", bytes(250_000))
    write(folder / ENGINE, bytes(range(256)) * 1_200)
    write(folder / SPARE, "only a damaged engine needs it")
    write(folder / LOADER, LOADER_TEXT)
    write(folder / f"{LOADER}.gz", gzip.compress(LOADER_TEXT.encode(), mtime=0))
    return hashes(folder)


def hashes(folder: Path) -> dict[str, str]:
    return {file.path: file.sha256 for file in write_service_worker(folder)}


def sent(files: dict[str, str]) -> list[str]:
    """What a phone that has nothing fetches, the service worker aside, in which the pages against a fire lie."""
    return sorted(f"{path}.gz" if path == LOADER else path for path in files if path not in FIRST_AID)


def rewrite_worker(host: "Host", old: str, new: str) -> None:
    """Publish the service worker with one piece of its script replaced, which must be in it."""
    write(host.folder / WORKER, rewritten(host, old, new))


def rewritten(host: Server, old: str, new: str) -> str:
    """Return the script of a host's service worker with one piece replaced, which must be in it, once."""
    script = (host.folder / WORKER).read_text(encoding="utf-8")
    assert script.count(old) == 1
    return script.replace(old, new)


def impatient(host: Server) -> str:
    """Return the service worker as it waits half a second for a host that stands still, where a phone waits for 15: its script has no other such number."""
    return rewritten(host, "=15e3", "=500")


def shorten_patience(host: "Host") -> None:
    """Publish that one."""
    write(host.folder / WORKER, impatient(host))


class Host(Server):
    """A host that notes what it is asked for, and fails as it is told to."""

    def __init__(self, folder: Path, under: str = ""):
        self.asked: list[str] = []
        self.faults: dict[str, Callable[[], int | bytes]] = {}
        super().__init__(folder, under=under, tamper=self._note)

    def start(self) -> None:
        super().start()
        self.is_up = True

    def stop(self) -> None:
        self.is_up = False
        super().stop()

    def _note(self, path: str) -> int | bytes | None:
        if not self.is_up:  # browsers open connections ahead of need, and one of those outlives the stop
            raise ConnectionResetError
        self.asked.append(path.removeprefix("/") or "index.html")
        fault = self.faults.get(self.asked[-1])
        return fault() if fault else None

    def asked_since(self, before: int) -> list[str]:
        """Return what was asked for, but the service worker: the browser looks for a new one whenever it likes."""
        return [path for path in self.asked[before:] if path != WORKER]

    def loses_its_signal(self) -> bytes:
        self.stop()
        raise ConnectionResetError


class ShorteningHost(Host):
    """Answers as hosts do that send every .html to an address without it."""

    def response(self, address: str) -> Response:
        path = urlsplit(address).path
        if path.endswith(".html"):
            return Response(301, b"", moved_to=path.removesuffix(".html"))
        return super().response(f"{path}.html" if path.removeprefix("/") + ".html" in PAGES else address)


def heading(page: Page):
    return page.get_by_role("heading", level=1)


def new_version_of_voltages(host: Host, until, page: Page) -> None:
    """Publish a version with one page changed and one file renamed, and have an open page look for it."""
    write(host.folder / "voltages.html", page_html("Voltages, corrected"))
    (host.folder / "icons/icon.svg").rename(host.folder / "icons/mark.svg")
    hashes(host.folder)
    page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update()).then(() => null)")
    until(page, WAITS)


def run_card(page: Page, running: bool) -> None:
    page.evaluate("localStorage.setItem('card', 'runs')" if running else "localStorage.clear()")
    page.evaluate("tellOfCard()")


def empty_the_browsers_own_cache(page: Page) -> None:
    """Leave the store alone, so that what is not in it can come from nowhere but the host."""
    page.context.new_cdp_session(page).send("Network.clearBrowserCache")


def lose_the_signal(host: Host, page: Page) -> None:
    """Stop the host: from here on a page comes from the store or not at all."""
    host.stop()
    empty_the_browsers_own_cache(page)


def damage(page: Page, sha256: str) -> None:
    empty_the_browsers_own_cache(page)
    page.evaluate(f"{STORE}.then(s => s.put('.stored/{sha256}', new Response('4.35 V')))")


def lose(page: Page, sha256: str) -> None:
    empty_the_browsers_own_cache(page)
    assert page.evaluate(f"{STORE}.then(s => s.delete('.stored/{sha256}'))")


def go_on_to_version_2(host: Host) -> None:
    """Publish a version with other folders of scripts and engine, as a build does that changed both; those before are gone."""
    for folder in ("code", "engine"):
        (host.folder / f"{folder}-1").rename(host.folder / f"{folder}-2")
    for file in [*host.folder.glob("*.html"), host.folder / "code-2/page.js"]:
        write(file, file.read_text(encoding="utf-8").replace("code-1", "code-2").replace("engine-1", "engine-2"))
    write(
        host.folder / "voltages.html",
        (host.folder / "voltages.html").read_text(encoding="utf-8").replace("Voltages", "Voltages, corrected"),
    )
    hashes(host.folder)


def end_the_service_worker(page: Page) -> None:
    """As a browser does that needs the room: what it had in memory is gone, and the next request starts it anew."""
    tools = page.context.new_cdp_session(page)
    tools.send("ServiceWorker.enable")
    tools.send("ServiceWorker.stopAllWorkers")
