"""What becomes of a pack by its look, its warmth and its wear: the gravest finding counts."""

from __future__ import annotations

import pytest

from calc.asking.inspection import READABLE
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.looks import LOOKS, SOUND
from calc.physics.condition import (
    condition_of,
    findings_of_look,
    findings_of_temperature,
    findings_of_wear,
)
from calc.physics.findings import Act, Finding, Verdict, verdict_of, worst_first
from calc.physics.readings import clear_reading
from tests.units.calc.sound_charge import given

LIPO = CHEMISTRIES["lipo"]


def _of_temperature(pack_degc: float) -> list[Verdict]:
    return [finding.verdict for finding in findings_of_temperature(pack_degc, 20, LIPO)]


def _of_wear(**known: object) -> list[Finding]:
    return findings_of_wear(given(**{"capacity_mah": "5000"} | {name: str(value) for name, value in known.items()}))


def test_a_pack_that_nothing_was_found_on_is_fit_to_fly() -> None:
    assert findings_of_look(SOUND) == []
    assert verdict_of([]) is Verdict.FLY


@pytest.mark.parametrize("look", ["swollen", "leaking", "bent", "soaked", "overcharged", "was-hot"])
def test_a_pack_that_is_harmed_is_done(look: str) -> None:
    assert verdict_of(findings_of_look(look)) is Verdict.RETIRE


def test_a_pack_that_smokes_is_left_alone() -> None:
    assert verdict_of(findings_of_look("smoking")) is Verdict.GET_AWAY


def test_a_crash_of_today_must_show_itself_before_the_pack_is_used() -> None:
    assert verdict_of(findings_of_look("crashed")) is Verdict.READ_AGAIN
    assert verdict_of(findings_of_look("watched")) is Verdict.CHARGE_SLOWLY


def test_the_list_of_looks_runs_from_the_worst_to_the_mildest() -> None:
    verdicts = [verdict_of(findings_of_look(look)) for look in LOOKS]
    assert verdicts == sorted(verdicts, reverse=True)


def test_a_pack_whose_look_says_that_it_is_done_is_not_read() -> None:
    assert {look for look in LOOKS if verdict_of(findings_of_look(look)) < Verdict.RETIRE} | {SOUND} == set(READABLE)


@pytest.mark.parametrize("pack_degc, verdicts", [(-1, [Verdict.READ_AGAIN]), (20, []), (47, [Verdict.READ_AGAIN]), (60, [Verdict.GET_AWAY])])
def test_a_pack_that_is_too_cold_or_too_warm_waits_and_a_hot_one_is_left_alone(pack_degc: float, verdicts: list[Verdict]) -> None:
    assert _of_temperature(pack_degc) == verdicts


@pytest.mark.parametrize("measured_mah, ends", [(4001, 0), (4000, 1), (3000, 1)])
def test_four_of_five_ampere_hours_are_the_end(measured_mah: float, ends: int) -> None:
    assert len(_of_wear(measured_capacity_mah=measured_mah)) == ends


@pytest.mark.parametrize("now_mohm, ends", [(9.9, 0), (10.0, 1)])
def test_twice_the_resistance_of_the_new_pack_is_the_end(now_mohm: float, ends: int) -> None:
    assert len(_of_wear(cell_resistance_mohm=now_mohm, new_resistance_mohm=5.0)) == ends


@pytest.mark.parametrize("label_mah, held_mah", [(2650, 2120), (350, 280), (1150, 920), (3300, 2640), (70, 56), (1.1e4, 8800)])
def test_exactly_four_fifths_are_the_end_however_a_quotient_is_rounded(label_mah: float, held_mah: float) -> None:
    assert len(_of_wear(capacity_mah=label_mah, measured_capacity_mah=held_mah)) == 1


def test_the_worst_cell_counts_where_each_resistance_was_read() -> None:
    assert len(_of_wear(cells=3, cell_resistances_mohm="9 9.5 10", cell_resistance_mohm=9, new_resistance_mohm=5)) == 1


def test_a_resistance_alone_says_nothing_of_its_age() -> None:
    assert _of_wear(cell_resistance_mohm=90.0) == []


def test_findings_stand_from_the_gravest_to_the_mildest() -> None:
    mild, grave = findings_of_look("watched") + findings_of_look("bent")
    assert worst_first([mild, grave]) == (grave, mild)
