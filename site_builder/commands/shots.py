"""Take the pictures of the README: the club's pack on a phone, once it has all of Fieldslate."""

import io
from collections.abc import Callable
from pathlib import Path
from typing import Literal

from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright

from site_builder.commands import build
from site_builder.commands.serve import Server
from site_builder.harness.phone import PHONE, open_browser, visit
from site_builder.harness.pilot import club_entries, link_to, start_card, tick_steps
from site_builder.setting_up.browsers import find_browser
from site_builder.setting_up.checkout import DIST, ROOT
from site_builder.setting_up.running import say

PICTURES = ROOT / ".pictures"
ENTRIES = club_entries("slate-badger", "large", "field-battery")
SCHEMES: dict[Literal["light", "dark"], tuple[str, ...]] = {
    "light": ("settings", "course", "voltages", "card", "trouble"),
    "dark": ("home-dark",),
}
# Few colours are on a page, so few are kept: a picture stays small.
_COLOURS = 64


def run(_: list[str]) -> int:
    program = find_browser()
    build.run([])
    PICTURES.mkdir(exist_ok=True)
    with sync_playwright() as playwright, Server(DIST) as server:
        browser = open_browser(playwright, program)
        for scheme, names in SCHEMES.items():
            phone = browser.new_context(**PHONE | {"device_scale_factor": 1}, color_scheme=scheme)
            page = phone.new_page()
            visit(page, server.address)
            for name in names:
                OPENED[name](page, server.address)
                _save(page, PICTURES / f"{name}.png")
            phone.close()
        browser.close()
    return 0


def _answered(page: Page, address: str, key: str, show: str) -> None:
    page.goto(link_to(address, key, ENTRIES))
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer", timeout=60_000)
    page.locator(show).first.evaluate("one => scrollTo(0, one.getBoundingClientRect().top + scrollY - 64)")


def _card(page: Page, address: str) -> None:
    _answered(page, address, "charging-card", "#answer")
    start_card(page)
    tick_steps(page, "First look", count=ENTRIES["cells"])


OPENED: dict[str, Callable[[Page, str], object]] = {
    "settings": lambda page, address: _answered(page, address, "charge-settings", "[data-part=charge_current]"),
    "course": lambda page, address: _answered(page, address, "charge-course", ".picture"),
    "voltages": lambda page, address: _answered(page, address, "voltages", "#answer"),
    "card": _card,
    "trouble": lambda page, address: page.goto(address + "pack-in-trouble.html"),
    "home-dark": lambda page, address: page.goto(address + "index.html"),
}


def _save(page: Page, file: Path) -> None:
    taken = Image.open(io.BytesIO(page.screenshot()))
    taken.convert("RGB").quantize(_COLOURS).save(file, optimize=True)
    say(f"{file.relative_to(ROOT)}, {file.stat().st_size / 1000:.0f} kB")
