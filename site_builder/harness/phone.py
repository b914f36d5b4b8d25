"""A phone to try Fieldslate on: Chromium at a phone's size. The tests, the pictures and the measurements share it."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, Playwright, ViewportSize, expect

SIZE: ViewportSize = {"width": 390, "height": 844}
PHONE: dict[str, Any] = {"viewport": SIZE, "device_scale_factor": 2, "is_mobile": True, "has_touch": True}

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

ALL_SAVED = "Everything is on this phone."
READY = "Ready. Enter your pack."

# A first visit on a busy machine takes longer than the five seconds that Playwright grants by itself.
PATIENCE_MS = 60_000


def open_browser(playwright: Playwright, program: str | Path, flags: Sequence[str] = FLAGS) -> Browser:
    return playwright.chromium.launch(executable_path=program, args=[*flags])


def visit(page: Page, address: str) -> None:
    """Open the first page and wait until all of Fieldslate is on the phone."""
    page.goto(address)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED, timeout=PATIENCE_MS)


def wait_for_engine(page: Page, words: str = READY) -> None:
    """Wait until the calculator of the open page says `words`."""
    expect(page.locator("#engine-state")).to_have_text(words, timeout=PATIENCE_MS)
