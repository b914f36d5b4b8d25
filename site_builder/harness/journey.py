"""The whole way of a phone to the field and back, in one browser: a first visit, no signal, an answer, a card, a browser that the
phone ends, and the page for a pack in trouble.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from calc.answering import answer
from site_builder.harness.browser_program import Browser, wait_until
from site_builder.harness.browsers import Chromium, Firefox, WebKit
from site_builder.harness.host import MOST_SENT, CountingHost
from site_builder.harness.phone import ALL_SAVED, READY
from site_builder.harness.pilot import club_entries, link_to
from site_builder.setting_up.browsers import FIREFOX_PACKAGES, WEBKIT_PACKAGES, firefox_program, webkit_programs

KILLED_AFTER_S = 0.5
ENTRIES = club_entries("brass-heron", "small", "field-battery")
FIRST_LOOK = "First look"  # the step after the one that starts the charge and its timers


class JourneyFailed(Exception):
    """What a pilot would miss, in a sentence."""


@dataclass(frozen=True, slots=True)
class Engine:
    """A browser to make the journey in. `opened` opens it with what it keeps in a folder."""

    name: str
    opened: Callable[[Path], Browser]
    missing: str | None  # what to install, where it is not on this machine


def engines(chromium_program: str | Path) -> list[Engine]:
    fox, kit = firefox_program(), webkit_programs()
    return [
        Engine("Chromium", partial(Chromium, chromium_program), None),
        Engine("Firefox", partial(Firefox, fox or ""), None if fox else _to_install("Firefox", FIREFOX_PACKAGES)),
        Engine("WebKitGTK", partial(WebKit, kit or ("", "")), None if kit else _to_install("WebKitGTK", WEBKIT_PACKAGES)),
    ]


def _to_install(name: str, packages: tuple[str, ...]) -> str:
    return f"{name} is not on this machine. On Debian, as root: apt-get install {' '.join(packages)}"


def journey(engine: Engine, folder: Path, dist: Path) -> Iterator[str]:
    """Make the journey with the built site in `dist`, and yield a line for each step that went as it must.

    Raises:
        JourneyFailed: a step did not.
        TimeoutError: what a pilot waits for never came.
    """
    with CountingHost(dist) as host:
        with engine.opened(folder) as browser:
            yield f"first visit: {_first_visit(browser, host) / 1e6:.2f} MB sent by the host"
            host.stop()
            yield f"no signal: the charge settings answer {_live_answer(browser, host)}"
            ticked_at = _run_card(browser, host)
            yield "no signal: a card is started, and ticked until the charge and its timers run"
            time.sleep(max(0.0, ticked_at + KILLED_AFTER_S - time.monotonic()))
            browser.kill()
            yield f"the browser was killed {KILLED_AFTER_S} s after the last tick"
        with engine.opened(folder) as browser:
            _card_stands(browser, host)
            yield "opened again with no signal: card, ticks, timers and entries stand"
            _trouble_opens(browser, host)
            yield "no signal: the page for a pack in trouble opens, and tells what is left of the card that runs"


def _first_visit(browser: Browser, host: CountingHost) -> int:
    """Come in on a calculator's page, where engine and saving want the same files at once."""
    browser.open(f"{host.address}charge-settings.html")
    wait_until(browser, f"{_text('#offline-state')}.trim() === {json.dumps(ALL_SAVED)}")
    wait_until(browser, f"{_text('#engine-state')}.trim() === {json.dumps(READY)}")
    sent = host.sent
    if sent > MOST_SENT:
        raise JourneyFailed(f"The host sent {sent / 1e6:.2f} MB at a first visit, and {MOST_SENT / 1e6:.1f} MB is the most.")
    return sent


def _live_answer(browser: Browser, host: CountingHost) -> str:
    browser.open(link_to(host.address, "charge-settings", ENTRIES))
    _press(browser, "Use these entries")
    wait_until(browser, "document.querySelector('#answer').dataset.state === 'answer'")
    shown = browser.read(_text("[data-part=charge_current] .figure"))
    right = str(answer("charge_settings", ENTRIES).charge_current.figure)
    if shown != right:
        raise JourneyFailed(f"The page shows a charge current of {shown}, and it is {right}.")
    return right


def _run_card(browser: Browser, host: CountingHost) -> float:
    """Return the moment of the last tick, which is the last thing done."""
    browser.open(f"{host.address}charging-card.html")
    wait_until(browser, "document.querySelector('#answer').dataset.state === 'answer'")
    _press(browser, "Start this card")
    while (title := _next_step(browser)) != FIRST_LOOK:
        count = "document.querySelector('#card-count')"
        browser.read(f"({count} && ({count}.value = {json.dumps(ENTRIES['cells'])}, {count}.dispatchEvent(new Event('input'))), true)")
        # The next step comes forward as soon as this one is kept; a tap that follows the one before too fast counts for nothing.
        is_next = f"{_text('#card-now-title')} !== {json.dumps(title)}"
        wait_until(browser, f"{is_next} || (document.querySelector('.card-tick').click(), false)")
    return time.monotonic()


def _next_step(browser: Browser) -> str:
    wait_until(browser, "document.querySelector('#card-now-title') !== null")
    return str(browser.read(_text("#card-now-title")))


def _card_stands(browser: Browser, host: CountingHost) -> None:
    browser.open(f"{host.address}cards.html")
    _must_be("next step", _next_step(browser), FIRST_LOOK)
    for timer in (".card-strip .time-left", ".card-now .timer-count"):
        wait_until(browser, f"/\\d:\\d\\d/.test({_text(timer)})")
    browser.open(f"{host.address}charge-settings.html")
    wait_until(browser, "document.querySelector('#answer').dataset.state === 'answer'")
    _must_be("capacity", browser.read("document.querySelector('[name=capacity_mah]').value"), ENTRIES["capacity_mah"])


def _trouble_opens(browser: Browser, host: CountingHost) -> None:
    browser.open(f"{host.address}pack-in-trouble.html")
    _must_be("title", browser.read(_text("h1")), "Pack in trouble")
    wait_until(browser, f"/\\d:\\d\\d/.test({_text('.bar-time')})")


def _must_be(what: str, found: object, right: object) -> None:
    if found != right:
        raise JourneyFailed(f"After the browser was killed, this is not as it must be: {what}. It is {found}, and was {right}.")


def _press(browser: Browser, name: str) -> None:
    found = f"[...document.querySelectorAll('button')].find((one) => one.textContent.trim() === {json.dumps(name)} && !one.disabled)"
    wait_until(browser, f"((button) => button?.checkVisibility() && (button.click(), true))({found})")


def _text(place: str) -> str:
    return f"document.querySelector('{place}').innerText"
