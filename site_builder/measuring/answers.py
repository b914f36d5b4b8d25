"""How long from a key to its answer in the page, for each calculator, and from one calculator's page to the next."""

import json
from collections.abc import Callable
from time import perf_counter

from playwright.sync_api import Browser, Error, Page

from calc.answering import calculator
from calc.inputs.fields import entries_of
from site_builder.building.common_cases import typed_in
from site_builder.commands.serve import Server
from site_builder.engine.answer import respond_in_json
from site_builder.harness.content import PAGES
from site_builder.harness.phone import PHONE, visit
from site_builder.harness.pilot import link_to, open_with
from site_builder.measuring.starts import ENTRIES, LIVE_ANSWER, PAGE
from site_builder.reading.pages import Page as ContentPage
from site_builder.setting_up.checkout import DIST

KEYS = 200
READS_FOR_MS = 2_000  # a pilot looks at what has come before the next key
WAYS = 10

# Types into the first entry and takes it back, in turn. An answer has come when it stands in the page and is laid out; one to the
# same entries that was kept, and stands there until then, is none. The next key comes in a frame of its own, as a finger's does.
TYPE = """(keys) => new Promise((resolve) => {
  const field = [...document.querySelectorAll("#entries input[type=text]")].find((one) => one.value);
  const [text, body, taken] = [field.value, document.getElementById("answer-body"), []];
  let begun;
  const press = () => {
    begun = performance.now();
    field.value = taken.length % 2 ? text : `${text} `;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  document.addEventListener("fieldslate:answer", ({ detail }) => {
    if (["kept", "waiting"].includes(detail.kind)) return;
    body.getBoundingClientRect();
    taken.push(performance.now() - begun);
    if (taken.length < keys) requestAnimationFrame(() => setTimeout(press));
    else resolve(taken);
  });
  press();
})"""
CLOCK = "performance.timeOrigin + performance.now()"
GO = """(path) => new Promise((resolve) => {
  const begun = performance.now();
  const look = () => {
    const answers = location.pathname.endsWith(path) && document.getElementById("answer")?.dataset.state === "answer";
    if (answers) resolve(performance.now() - begun);
  };
  new MutationObserver(look).observe(document, { subtree: true, childList: true, attributeFilter: ["data-state"] });
  document.querySelector(`nav a[href="${path}"]`).click();
})"""


def keys(browser: Browser, tell: Callable[[str], None]) -> dict[str, list[float]]:
    """Return the milliseconds from each key to its answer, by calculator."""
    taken = {}
    with Server(DIST) as server:
        phone = browser.new_context(**PHONE)
        visit(phone.new_page(), server.address)
        for opened in calculators():
            tell(f"keys of {opened.key}")
            page = phone.new_page()
            _answered(page, server.address, opened)
            page.wait_for_timeout(READS_FOR_MS)
            taken[f"{opened.key}, key to answer"] = page.evaluate(TYPE, KEYS)
            page.close()
        phone.close()
    return taken


def keys_in_cpython(tell: Callable[[str], None]) -> dict[str, list[float]]:
    """Return the milliseconds that the same questions take this Python, by calculator: what WebAssembly makes of them."""
    taken = {}
    for opened in calculators():
        tell(f"{opened.key} in plain CPython")
        entries = json.dumps(typed_in(entries_of(calculator(opened.calculator).Inputs), opened.worked_example))
        respond_in_json(opened.calculator, entries)  # what is imported late
        spans = []
        for _ in range(KEYS):
            begun = perf_counter()
            respond_in_json(opened.calculator, entries)
            spans.append((perf_counter() - begun) * 1000)
        taken[f"{opened.key}, plain CPython"] = spans
    return taken


def ways(browser: Browser, tell: Callable[[str], None]) -> dict[str, list[float]]:
    """Return the milliseconds from a tap on the bar below to the answer of the calculator that it leads to."""
    taken: list[float] = []
    in_the_bar = [opened for opened in calculators() if opened.in_bar and opened.key != PAGE]
    with Server(DIST) as server:
        phone = browser.new_context(**PHONE)
        page = phone.new_page()
        visit(page, server.address)
        server.stop()
        tell("from page to page")
        open_with(page, server.address, PAGE, ENTRIES)  # what only a link has does not come along
        page.evaluate(LIVE_ANSWER)
        for turn in range(WAYS):
            there = in_the_bar[0].address if turn % 2 == 0 else f"{PAGE}.html"
            taken.append(_gone_to(page, there))
        phone.close()
    return {"page to page, tap to answer": taken}


def calculators() -> list[ContentPage]:
    return [page for page in PAGES if page.calculator]


def _answered(page: Page, address: str, opened: ContentPage) -> None:
    page.goto(link_to(address, opened.key, opened.worked_example))
    page.evaluate(LIVE_ANSWER)


def _gone_to(page: Page, path: str) -> float:
    begun = page.evaluate(CLOCK)
    try:
        return float(page.evaluate(GO, path))
    except Error as error:
        if "Execution context was destroyed" not in error.message:
            raise
    page.wait_for_url(f"**/{path}*")  # the page was loaded anew
    page.evaluate(LIVE_ANSWER)
    return float(page.evaluate(CLOCK) - begun)
