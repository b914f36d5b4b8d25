"""The questions that both sides are asked: the worked examples, the club's things in every combination, and what hypothesis draws.

The draw has a fixed seed, so both sides, and every run, are asked the same.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from itertools import product

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.strategies import SearchStrategy

from calc.answering import calculator
from calc.inputs.fields import entries_of
from calc.figures.quantities import UNITS
from site_builder.building.site import CONTENT
from site_builder.reading.club import read_club
from site_builder.reading.pages import read_pages
from tests.properties.typed_entries import KEYS, SLIPS, Entries, charges, in_rows, nearly_charges

SOUND, SPOILT = 60, 20  # drawn for each calculator


@dataclass(frozen=True)
class Case:
    """A calculator's key and entries, and the page whose baked example it is, if it is one."""

    key: str
    entries: Entries
    page: str = ""
    units: dict[str, str] = field(default_factory=dict)


@cache
def cases() -> list[Case]:
    return [*_worked_examples(), *_in_other_units(), *_of_the_club(), *_slips(), *_drawn(charges(), SOUND), *_drawn(nearly_charges(), SPOILT)]


def _typed(key: str, entries: Entries) -> Entries:
    """The entries as the form sends them: what it shows at first stands for what is not entered."""
    starts = {name: entry.starts_as for name, entry in entries_of(calculator(key).Inputs).items() if entry.starts_as}
    return starts | entries


def _worked_examples() -> list[Case]:
    return [
        Case(page.calculator, _typed(page.calculator, page.worked_example), page.address)
        for page in read_pages(CONTENT)
        if page.calculator
    ]


def _in_other_units() -> list[Case]:
    """Each worked example in every unit that can be chosen."""
    choices = [{kind: unit.suffix} for kind, units in UNITS.items() for unit in units]
    return [Case(case.key, case.entries, units=units) for case, units in product(_worked_examples(), choices)]


def _of_the_club() -> list[Case]:
    club = read_club(CONTENT / "club.toml")
    things = product(KEYS, club.packs.values(), club.chargers.values(), club.supplies.values())
    return [
        Case(key, _typed(key, pack.entries() | in_rows(pack.entries()) | charger.entries() | supply.entries()))
        for key, pack, charger, supply in things
    ]


def _slips() -> list[Case]:
    """Each slip in one entry of a worked example, calculators and entries in turn."""
    sound = {case.key: case for case in _worked_examples()}
    found = []
    for place, text in enumerate(text for text in SLIPS if _can_be_sent({"": text})):
        turn, key = place // len(KEYS), KEYS[place % len(KEYS)]
        asked = list(entries_of(calculator(key).Inputs))
        found.append(Case(key, sound[key].entries | {asked[turn % len(asked)]: text}))
    return found


def _drawn(strategy: SearchStrategy[Entries], count: int) -> list[Case]:
    found: list[Entries] = []

    @settings(
        derandomize=True, database=None, deadline=None, max_examples=count * len(KEYS), phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(strategy)
    def draw(entries: Entries) -> None:
        found.append(entries)

    draw()
    return [Case(KEYS[place % len(KEYS)], entries) for place, entries in enumerate(found) if _can_be_sent(entries)]


def _can_be_sent(entries: Entries) -> bool:
    """Half of a pair of code units has no bytes to send it in."""
    return all(character < "\ud800" or character > "\udfff" for text in entries.values() for character in text)
