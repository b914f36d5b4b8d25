"""Two packs alike, four cells of 5000 mAh each, on a charger that could do far more. A test changes what it is about."""

from __future__ import annotations

from typing import Any

from calc import answering
from calc.inputs.refusals import Problem, Refusal
from tests.units.calc.sound_charge import CHARGER, MAINS

PACK = {
    "chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "resting_v": "3.80 3.80 3.80 3.80", "pack_degc": "25",
    "label_charge_rate_c": "1", "cell_resistance_mohm": "5",
}  # fmt: skip
REST = CHARGER | MAINS | {
    "charger_power_w": "800", "charger_current_a": "40", "balance_ports": "2", "supply_v": "24", "charger_input_most_v": "28", "requested_rate_c": "1",
    "balance_plugs_into": "ports", "main_leads_into": "board", "join_length_m": "0.15", "join_area_mm2": "3.3",
}  # fmt: skip


def resting(*cell_v: float) -> dict[str, str]:
    """A pack whose cells were read, from the minus on; one voltage alone is that of all four."""
    each = cell_v * 4 if len(cell_v) == 1 else cell_v
    return {"resting_v": " ".join(f"{v:g}" for v in each)}


def entries(*packs: dict[str, str], **changes: str) -> dict[str, str]:
    """Entries for these packs, each the pack above with some changed; two of it where none is named."""
    rows = {f"packs_{number}_{name}": text for number, pack in enumerate(packs or ({}, {}), 1) for name, text in (PACK | pack).items()}
    return REST | rows | changes


def joined(key: str, *packs: dict[str, str], **changes: str) -> Any:
    """The answer of a calculator; a refusal fails the test with its sentences."""
    answer = answering.answer(key, entries(*packs, **changes))
    assert not isinstance(answer, Refusal), answer
    return answer


def problems(key: str, *packs: dict[str, str], **changes: str) -> list[Problem]:
    """Why the packs are refused."""
    refusal = answering.answer(key, entries(*packs, **changes))
    assert isinstance(refusal, Refusal), "this was answered, and not refused"
    return list(refusal.problems)
