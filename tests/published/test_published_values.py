"""calc against what standards, laws, handbooks and the trade print: one TOML file for each source, beside this module.

A value agrees to half of the last digit that the source prints; a whole number or a word agrees exactly. A file or a case
that agrees less well has a tolerance, and `less_well` says how much and why.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.sources import SOURCES
from tests.published import checks

CHECKS: dict[str, Callable[..., dict[str, Any]]] = {
    "ageing_compared": checks.ageing_compared,
    "allowed_current": checks.allowed_current,
    "apart_in_series": checks.apart_in_series,
    "battery_state": checks.battery_state,
    "battery_voltages": checks.battery_voltages,
    "blade_fuse": checks.blade_fuse,
    "cabin": checks.cabin,
    "capacitor_through_resistor": checks.capacitor_through_resistor,
    "cell_limits": checks.cell_limits,
    "charge_by_temperature": checks.charge_by_temperature,
    "cold_battery": checks.cold_battery,
    "degrees": checks.degrees,
    "end_of_life_by_capacity": checks.end_of_life_by_capacity,
    "flexible_wire": checks.flexible_wire,
    "plain_wire": checks.plain_wire,
    "freight_charge": checks.freight_charge,
    "full_charge": checks.full_charge,
    "fuse_by_law": checks.fuse_by_law,
    "gauge_of_area": checks.gauge_of_area,
    "hot_length": checks.hot_length,
    "lamp_at_share": checks.lamp_at_share,
    "lead_drop": checks.lead_drop,
    "calendar_loss": checks.calendar_loss,
    "cycle_loss": checks.cycle_loss,
    "next_one": checks.next_one,
    "next_resistor": checks.next_resistor,
    "heat_of_flight": checks.heat_of_flight,
    "lumped_heat": checks.lumped_heat,
    "nickel_cell": checks.nickel_cell,
    "pack_energy": checks.pack_energy,
    "peukert": checks.peukert,
    "refill": checks.refill,
    "resistance_above_the_others": checks.resistance_above_the_others,
    "resistor_heat": checks.resistor_heat,
    "resistor_load": checks.resistor_load,
    "road": checks.road,
    "share_in_the_cold": checks.share_in_the_cold,
    "side_by_side": checks.side_by_side,
    "rate_and_current": checks.rate_and_current,
    "solid_drop": checks.solid_drop,
    "solid_wire": checks.solid_wire,
    "student_t": checks.student_t,
    "supply_current": checks.supply_current,
    "thinnest_gauge": checks.thinnest_gauge,
    "two_loads": checks.two_loads,
}
STATUSES = ("read", "read in a text that reproduces it", "computed from it", "from memory", "common practice")

# As `Decimal`, a number keeps the digits that the source prints: 25.50 is not 25.5.
FILES = {
    path.name: tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal) for path in sorted(Path(__file__).parent.glob("*.toml"))
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One printed row: what is given, and what the source says follows from it."""

    file: str
    checks: str
    given: dict[str, Any]
    expect: dict[str, Any]
    tolerance: dict[str, Any]

    def __str__(self) -> str:
        return f"{self.file} {self.checks} {' '.join(f'{name}={value}' for name, value in self.given.items())}"

    def expected(self, name: str) -> Any:
        """The printed value, with as much room as its digits or the file's tolerance leave."""
        printed = self.expect[name]
        if name in self.tolerance:
            return pytest.approx(float(printed), abs=float(self.tolerance[name]))
        if isinstance(printed, Decimal):
            half_of_last_digit = 0.5 * 10.0 ** printed.as_tuple().exponent
            return pytest.approx(float(printed), abs=half_of_last_digit * (1 + 1e-9))
        return printed


def _cases() -> list[Case]:
    return [
        Case(
            file=name,
            checks=case.get("checks", file.get("checks")),
            given={key: float(value) if isinstance(value, Decimal) else value for key, value in case["given"].items()},
            expect=case["expect"],
            tolerance=file.get("tolerance", {}) | case.get("tolerance", {}),
        )
        for name, file in FILES.items()
        for case in file["case"]
    ]


CASES = _cases()


@pytest.mark.parametrize("case", CASES, ids=str)
def test_calc_gives_what_the_source_prints(case: Case) -> None:
    assert case.checks in CHECKS, (
        f'tests/published/{case.file} asks for `checks = "{case.checks}"`: write that function in tests/published/checks.py and name it in CHECKS here'
    )
    ours = CHECKS[case.checks](**case.given)
    assert {name: ours[name] for name in case.expect} == {name: case.expected(name) for name in case.expect}


@pytest.mark.parametrize("name", FILES)
def test_a_file_says_where_its_values_come_from_and_how_sure_they_are(name: str) -> None:
    file = FILES[name]
    assert file["source"] in SOURCES or " " in file["source"], f"{name}: name a key of calc.facts.sources, or spell the source out"
    assert file["where"]
    stated = {file["status"], *(case["status"] for case in file["case"] if "status" in case)}
    assert stated <= set(STATUSES), f"{name}: `status` must be one of {', '.join(STATUSES)}"


@pytest.mark.parametrize("name", FILES)
def test_a_value_that_agrees_less_well_says_why(name: str) -> None:
    file = FILES[name]
    unexplained = [part for part in (file, *file["case"]) if part.get("tolerance") and not part.get("less_well")]
    assert unexplained == [], f"{name}: write `less_well`, how much less well calc agrees and why"


def test_every_check_is_used() -> None:
    assert {case.checks for case in CASES} == set(CHECKS)


@pytest.mark.parametrize("key", CHEMISTRIES)
def test_the_voltages_of_each_chemistry_are_held_against_a_source(key: str) -> None:
    held = [case for case in CASES if case.checks == "cell_limits" and case.given["chemistry"] == key]
    assert held, f"no voltage of {key} is held against a source: add a case of `cell_limits` to a file of tests/published"
