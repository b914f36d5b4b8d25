"""Take the pictures of the README: the club's pack on a phone, once it has all of Fieldslate."""

import io
from collections.abc import Callable
from pathlib import Path
from typing import Literal

from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright

from site_builder.commands import build
from site_builder.commands.serve import Server
from site_builder.harness.phone import PATIENCE_MS, PHONE, open_browser, visit
from site_builder.harness.pilot import club_entries, open_with, start_card, tick_steps, use_link
from site_builder.setting_up.browsers import find_browser
from site_builder.setting_up.checkout import DIST, ROOT
from site_builder.setting_up.running import say

PICTURES = ROOT / ".pictures"
ENTRIES = club_entries("slate-badger", "large", "field-battery")
# In this order: an example is offered only where nothing is entered yet.
SCHEMES: dict[Literal["light", "dark"], tuple[str, ...]] = {
    "light": ("ageing", "plan", "settings", "card", "packs", "trouble"),
    "dark": ("packs-dark", "settings-dark"),
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


def _answered(page: Page, address: str, key: str) -> None:
    open_with(page, address, key, ENTRIES)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer", timeout=PATIENCE_MS)
    expect(page.locator(".several")).to_be_visible(timeout=PATIENCE_MS)
    page.evaluate("scrollTo(0, 0)")


def _card(page: Page, address: str) -> None:
    page.goto(f"{address}charging-card.html")  # what was entered for the settings is asked once
    start_card(page)
    tick_steps(page, "First look", count=ENTRIES["cells"])


def _example(page: Page, address: str, key: str) -> None:
    page.goto(f"{address}{key}.html")
    page.get_by_role("link", name="Put its entries into the form").click()
    use_link(page)
    expect(page.locator("#answer")).to_have_attribute("data-state", "answer", timeout=PATIENCE_MS)
    page.locator("#answer").evaluate("one => scrollTo(0, one.getBoundingClientRect().top + scrollY - 64)")


def _packs(page: Page, address: str) -> None:
    page.goto(f"{address}my-packs.html")
    page.get_by_role("button", name="Put the club's examples in").click()
    expect(page.get_by_role("button", name="Take the club's examples out")).to_be_visible(timeout=PATIENCE_MS)
    page.goto(f"{address}index.html")
    expect(page.locator(".own-tile").nth(5)).to_be_visible(timeout=PATIENCE_MS)


OPENED: dict[str, Callable[[Page, str], object]] = {
    "trouble": lambda page, address: page.goto(address + "pack-in-trouble.html"),
    "settings": lambda page, address: _answered(page, address, "charge-settings"),
    "card": _card,
    "packs": _packs,
    "plan": lambda page, address: _example(page, address, "day-plan"),
    "ageing": lambda page, address: _example(page, address, "ageing"),
    "packs-dark": _packs,
    "settings-dark": lambda page, address: _answered(page, address, "charge-settings"),
}


def _save(page: Page, file: Path) -> None:
    taken = Image.open(io.BytesIO(page.screenshot()))
    taken.convert("RGB").quantize(_COLOURS).save(file, optimize=True)
    say(f"{file.relative_to(ROOT)}, {file.stat().st_size / 1000:.0f} kB")
