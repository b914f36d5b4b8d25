"""What limits a discharge on a charger."""

import pytest

from calc.asking.equipment import ChargerEntries, PackEntries
from calc.facts.chemistries import CHEMISTRIES
from calc.physics.discharge_limits import discharge_current_limits, discharge_power_limit, problems_of_discharge_temperature

_CHARGER = {
    "charger_current_a": 5, "charger_power_w": 50, "charger_cells": 6, "balance_ports": 1, "port_cells": 6, "current_step_a": 0.1,
    "capacity_step_mah": 100, "charger_input_least_v": 11, "efficiency_percent": 85,
}  # fmt: skip


def _pack(**changes: object) -> PackEntries:
    entries = {"chemistry": "lipo", "cells": 3, "capacity_mah": 2000, "resting_v": (12.6,), "pack_degc": 20, "label_charge_rate_c": 1}
    return PackEntries(**(entries | changes))


def test_a_charger_and_a_label_that_say_nothing_set_no_limit() -> None:
    assert discharge_current_limits(_pack(), ChargerEntries(**_CHARGER)) == []
    assert discharge_power_limit(ChargerEntries(**_CHARGER)) is None


def test_an_aged_pack_s_label_rate_counts_from_what_it_holds() -> None:
    [limit] = discharge_current_limits(_pack(label_discharge_rate_c=3, measured_capacity_mah=1000), ChargerEntries(**_CHARGER))
    assert limit.ceiling == 3.0


@pytest.mark.parametrize("pack_degc, air_degc, field", [(0, 20, "pack_degc"), (45, 20, "pack_degc"), (60, 20, "pack_degc"), (30, 41, "air_degc")])
def test_at_a_bound_the_stricter_side_holds(pack_degc: float, air_degc: float, field: str) -> None:
    pack = _pack(pack_degc=pack_degc, air_degc=air_degc)
    assert [problem.field for problem in problems_of_discharge_temperature(pack, CHEMISTRIES["lipo"])] == [field]


def test_between_them_nothing_speaks_against_it() -> None:
    assert problems_of_discharge_temperature(_pack(pack_degc=44, air_degc=40), CHEMISTRIES["lipo"]) == []
