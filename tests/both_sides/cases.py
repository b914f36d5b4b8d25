"""The questions that both sides are asked: the worked examples, the club's things in every combination, and what hypothesis draws.

Both sides, and every run, alone or among others, are asked the same.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass, field
from functools import cache
from itertools import product
from typing import Any

from calc.answering import calculator
from calc.figures.quantities import UNITS
from calc.inputs.equipment import ChargerEntries, LabelledPack, PackEntries
from calc.inputs.fields import entries_of
from calc.inputs.supply import SupplyEntries
from site_builder.engine.answer import respond_in_json
from site_builder.harness.content import CLUB, PAGES
from site_builder.reading.club import read_club
from site_builder.setting_up.checkout import ROOT
from tests.both_sides import drawing
from tests.properties.typed_entries import GROWING_KEYS, KEYS, SLIPS, Entries, in_rows


@dataclass(frozen=True)
class Case:
    """A calculator's key and entries, and the page whose baked example it is, if it is one."""

    key: str
    entries: Entries
    page: str = ""
    units: dict[str, str] = field(default_factory=dict)


@cache
def cases() -> list[Case]:
    return [*worked_examples(), *_partly_entered(), *_in_other_units(), *_of_the_club(), *_on_two_outputs(), *_slips(), *_drawn()]


def answers_here(questions: list[Case]) -> list[dict[str, Any]]:
    return [json.loads(respond_in_json(one.key, json.dumps(one.entries), json.dumps(one.units))) for one in questions]


def _typed(key: str, entries: Entries) -> Entries:
    """The entries as the form sends them: what it shows at first stands for what is not entered."""
    starts = {name: entry.starts_as for name, entry in entries_of(calculator(key).Inputs).items() if entry.starts_as}
    return starts | entries


@cache
def worked_examples() -> list[Case]:
    return [Case(page.calculator, _typed(page.calculator, page.worked_example), page.address) for page in PAGES if page.calculator]


def _partly_entered() -> list[Case]:
    """The worked example of each calculator whose answer grows: without the supply, without the charger too, and not even read."""
    found = []
    for case in worked_examples():
        if case.key not in GROWING_KEYS:
            continue
        for left_out in ((SupplyEntries,), (SupplyEntries, ChargerEntries), (SupplyEntries, ChargerEntries, PackEntries)):
            away = {name for one in left_out for name in entries_of(one)} - entries_of(LabelledPack).keys() | (
                {name for name in case.entries if name.endswith(("resting_v", "pack_degc"))} if PackEntries in left_out else set()
            )
            found.append(Case(case.key, {name: text for name, text in case.entries.items() if name not in away}))
    return found


def _in_other_units() -> list[Case]:
    """Each worked example in every unit that can be chosen."""
    choices = [{kind: unit.suffix} for kind, units in UNITS.items() for unit in units]
    return [Case(case.key, case.entries, units=units) for case, units in product(worked_examples(), choices)]


def _of_the_club() -> list[Case]:
    club = read_club(CLUB)
    things = product(KEYS, club.packs.values(), club.chargers.values(), club.supplies.values())
    return [
        Case(key, _typed(key, pack.entries() | in_rows(pack.entries()) | charger.entries() | supply.entries()))
        for key, pack, charger, supply in things
    ]


def _on_two_outputs() -> list[Case]:
    """Each plan on two outputs that differ, watched together and one at a time."""
    ways = product([case for case in worked_examples() if "watched_charges" in case.entries], "12")
    unlike = {"charger_outputs": "2", "second_charger": "same", "second_output_current_a": "3"}
    return [Case(case.key, case.entries | unlike | {"watched_charges": watched}) for case, watched in ways]


def _slips() -> list[Case]:
    """Each slip in one entry of a worked example, calculators and entries in turn."""
    sound = {case.key: case for case in worked_examples()}
    found = []
    for place, text in enumerate(text for text in SLIPS if _can_be_sent({"": text})):
        turn, key = place // len(KEYS), KEYS[place % len(KEYS)]
        asked = list(entries_of(calculator(key).Inputs))
        found.append(Case(key, sound[key].entries | {asked[turn % len(asked)]: text}))
    return found


def _drawn() -> list[Case]:
    """What hypothesis draws, for each of the calculators in turn."""
    command = [sys.executable, "-m", drawing.__name__]
    told = subprocess.run(command, cwd=ROOT, env=os.environ | {"PYTHONHASHSEED": "0"}, check=True, capture_output=True, text=True).stdout
    return [
        Case(KEYS[place % len(KEYS)], entries) for drawn in json.loads(told) for place, entries in enumerate(drawn) if _can_be_sent(entries)
    ]


def _can_be_sent(entries: Entries) -> bool:
    """Half of a pair of code units has no bytes to send it in."""
    return all(character < "\ud800" or character > "\udfff" for text in entries.values() for character in text)
