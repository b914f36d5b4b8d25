"""Measure starts, answers, bytes and memory in one run and one browser, against a bare Pyodide boot: ratios are the result.

All of it twice: with the machine as it is, and with the browser on one core that it shares with three busy loops, which
stands in for a slow phone. A start with no signal has the host stopped.
"""

import argparse
import json
import statistics
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from site_builder.building.offline import first_visit_bytes
from site_builder.commands import build
from site_builder.harness.phone import open_browser
from site_builder.measuring.answers import keys, keys_in_cpython, ways
from site_builder.measuring.machine import can_crowd, crowded_core, in_words, started_on
from site_builder.measuring.plans import plans
from site_builder.measuring.search import finds
from site_builder.measuring.starts import BARE, EMPTY, EMPTY_KEPT, bytes_of_a_first_visit, memory, starts
from site_builder.setting_up.browsers import find_browser
from site_builder.setting_up.checkout import CACHE, DIST
from site_builder.setting_up.running import say

AS_IT_IS = "the machine as it is"
CROWDED = "one core, shared with three busy loops"


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder bench", description=__doc__)
    parser.add_argument("--rounds", type=int, default=5, help="rounds of each start, 5 if not given")
    parser.add_argument("--json", type=Path, default=CACHE / "bench.json", help="where the figures go")
    asked = parser.parse_args(arguments)

    program = find_browser()
    build.run([])
    found = _once(program)
    _print_once(found)
    found["ms"] = {AS_IT_IS: _measured(program, asked.rounds, None) | keys_in_cpython(say)}
    _print_profile(AS_IT_IS, found["ms"][AS_IT_IS])
    if can_crowd():
        with crowded_core() as core:
            found["ms"][CROWDED] = _measured(program, asked.rounds, core)
        _print_profile(CROWDED, found["ms"][CROWDED])
    asked.json.parent.mkdir(parents=True, exist_ok=True)
    asked.json.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    return 0


def _measured(program: Path, rounds: int, core: int | None) -> dict[str, list[float]]:
    with started_on(core):
        playwright = sync_playwright().start()
        browser = open_browser(playwright, program)
    try:
        return starts(browser, rounds, say) | ways(browser, say) | finds(browser, say) | keys(browser, say) | plans(browser, say)
    finally:
        browser.close()
        playwright.stop()


def _once(program: Path) -> dict[str, Any]:
    with sync_playwright() as playwright:
        browser = open_browser(playwright, program)
        found = {
            "machine": in_words(browser),
            "bytes of a first visit": {"built": first_visit_bytes(DIST), "sent": bytes_of_a_first_visit(browser)},
            "MB of memory": memory(browser),
        }
        browser.close()
    return found


def _print_once(found: dict[str, Any]) -> None:
    say(found["machine"])
    built, sent = found["bytes of a first visit"].values()
    say(f"a first visit: {built / 1e6:.2f} MB built, {sent / 1e6:.2f} MB sent, by a host that compresses nothing")
    for what, megabytes in found["MB of memory"].items():
        say(f"memory of {what}: " + ("not told here" if megabytes is None else f"{megabytes:.0f} MB"))


def _print_profile(profile: str, taken: dict[str, list[float]]) -> None:
    say(f"\n{profile:50} {'n':>4} {'median':>10} {'range':>18} {'p95':>10} {'ratio':>7} to")
    for name, values in taken.items():
        _print_row(name, values, taken)


def _print_row(name: str, values: list[float], taken: dict[str, list[float]]) -> None:
    measure = _held_against(name)
    middle, late = statistics.median(values), sorted(values)[int(0.95 * (len(values) - 1))]
    ratio = middle / statistics.median(taken[measure])
    span = f"{min(values):.1f} to {max(values):.1f}"
    say(f"{name:50} {len(values):4} {middle:7.1f} ms {span:>18} {late:7.1f} ms {ratio:7.3f} {measure}")


def _held_against(name: str) -> str:
    """A page is painted as soon as an empty one that comes the same way; everything else takes a part of a bare boot."""
    if not name.endswith("first paint"):
        return BARE
    return EMPTY if name.startswith(("empty page from its host", "first visit")) else EMPTY_KEPT
