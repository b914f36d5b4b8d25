"""A pilot's phone for the tests: Chromium at a phone's size, and hosts that can lose their signal.

`python3 -m site_builder test` finds the browser and builds dist/ before pytest starts.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright

from site_builder.commands.serve import Server
from site_builder.setting_up.checkout import DIST

PHONE = {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 2, "is_mobile": True, "has_touch": True}

# Chromium as root needs the first; the rest keep it from calling home.
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

MOST_TRIES = 1200

# A first visit on a busy machine takes longer than the five seconds that Playwright grants by itself.
expect.set_options(timeout=30_000)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser_program() -> str:
    if "FIELDSLATE_BROWSER" not in os.environ:
        pytest.fail("FIELDSLATE_BROWSER names no browser: run the tests with python3 -m site_builder test")
    return os.environ["FIELDSLATE_BROWSER"]


@pytest.fixture(scope="session")
def browser(playwright: Playwright, browser_program: str) -> Iterator[Browser]:
    browser = playwright.chromium.launch(executable_path=browser_program, args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that has never been here: each test has one of its own."""
    context = browser.new_context(**PHONE)
    yield context
    context.close()


@pytest.fixture
def page(phone: BrowserContext) -> Page:
    return phone.new_page()


@pytest.fixture
def opened_phone(
    playwright: Playwright, browser_program: str, tmp_path: Path
) -> Callable[[], AbstractContextManager[BrowserContext]]:
    """A phone whose browser can be closed and opened again: `with opened_phone() as phone`, as often as needed."""

    @contextmanager
    def open_browser() -> Iterator[BrowserContext]:
        context = playwright.chromium.launch_persistent_context(
            tmp_path / "browser-profile", executable_path=browser_program, args=FLAGS, **PHONE
        )
        yield context
        context.close()

    return open_browser


@pytest.fixture(scope="session")
def dist() -> Path:
    if not (DIST / "service-worker.js").is_file():
        pytest.fail("dist/ is not built: run the tests with python3 -m site_builder test")
    return DIST


@pytest.fixture
def site(dist: Path) -> Iterator[Server]:
    """The built site on a host of its own: `site.address`, `site.stop()`, `site.start()`."""
    with Server(dist) as server:
        yield server


@pytest.fixture
def until() -> Callable[[Page, str], None]:
    """Return once an expression, which may be a promise, is true in a page.

    Playwright's own wait_for_function needs eval, which our policy forbids.
    """

    def wait(page: Page, expression: str) -> None:
        for _ in range(MOST_TRIES):
            if page.evaluate(expression):
                return
            page.wait_for_timeout(25)  # lets the page go on; nothing depends on how long
        pytest.fail(f"This never became true in {page.url}: {expression}")

    return wait


@pytest.fixture(scope="session")
def axe() -> Callable[[Page], list[dict]]:
    """Return what axe-core finds wrong with a page: each violation with its rule and the elements that break it."""
    from site_builder.setting_up.node import node_modules

    source = (node_modules() / "axe-core" / "axe.min.js").read_text(encoding="utf-8")

    def violations(page: Page) -> list[dict]:
        page.evaluate(source)
        found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
        return [
            {"rule": violation["id"], "what": violation["help"], "where": [node["target"] for node in violation["nodes"]]}
            for violation in found["violations"]
        ]

    return violations
