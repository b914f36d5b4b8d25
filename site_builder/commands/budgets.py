"""Print how long the pages are on a phone, and how many taps lead to what is wanted, beside the most that each may be."""

import argparse
from collections.abc import Iterable
from itertools import chain
from math import ceil, isfinite

from playwright.sync_api import sync_playwright

from site_builder.commands import build
from site_builder.commands.serve import Server
from site_builder.harness.phone import PHONE, open_browser, visit
from site_builder.measuring.budgets import Budget, lengths
from site_builder.measuring.flows import flows
from site_builder.setting_up.browsers import find_browser
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.running import say


def run(arguments: list[str]) -> int:
    argparse.ArgumentParser(prog="python3 -m site_builder budgets", description=__doc__).parse_args(arguments)
    program = find_browser()
    build.run([])
    with sync_playwright() as playwright, Server(DIST) as server:
        browser = open_browser(playwright, program)
        page = browser.new_context(**PHONE).new_page()
        visit(page, server.address)
        code = told(chain(flows(page, server.address), lengths(page, server.address)))
        browser.close()
    return code


def told(budgets: Iterable[Budget]) -> int:
    """Print a line for each as it is measured; return 1 if one is not held."""
    say(f"{'':66} {'measured':>24} {'at most':>24}")
    held = []
    for one in budgets:
        held.append(one.is_held)
        say(f"{one.what:66} {_amount(one.found, one.unit):>24} {_amount(one.most, one.unit):>24}{'' if one.is_held else '  NOT HELD'}")
    over = held.count(False)
    say(f"{over} of {len(held)} {'is' if over == 1 else 'are'} not held" if over else "all held")
    return 1 if over else 0


def _amount(number: float, unit: str) -> str:
    return f"{ceil(number):,} {unit}" if isfinite(number) else "never"
