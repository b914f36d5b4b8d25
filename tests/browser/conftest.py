"""A pilot's phone for the tests: Chromium at a phone's size, and hosts that can lose their signal.

`python3 -m site_builder test` finds the browser and builds dist/ before pytest starts.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Playwright, Request, expect, sync_playwright

from site_builder.commands.serve import Server
from site_builder.harness.phone import ALL_SAVED, PATIENCE_MS, PHONE, SIZE, open_browser, visit, wait_for_engine
from site_builder.setting_up.checkout import DIST
from tests.browser.phones import NO_SERVICE_WORKER, TEST_FLAGS, Visited, emptied_page, visited_phone
from tests.browser.small_site import Host, make_site

MOST_TRIES = 1200

expect.set_options(timeout=PATIENCE_MS)

# The contrast of WCAG's level AAA, asked of axe-core's rule for AA: its own rule for AAA passes whatever AA would forbid, and leaves it to that.
# What axe-core is given in place of its own options must be all of them.
SEVEN_TO_ONE = {
    "contrastRatio": {"normal": {"expected": 7}, "large": {"expected": 4.5}},
    "ignoreUnicode": True,
    "ignoreLength": False,
    "ignorePseudo": False,
    "boldValue": 700,
    "boldTextPt": 14,
    "largeTextPt": 18,
    "pseudoSizeThreshold": 0.25,
    "shadowOutlineEmMax": 0.2,
    "textStrokeEmMin": 0.03,
}

# What axe-core is asked for. The size of targets it would leave out by itself.
ACCESS_RULES = {
    "resultTypes": ["violations"],
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
    "rules": {"target-size": {"enabled": True}},
    "checks": {"color-contrast": {"options": SEVEN_TO_ONE}},
}

# What axe has to say of colours.
ACCESS_COLOURS = ["color-contrast", "link-in-text-block"]

# What else it says, of all that is right, would come over the wire for nothing.
AXE_VIOLATIONS = "rules => axe.run(document, rules).then(({ violations }) => violations)"


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
    browser = open_browser(playwright, browser_program, TEST_FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that has never been here: each test has one of its own."""
    context = browser.new_context(**PHONE)
    yield context
    context.close()


@pytest.fixture
def phone_without_store(phone: BrowserContext) -> BrowserContext:
    """A phone that starts its calculator from the host, where a test can hold it back or spoil it."""
    phone.add_init_script(NO_SERVICE_WORKER)
    return phone


@pytest.fixture
def page(phone: BrowserContext) -> Page:
    return phone.new_page()


@pytest.fixture
def opened_phone(playwright: Playwright, browser_program: str, tmp_path: Path) -> Callable[[], AbstractContextManager[BrowserContext]]:
    """A phone whose browser can be closed and opened again: `with opened_phone() as phone`, as often as needed."""

    @contextmanager
    def opened() -> Iterator[BrowserContext]:
        context = playwright.chromium.launch_persistent_context(
            tmp_path / "browser-profile", executable_path=browser_program, args=TEST_FLAGS, **PHONE
        )
        yield context
        context.close()

    return opened


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


@pytest.fixture(scope="session")
def visited(browser: Browser, dist: Path) -> Iterator[Visited]:
    """A phone that has visited the built site once. All tests share it: one that damages what it keeps, or moves its clock, has its own."""
    with visited_phone(browser, dist) as visited:
        yield visited


@pytest.fixture
def own_phone_page(browser: Browser, dist: Path) -> Iterator[Page]:
    """A page on a phone of its own, with a host: where a test moves its clock, the other pages of a phone would see it go back afterwards."""
    phone = browser.new_context(**PHONE)
    with Server(dist) as server:
        page = phone.new_page()
        visit(page, server.address)
        yield page
    phone.close()


@pytest.fixture(scope="module")
def page_without_scripts(browser: Browser) -> Iterator[Page]:
    phone = browser.new_context(**PHONE, java_script_enabled=False)
    yield phone.new_page()
    phone.close()


@pytest.fixture
def sent(visited: Visited) -> Iterator[list[str]]:
    """What the pages of the phone sent for beyond the phone. The look for a new version is the browser's own, and left out."""
    addresses = []

    def note(request: Request) -> None:
        left_unfinished = request.failure == "net::ERR_ABORTED"  # the pilot went on to another page
        response = None if request.failure else request.response()
        if not left_unfinished and not (response and response.from_service_worker) and not request.url.endswith("service-worker.js"):
            addresses.append(request.url)

    visited.phone.on("requestfinished", note)
    visited.phone.on("requestfailed", note)
    yield addresses
    visited.phone.remove_listener("requestfinished", note)
    visited.phone.remove_listener("requestfailed", note)


@pytest.fixture
def far_page(visited: Visited) -> Iterator[Page]:
    """A page on that phone, with nothing entered and no page of the site open yet."""
    with emptied_page(visited) as page:
        yield page


@pytest.fixture(scope="module")
def running_page(visited: Visited) -> Iterator[Page]:
    """Such a page with the calculator of the charge settings running, for all tests of a module."""
    with emptied_page(visited) as page:
        page.goto(visited.address + "charge-settings.html")
        wait_for_engine(page)
        yield page


@pytest.fixture
def until() -> Callable[[Page, str], None]:
    """Return once an expression, which may be a promise, is true in a page.

    Playwright's own wait_for_function needs eval, which our policy forbids.
    """

    def wait(page: Page, expression: str) -> None:
        for _ in range(MOST_TRIES):
            if is_true(page, expression):
                return
            page.wait_for_timeout(25)  # lets the page go on; nothing depends on how long
        pytest.fail(f"This never became true in {page.url}: {expression}")

    return wait


def is_true(page: Page, expression: str) -> bool:
    try:
        return bool(page.evaluate(expression))
    except Error as error:
        if "Execution context was destroyed" in error.message:
            return False  # the page reloads just now
        raise


@pytest.fixture(scope="session")
def axe() -> Callable[..., list[dict]]:
    """Return what axe-core finds wrong with a page: each violation with its rule and the elements that break it.

    It is asked everything that `ACCESS_RULES` holds, and where `in_both_lights`, in light, and then its colours alone in dark: nothing else
    of a page depends on the light.

    The screen is as long as the page meanwhile: else a bar that lies over a link by chance would count as a fault of it.
    """
    from site_builder.setting_up.node import node_modules

    source = (node_modules() / "axe-core" / "axe.min.js").read_text(encoding="utf-8")

    def violations(page: Page, in_both_lights: bool = False) -> list[dict]:
        if in_both_lights:
            page.emulate_media(color_scheme="light")
        for _ in range(2):  # what is as high as the screen grows with it
            page.set_viewport_size(SIZE | {"height": page.evaluate("document.documentElement.scrollHeight")})
        page.evaluate(source)
        found = page.evaluate(AXE_VIOLATIONS, ACCESS_RULES)
        if in_both_lights:
            page.emulate_media(color_scheme="dark")
            found += page.evaluate(AXE_VIOLATIONS, ACCESS_RULES | {"runOnly": {"type": "rule", "values": ACCESS_COLOURS}})
        page.set_viewport_size(SIZE)
        return [
            {"rule": violation["id"], "what": violation["help"], "where": [node["target"] for node in violation["nodes"]]}
            for violation in found
        ]

    return violations


@pytest.fixture(scope="session")
def found_wrong(axe) -> Callable[[Page], list[dict]]:
    """What axe finds wrong with a page in light and in dark."""
    return partial(axe, in_both_lights=True)


@pytest.fixture
def files(tmp_path: Path) -> dict[str, str]:
    return make_site(tmp_path / "site")


@pytest.fixture
def host(tmp_path: Path, request) -> Iterator[Host]:
    """The host of the small site; below a path, if a test is parametrised with one."""
    request.getfixturevalue("files")
    with Host(tmp_path / "site", under=getattr(request, "param", "")) as host:
        yield host


@pytest.fixture
def saved_page(page: Page, host: Host) -> Page:
    """The first page, once everything is on the phone."""
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    return page
