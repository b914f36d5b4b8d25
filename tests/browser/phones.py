"""Phones that have been here before: everything is on them, and no host answers any more."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page

from site_builder.commands.serve import Server
from site_builder.harness.phone import FLAGS, PHONE, visit
from site_builder.harness.store import WITHOUT_SCRIPTS, forget

# A page of a test ends long before compiling WebAssembly a second time, for speed, would pay: it took a fifth of all that the tests did.
# The journey, the measurements and the comparison of both sides leave the browser as it comes.
TEST_FLAGS = [*FLAGS, "--js-flags=--liftoff-only"]

# For add_init_script: a phone on which nothing is saved, so that each page comes from the host.
NO_SERVICE_WORKER = "Object.defineProperty(Navigator.prototype, 'serviceWorker', { get: () => undefined })"


@dataclass(frozen=True, slots=True)
class Visited:
    phone: BrowserContext
    address: str


@contextmanager
def visited_phone(browser: Browser, dist: Path) -> Iterator[Visited]:
    phone = browser.new_context(**PHONE)
    with Server(dist) as server:
        page = phone.new_page()
        visit(page, server.address)
        # What the browser's own cache still holds would pass for what the service worker keeps.
        phone.new_cdp_session(page).send("Network.clearBrowserCache")
        page.close()
    yield Visited(phone, server.address)
    phone.close()


@contextmanager
def emptied_page(visited: Visited) -> Iterator[Page]:
    """A page on that phone, with nothing entered yet, at a file of the site that has no scripts."""
    page = visited.phone.new_page()
    # Emptied where no script of ours runs: a page that is left writes down when it was last seen, which may be a test's own clock.
    page.goto(visited.address + WITHOUT_SCRIPTS)
    forget(page)
    yield page
    page.close()
