"""A charge in which only the pack's own label binds. A test changes the entry that it is about, and nothing else."""

from __future__ import annotations

from calc import answering
from calc.calculators import charge_settings
from calc.inputs.refusals import Problem, Refusal

# Three cells of 2650 mAh, about half full, looked over and read cell by cell, a charger that could do far more, and a stiff mains supply on a short thick lead.
PACK = {
    "chemistry": "lipo",
    "cells": "3",
    "capacity_mah": "2650",
    "resting_v": "3.8 3.8 3.8",
    "look": "sound",
    "read_when": "rested",
    "pack_degc": "20",
    "label_charge_rate_c": "1",
    "requested_rate_c": "1",
}
CHARGER = {
    "charger_current_a": "10",
    "charger_power_w": "300",
    "charger_cells": "8",
    "balance_ports": "1",
    "port_cells": "8",
    "current_step_a": "0.1",
    "capacity_step_mah": "100",
    "charger_input_least_v": "10",
    "efficiency_percent": "85",
}
MAINS = {"supply_kind": "mains", "supply_v": "13.8", "supply_current_a": "40", "lead_length_m": "0.5", "lead_area_mm2": "16 mm²"}
BATTERY = {
    "supply_kind": "battery",
    "battery_kind": "flooded",
    "battery_ah": "70",
    "battery_resting_v": "12.65",
    "lead_length_m": "0.5",
    "lead_area_mm2": "16 mm²",
}
VEHICLE = BATTERY | {"supply_kind": "vehicle"}
ENTRIES = PACK | CHARGER | MAINS
SIX_CELLS = {"cells": "6", "capacity_mah": "5000", "resting_v": "22.8"}


def given(**changes: str) -> charge_settings.Inputs:
    """The entries of the sound charge with some changed, read."""
    return answering.read(charge_settings.Inputs, ENTRIES | changes)


def settings(**changes: str) -> charge_settings.Answer:
    """The settings of the sound charge with some entries changed; a refusal fails the test with its sentences."""
    answer = answering.answer("charge_settings", ENTRIES | changes)
    assert not isinstance(answer, Refusal), answer
    return answer


def problems(**changes: str) -> tuple[Problem, ...]:
    """Why the sound charge is refused once some entries are changed."""
    refusal = answering.answer("charge_settings", ENTRIES | changes)
    assert isinstance(refusal, Refusal), "this was answered, and not refused"
    return refusal.problems


def problem(**changes: str) -> Problem:
    """The only problem with the sound charge once some entries are changed."""
    (only,) = problems(**changes)
    return only
