"""The frozen reference runs, read once: their cells, their cases, which are held back, and by how much we may differ.

A third of the charges is held back: of each set, at each temperature, up to 1C and above, the runs by rate and start stand in
the order of the SHA-256 of their names. The second of every three, with all of its cut-offs, has no part in any fit.
"""

from __future__ import annotations

import csv
import tomllib
from collections import defaultdict
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

import pytest

from calc.physics.cell.cells import Cell, cell_on_charge

HERE = Path(__file__).parent
_FACTS = tomllib.loads((HERE / "sets.toml").read_text(encoding="utf-8"))
SETS = _FACTS["set"]
TOLERANCE = _FACTS["tolerance"]
MISSES = tomllib.loads((HERE / "misses.toml").read_text(encoding="utf-8"))["miss"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One reference run. Rates are relative to `capacity_ah`; `until_cell_v` ends a discharge or is held on charge."""

    set_name: str
    kind: str
    degc: float
    capacity_ah: float
    rate_c: float
    current_a: float
    start_state: float
    resting_cell_v: float
    until_cell_v: float
    taper_rate_c: float
    time_min: float
    constant_current_min: float
    state_at_limit: float
    capacity_ah_moved: float
    energy_wh: float

    @property
    def course(self) -> str:
        """Its name without the cut-off: a run to a tenth is the run to a fifth that went on."""
        return f"{self.set_name} {self.kind} {self.rate_c:g}C from {self.start_state:g}, {self.degc:g} degC"

    def __str__(self) -> str:
        course = f"{self.set_name} {self.kind} {self.rate_c:g}C from {self.start_state:g} to {self.until_cell_v:g} V"
        return f"{course}, cut-off {self.taper_rate_c:g}C, {self.degc:g} degC"


def _read_runs() -> tuple[Run, ...]:
    with (HERE / "runs.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            Run(
                set_name=row["set"],
                kind=row["kind"],
                degc=float(row["temp_c"]),
                capacity_ah=float(row["capacity_ah"]),
                rate_c=float(row["rate_c"]),
                current_a=float(row["current_a"]),
                start_state=float(row["soc0"]),
                resting_cell_v=float(row["v_rest0"]),
                until_cell_v=float(row["v_limit"]),
                taper_rate_c=float(row["taper_c"] or 0),
                time_min=float(row["t_total_s"]) / 60,
                constant_current_min=float(row["t_cc_s"] or 0) / 60,
                state_at_limit=float(row["soc_cc_end"] or 0),
                capacity_ah_moved=abs(float(row["ah_total"])),
                energy_wh=abs(float(row["wh_total"])),
            )
            for row in csv.DictReader(file)
        )


def _read_resting() -> dict[str, tuple[float, ...]]:
    with (HERE / "resting.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {name: tuple(float(row[name]) for row in rows) for name in rows[0] if name != "soc"}


def _held_back(runs: tuple[Run, ...]) -> frozenset[str]:
    courses = defaultdict(set)
    for run in runs:
        if run.kind == "charge":
            courses[run.set_name, run.degc, run.rate_c > 1].add(run.course)
    in_order = (sorted(names, key=lambda name: sha256(name.encode()).hexdigest()) for names in courses.values())
    return frozenset(name for names in in_order for name in names[1::3])


RUNS = _read_runs()
FINE_RESTING = _read_resting()
HELD_BACK = _held_back(RUNS)


def curve_of(set_name: str) -> tuple[float, ...]:
    """The set's resting voltages at 41 points."""
    return FINE_RESTING[SETS[set_name].get("resting", set_name)][::5]


def runs_of(kind: str, *sets: str, highest_rate_c: float = 1.0, degc: float = 25.0) -> list[Run]:
    """The runs of some sets, up to a rate, at one temperature; of all sets where none is named."""
    return [
        run for run in RUNS if run.kind == kind and run.degc == degc and run.rate_c <= highest_rate_c and (run.set_name in sets or not sets)
    ]


def plain_cell(run: Run, resistance_ohm_ah: float) -> Cell:
    """The cell of a run with one resistance, as it discharges."""
    return Cell(curve=curve_of(run.set_name), capacity_ah=run.capacity_ah, resistance_ohm_ah=resistance_ohm_ah)


def charged_cell(run: Run, resistance_ohm_ah: float, chemistry_key: str | None = None) -> Cell:
    """The cell of a run as it charges, of its own chemistry where no other is named."""
    key = chemistry_key or SETS[run.set_name]["chemistry"]
    return cell_on_charge(key, curve_of(run.set_name), capacity_ah=run.capacity_ah, resistance_ohm_ah=resistance_ohm_ah)


def is_held_back(run: Run) -> bool:
    """Whether nothing was fitted to this run."""
    return run.course in HELD_BACK


def percent_off(ours: float, theirs: float) -> float:
    """How far we are off, in per cent of theirs, without sign."""
    return abs(ours / theirs - 1) * 100


def percent_outside(least: float, most: float, theirs: float) -> float:
    """How far theirs lies outside a span, in per cent of it; 0 inside."""
    return max(least - theirs, theirs - most, 0.0) / theirs * 100


def assert_within(run: Run, off: dict[str, float], allowed: dict[str, float]) -> None:
    """Assert that we are off by less than is allowed, or else by just as much as misses.toml says."""
    beyond = {name: error for name, error in off.items() if abs(error) >= allowed[name]}
    assert beyond == pytest.approx(MISSES.get(str(run), {}), abs=0.06)
