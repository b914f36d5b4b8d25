"""The way to storage and to a cutoff, on numbers that can be followed by hand."""

from __future__ import annotations

import pytest

from calc.asking.equipment import PackEntries
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.limits import Limit
from calc.physics.readings import clear_reading
from calc.physics.storage_moves import Dial, Move, to_cutoff, to_storage

_LIMIT = Limit(1.0, "the charger")


def _pack(**changes: object) -> PackEntries:
    entries = {"chemistry": "lipo", "cells": 3, "capacity_mah": 2000, "resting_v": (12.6,), "pack_degc": 25, "label_charge_rate_c": 1}
    return PackEntries(**(entries | changes))


def _dial(current_a: float = 1.0, power_w: float | None = None) -> Dial:
    return Dial(current_a, _LIMIT, (_LIMIT,), None if power_w is None else Limit(power_w, "the charger's power"))


def _moved(way: object, *target: float, **changes: object) -> Move:
    dial = changes.pop("dial", _dial())
    pack = _pack(**changes)
    return way(pack, clear_reading(pack, CHEMISTRIES[pack.chemistry]), *target, dial)


def test_the_energy_is_the_charge_at_a_voltage_between_start_and_end() -> None:
    move = _moved(to_storage, 3.82)
    assert 3.7 * 3 < move.energy_wh.likely / move.charge_ah.likely < 4.2 * 3
    assert move.energy_wh.least <= move.energy_wh.likely <= move.energy_wh.most


def test_the_mean_current_moves_the_charge_in_the_time() -> None:
    move = _moved(to_storage, 3.82, dial=_dial(power_w=6.0))
    assert move.current_a.likely * move.time_min.likely / 60 == pytest.approx(move.charge_ah.likely, rel=1e-3)
    assert move.is_held_by_power


def test_power_that_is_never_asked_for_holds_nothing() -> None:
    assert not _moved(to_storage, 3.82, dial=_dial(power_w=100.0)).is_held_by_power
    assert not _moved(to_storage, 3.82).is_held_by_power


def test_the_power_is_that_of_the_charger_over_the_whole_way() -> None:
    # 6 W at 12.6 V is 0.476 A; it grows as the voltage falls.
    move = _moved(to_storage, 3.82, dial=_dial(power_w=6.0))
    assert 6.0 / 12.6 <= move.current_a.least < move.current_a.most < 6.0 / (3 * 3.7)


def test_a_pack_that_shows_the_cutoff_at_once_gives_nothing() -> None:
    move = _moved(to_cutoff, 3.2, resting_v=(9.63,), cell_resistance_mohm=50, dial=_dial(2.0))
    assert move.charge_ah.likely == move.time_min.likely == 0
    assert move.current_a.likely == 2.0


def test_the_bounds_of_a_cutoff_hold_the_likely_course() -> None:
    move = _moved(to_cutoff, 3.2)
    for span in (move.charge_ah, move.energy_wh, move.time_min, move.rests_cell_v):
        assert span.least <= span.likely <= span.most
