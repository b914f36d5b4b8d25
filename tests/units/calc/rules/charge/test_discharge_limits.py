"""What limits a discharge on a charger."""

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.equipment import DischargingChargerEntries, PackEntries
from calc.rules.charge.discharge_limits import discharge_current_limits, discharge_power_limit, problems_of_discharge_temperature

_CHARGER = {
    "charger_current_a": 5, "charger_power_w": 50, "charger_cells": 6, "balance_ports": 1, "port_cells": 6, "current_step_a": 0.1,
    "capacity_step_mah": 100, "charger_input_least_v": 11, "efficiency_percent": 85,
}  # fmt: skip


def _pack(**changes: object) -> PackEntries:
    entries = {"chemistry": "lipo", "cells": 3, "capacity_mah": 2000, "resting_v": (12.6,), "pack_degc": 20, "label_charge_rate_c": 1}
    return PackEntries(**(entries | changes))


def test_a_charger_and_a_label_that_say_nothing_set_no_limit() -> None:
    assert discharge_current_limits(pack=_pack(), charger=DischargingChargerEntries(**_CHARGER)) == []
    assert discharge_power_limit(DischargingChargerEntries(**_CHARGER)) is None


def test_an_aged_pack_s_label_rate_counts_from_what_it_holds() -> None:
    [limit] = discharge_current_limits(
        pack=_pack(label_discharge_rate_c=3, measured_capacity_mah=1000), charger=DischargingChargerEntries(**_CHARGER)
    )
    assert limit.ceiling == 3.0


@pytest.mark.parametrize(
    "pack_degc, air_degc, field", [(0, 20, "pack_degc"), (45, 20, "pack_degc"), (60, 20, "pack_degc"), (30, 41, "air_degc")]
)
def test_at_a_bound_the_stricter_side_holds(pack_degc: float, air_degc: float, field: str) -> None:
    pack = _pack(pack_degc=pack_degc, air_degc=air_degc)
    assert [problem.field for problem in problems_of_discharge_temperature(pack, CHEMISTRIES["lipo"])] == [field]


def test_between_them_nothing_speaks_against_it() -> None:
    assert problems_of_discharge_temperature(_pack(pack_degc=44, air_degc=40), CHEMISTRIES["lipo"]) == []


def test_every_ceiling_on_a_discharge_says_what_it_is() -> None:
    charger = DischargingChargerEntries(**_CHARGER, discharge_current_a=1, discharge_power_w=20)
    found = [*discharge_current_limits(pack=_pack(label_discharge_rate_c=3), charger=charger), discharge_power_limit(charger)]
    assert [(limit.ceiling, limit.because) for limit in found] == [
        (1, "the charger's highest discharge current"),
        (6.0, "the discharge rate on the label"),
        (20, "the charger's highest discharge power"),
    ]


@pytest.mark.parametrize(
    ("pack_degc", "air_degc", "field", "sentence", "go_to"),
    [
        (0, 20, "pack_degc", "The pack is too cold: warm it through first, indoors or in a pocket with its contacts covered.", ""),
        (45, 20, "pack_degc", "The pack is too warm: leave it in the shade until it has cooled, then measure it again.", ""),
        (60, 20, "pack_degc", "The pack is dangerously hot: do not plug it in. Get away from it, and see what to do.", "pack-in-trouble"),
        (30, 41, "air_degc", "It is too hot here to discharge on a charger: go to a cooler place, and never do it in a hot vehicle.", ""),
    ],
)
def test_a_pack_that_is_not_discharged_for_its_warmth_is_told_what_to_do(
    pack_degc: float, air_degc: float, field: str, sentence: str, go_to: str
) -> None:
    (problem,) = problems_of_discharge_temperature(_pack(pack_degc=pack_degc, air_degc=air_degc), CHEMISTRIES["lipo"])
    assert (problem.field, problem.sentence, problem.go_to) == (field, sentence, go_to)


def test_air_that_was_not_measured_forbids_nothing() -> None:
    assert problems_of_discharge_temperature(_pack(pack_degc=44), CHEMISTRIES["lipo"]) == []
