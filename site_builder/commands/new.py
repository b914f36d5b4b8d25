"""Write the skeleton of something new, which runs as it stands: new calculator NAME.

A calculator's is its module, its page and its unit test. Its words say what to write in their place, and a test of the rules
names each that was left.
"""

import argparse
import keyword
import re
from pathlib import Path
from string import Template

from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.running import say

# Begins each text that somebody has to write: no page or module that still holds it is finished.
TO_WRITE = "Write here"

_NAME = re.compile(r"[a-z]+(?:_[a-z]+)*")
_LONGEST_SHORT_NAME = 12

_MODULE = Template('''\
"""$to_write the question that the page answers, as a pilot would ask it?

$to_write which limit binds, and what is assumed.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import AMPERES, RATE, Figure
from calc.figures.rounding import down_to_step
from calc.figures.showing import Setting, shown
from calc.inputs.equipment import PACK, ChargerEntries, PackEntries
from calc.inputs.fields import number, same_as
from calc.inputs.refusals import Problem, Refused
from calc.physics.pack.packs import current_at_rate_a


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """$to_write what is asked. What other pages ask too is taken from them, so that it is typed once."""

    capacity_mah: float = same_as(PackEntries, "capacity_mah")
    current_step_a: float = same_as(ChargerEntries, "current_step_a")
    requested_rate_c: float = number("Rate you want", RATE, group=PACK, least=0.05, most=20, starts_as="1", asked_as="the rate you want")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """$to_write what is answered."""

    current: Setting = shown("Current at that rate", "What to set")


def work_out(given: Inputs) -> Answer:
    """Return the current at the rate, rounded down to what can be set, or refuse where that is nothing."""
    current_a = down_to_step(current_at_rate_a(capacity_mah=given.capacity_mah, rate_c=given.requested_rate_c), given.current_step_a)
    if current_a == 0:
        raise Refused(Problem("current_step_a", "Not even one step of current is within that rate. Ask for more, or use a charger with finer steps."))
    return Answer(current=Setting(figure=Figure(current_a, AMPERES.to_step(given.current_step_a), "down"), set_by="the rate you asked for"))
''')

_PAGE = Template("""\
+++
title = "$title"
short = "$short"
teaser = "$to_write in one sentence what the page is for."
section = "packs"
description = "$to_write in one sentence what the page works out, and from what."
order = $order
calculator = "$name"
lead = "$to_write what to copy or measure before the form is filled in."

[worked_example]
pack = "$pack"
charger = "$charger"
+++

## How to read the answer

- **$to_write what the first line means,** and what to do with it. A number in these words needs its source beside it.

## What it does not know

- **$to_write what it leaves out,** so that nobody trusts it further than it reaches.
""")

_TEST = Template('''\
"""$to_write what the tests below show, in one line."""

from __future__ import annotations

from typing import Any

from calc.answering import answer
from calc.inputs.refusals import Refusal

ENTRIES = {"capacity_mah": "2650", "current_step_a": "0.1", "requested_rate_c": "1"}


def worked_out(**changes: str) -> Any:
    found = answer("$name", ENTRIES | changes)
    assert not isinstance(found, Refusal), found
    return found


def refused(**changes: str) -> tuple[str, ...]:
    found = answer("$name", ENTRIES | changes)
    assert isinstance(found, Refusal), "this was answered, and not refused"
    return tuple(problem.field for problem in found.problems)


def test_the_current_is_never_above_the_rate() -> None:
    # Once 2.65 Ah in an hour is 2.65 A: on a dial of tenths, 2.6 A.
    assert worked_out().current.figure.number == "2.6"


def test_a_dial_without_a_step_that_is_small_enough_is_refused() -> None:
    assert refused(capacity_mah="50") == ("current_step_a",)
''')


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder new", description=__doc__)
    parser.add_argument("kind", choices=["calculator"])
    parser.add_argument("name", help="its key, in small letters with underscores: warming_box")
    asked = parser.parse_args(arguments)
    module, page, test = new_calculator(asked.name, ROOT)
    say(
        f"Written, and it runs as it stands: {module}, {page} and {test}.\n"
        f"Next: write your own entries, answer and formula in {module}, and its words in {page}; DEVELOPERS.md says how.\n"
        f"Each place that waits for words begins with “{TO_WRITE}”; the quick tests name those that are left.\n"
        f"Hold one of its values against a source outside, in tests/published, and name {asked.name} on the map in DEVELOPERS.md.\n"
        "See it: python3 -m site_builder serve"
    )
    return 0


def new_calculator(name: str, root: Path) -> tuple[Path, Path, Path]:
    """Write a calculator's module, page and unit test below `root`, and return their paths from there.

    Raises:
        SetUpFailed: the name is no key, or one of the files is there already. Nothing is written then.
    """
    if not _NAME.fullmatch(name) or keyword.iskeyword(name):
        example = re.sub(r"[^a-z]+", "_", name.lower()).strip("_")
        better = example if _NAME.fullmatch(example) and not keyword.iskeyword(example) else "warming_box"
        raise SetUpFailed(f"“{name}” cannot name a calculator: small letters with single underscores between words, as in {better}.")
    hyphened = name.replace("_", "-")
    title = name.replace("_", " ").capitalize()
    pages = root / "content" / "pages"
    words = {
        "name": name,
        "title": title,
        "short": title[:_LONGEST_SHORT_NAME].rstrip(),
        "order": str(_free_order(pages)),
        "pack": _first_of("packs", root),
        "charger": _first_of("chargers", root),
        "to_write": TO_WRITE,
    }
    files = {
        Path("calc", "calculators", f"{name}.py"): _MODULE,
        Path("content", "pages", f"{hyphened}.md"): _PAGE,
        Path("tests", "units", "calc", "calculators", f"test_{name}.py"): _TEST,
    }
    for path in files:
        if (root / path).exists():
            raise SetUpFailed(f"{path} is there already. Choose another name, or take that file away first. Nothing was written.")
    for path, skeleton in files.items():
        (root / path).write_text(skeleton.substitute(words), encoding="utf-8")
    module, page, test = files
    return module, page, test


def _free_order(pages: Path) -> int:
    """Return a place in the navigation behind all others."""
    orders = (re.search(r"^order = (\d+)$", page.read_text(encoding="utf-8"), re.MULTILINE) for page in pages.glob("*.md"))
    return max(int(order[1]) for order in orders if order) + 1


def _first_of(things: str, root: Path) -> str:
    """Return the key of the first of the club's packs or chargers."""
    found = re.search(rf"^\[{things}\.([a-z-]+)\]$", (root / "content" / "club.toml").read_text(encoding="utf-8"), re.MULTILINE)
    if not found:
        raise SetUpFailed(f"content/club.toml names no {things}: the worked example needs one.")
    return found[1]
