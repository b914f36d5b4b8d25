"""The page of ageing on the logs of four real cells, cut off at each point of their lives: what it says then, and what became of them.

B. Saha and K. Goebel (2007): Battery Data Set, NASA Prognostics Data Repository, NASA Ames Research Center; open, of the United States government.
Round lithium-ion cells of 2 Ah on their label, at room temperature: charged at 1.5 A to 4.2 V, discharged at 2 A to 2.7, 2.5, 2.2 and 2.5 V, the
last three lower than their maker allows, to age them fast. capacities.csv has every eighth discharge, read in an open copy and compared with
a second one for the first cell.
"""

from __future__ import annotations

import csv
from datetime import date, timedelta
from math import inf
from pathlib import Path
from typing import Any

import pytest

from calc.answering import answer
from calc.facts.ageing import TREND_MISSES_PERCENT
from calc.inputs.refusals import Refusal
from calc.rules.pack.findings import Verdict

LABEL_AH = 2.0
LEAST_LINES = 5
Log = list[tuple[int, float]]


def read_logs() -> dict[str, Log]:
    """The discharge and the capacity, Ah, of each line, by cell."""
    found: dict[str, Log] = {}
    with Path(__file__).with_name("capacities.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            found.setdefault(row["cell"], []).append((int(row["discharge"]), float(row["capacity_ah"])))
    return found


LOGS = read_logs()


def over_at(log: Log) -> int:
    """The first discharge at which a cell has four fifths of its own first capacity or less."""
    return next(discharge for discharge, capacity in log if capacity <= 0.8 * log[0][1])


def ageing_after(log: Log) -> Any:
    """What the page says of a cell whose log goes so far, a discharge a day."""
    entries = {"chemistry": "liion", "cells": "1", "capacity_mah": f"{LABEL_AH * 1000:g}"}
    before = log[0][0]
    for number, (discharge, capacity) in enumerate(log, 1):
        entries |= {
            f"lines_{number}_day": str(date(2024, 1, 1) + timedelta(days=discharge)),
            f"lines_{number}_kind": "check",
            f"lines_{number}_charges": str(discharge - before),
            f"lines_{number}_measured_capacity_mah": f"{capacity * 1000:.1f}",
        }
        before = discharge
    found = answer("ageing", entries)
    assert not isinstance(found, Refusal), found
    return found


def charges_of(left: Any) -> tuple[float, float]:
    """The least and the most charges that are said to be left; of what has no upper end, none."""
    if hasattr(left, "most"):
        return left.least.value, left.most.value
    return float(str(left.figure).replace("\u00a0", " ").removeprefix("at least ").split(" ")[0]), inf


BEFORE_THE_END = [
    pytest.param(log[:count], over_at(log) - log[count - 1][0], id=f"{cell} after {log[count - 1][0]}")
    for cell, log in LOGS.items()
    for count in range(LEAST_LINES, len(log) + 1)
    if log[count - 1][0] < over_at(log)
]


@pytest.mark.parametrize(("log", "left"), BEFORE_THE_END)
def test_a_cell_lives_for_as_long_as_was_promised(log: Log, left: int) -> None:
    least, _ = charges_of(ageing_after(log).charges_left)
    assert least <= left


def test_the_truth_is_between_the_ends_as_often_as_is_said() -> None:
    ends = [(*charges_of(ageing_after(log).charges_left), left) for log, left in (case.values for case in BEFORE_THE_END)]
    held = [least <= left <= most for least, most, left in ends]
    assert sum(held) >= (1 - TREND_MISSES_PERCENT.value / 100) * len(held)


@pytest.mark.parametrize("cell", LOGS)
def test_a_cell_is_out_of_use_from_its_end_on_and_by_the_label_before(cell: str) -> None:
    log = LOGS[cell]
    for count in range(LEAST_LINES, len(log) + 1):
        verdict = ageing_after(log[:count]).life
        share_of_label = sorted(capacity for _, capacity in log[max(count - 3, 0) : count])[1] / LABEL_AH
        if log[count - 1][0] >= over_at(log):
            assert verdict.figure == Verdict.RETIRE.words, log[count - 1]
        elif share_of_label > 0.85:
            assert verdict.may, log[count - 1]


@pytest.mark.parametrize("cell", LOGS)
def test_a_cell_that_falls_is_said_to_age_well_before_its_end(cell: str) -> None:
    log = LOGS[cell]
    warned = [ageing_after(log[:count]).life.figure for count in range(LEAST_LINES, len(log) + 1) if log[count - 1][0] < over_at(log)]
    assert warned[-1] in ("Near its end", Verdict.RETIRE.words)
    assert next(words for words in warned if words != "Steady so far") == "Ageing"
