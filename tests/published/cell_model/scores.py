"""How far the charge model is off: on the runs to which its resistances were fitted, and on those that were held back.

    python -m tests.published.cell_model.scores

prints both for each set and temperature beside what is allowed, with the resistance that a fit finds beside the one in use. The
tolerances were measured on charges that end at a tenth and a twentieth of 1C, and are asked of a fifth too: those that end later stand
by themselves. In the cold nothing is fitted: there all are scores of the law that ships.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from calc.facts.cell_parameters import LEAD_RISE_V
from calc.physics.cell.cell_resistance import likely_factor
from calc.physics.cell.cells import Cell
from calc.physics.cell.charging import Charge, charge
from tests.published.cell_model.reference import SETS, TOLERANCE, Run, charged_cell, curve_of, is_held_back, runs_of

TRUSTED = ("Ai2020", "Marquis2019", "Ramadass2004", "Mohtat2020", "NCA_Kim2011")
WARNED = ("Ecker2015", "Chen2020", "Prada2013")
THIN = ("Ai2020_thin",)
_FIT_FROM, _FIT_TO, _FIT_STEPS = 0.6, 1.5, 61
# Runs end at a fifth, a tenth, a twentieth, a thirtieth and a fiftieth of 1C.
_ENDS_LATER_BELOW_C = 0.04
_SHARES = (0.0, 0.15, 0.3, 0.45, 0.6, 0.7, 0.8, 0.9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """The largest errors over some runs: per cent of the time, points of its split, per cent of the energy."""

    runs: int
    time_percent: float
    split_points: float
    energy_percent: float

    def __str__(self) -> str:
        return f"{self.time_percent:5.1f} % {self.split_points:5.1f} points {self.energy_percent:4.1f} % of {self.runs:3d} runs"


def charged(run: Run, cell: Cell) -> Charge:
    """The run, charged by our model."""
    return charge(cell, start_state=run.start_state, full_cell_v=run.until_cell_v, current_a=run.current_a, taper_rate_c=run.taper_rate_c)


def errors_of(ours: Charge, run: Run) -> tuple[float, float, float]:
    """By how much we are off: time in per cent, its split in points, energy in per cent, each with its sign."""
    return (
        (ours.time_min / run.time_min - 1) * 100,
        (ours.constant_current_min / ours.time_min - run.constant_current_min / run.time_min) * 100,
        (ours.energy_in_wh / run.energy_wh - 1) * 100,
    )


def factor_at(set_name: str, degc: float) -> float:
    """By how much a resistance differs from that at 25 °C: in the cold by the law that ships, in the warmth as fitted."""
    return likely_factor(degc) if degc <= 25 else SETS[set_name][f"factor_at_{degc:.0f}_degc"]


def fitted_ohm_ah(run: Run) -> float:
    """The one resistance of sets.toml, scaled to the temperature of the run."""
    return SETS[run.set_name]["resistance_ohm_ah"] * factor_at(run.set_name, run.degc)


def errors_with(run: Run, cell: Cell) -> tuple[float, float, float]:
    """By how much we are off with a cell."""
    return errors_of(charged(run, cell), run)


def score_of(errors: Iterable[tuple[float, float, float]]) -> Score:
    """The largest of each error."""
    each = list(errors)
    worst = [max((abs(one[place]) for one in each), default=0.0) for place in range(3)]
    return Score(runs=len(each), time_percent=worst[0], split_points=worst[1], energy_percent=worst[2])


def tolerance_of(set_name: str, degc: float) -> tuple[float, float | None]:
    """What is allowed of time, and of its split where something is said of it."""
    if degc != 25:
        return TOLERANCE["cold_time_percent" if degc < 25 else "warm_time_percent"], None
    kind = "thin" if set_name in THIN else "charge" if set_name in TRUSTED else "warned"
    return TOLERANCE[f"{kind}_time_percent"], TOLERANCE[f"{kind}_split_points"]


def best_fit(runs: list[Run], cell_of: Callable[[Run, float], Cell] = charged_cell) -> tuple[float, float]:
    """The resistance whose largest error, as a part of what is allowed, is least; and that error. It looks at no run held back."""
    seen = [run for run in runs if not is_held_back(run)]
    time_percent, split_points = tolerance_of(seen[0].set_name, seen[0].degc)

    def part(resistance_ohm_ah: float) -> float:
        score = score_of(errors_with(run, cell_of(run, resistance_ohm_ah)) for run in seen)
        of_split = score.split_points / split_points if split_points else 0.0
        return max(score.time_percent / time_percent, of_split)

    ratio = (_FIT_TO / _FIT_FROM) ** (1 / (_FIT_STEPS - 1))
    tried = [fitted_ohm_ah(seen[0]) * _FIT_FROM * ratio**step for step in range(_FIT_STEPS)]
    return min(((ohm_ah, part(ohm_ah)) for ohm_ah in tried), key=lambda one: one[1])


def cell_with_share(share: float) -> Callable[[Run, float], Cell]:
    """How a cell charges if this share of its resistance were the lead of its surface."""

    def cell_of(run: Run, resistance_ohm_ah: float) -> Cell:
        return Cell(
            curve=curve_of(run.set_name),
            capacity_ah=run.capacity_ah,
            resistance_ohm_ah=resistance_ohm_ah * (1 - share),
            lead_h=resistance_ohm_ah * share / LEAD_RISE_V.value,
        )

    return cell_of


def runs_within(set_name: str, degc: float) -> list[Run]:
    """The charges of a set at a temperature up to the rate for which one resistance is meant."""
    return runs_of("charge", set_name, highest_rate_c=5.0 if set_name in THIN else 1.0, degc=degc)


def main() -> None:
    """Print the scores."""
    for degc in (25.0, 10.0, 40.0):
        for set_name in SETS:
            if not (runs := runs_within(set_name, degc)):
                continue
            print(f"{set_name} at {degc:g} degC: {fitted_ohm_ah(runs[0]):.4f} ohm Ah; the fit finds {best_fit(runs)[0]:.4f}")
            time_percent, split_points = tolerance_of(set_name, degc)
            print(f"    allowed: {time_percent:g} % of the time" + (f", {split_points:g} points of its split" if split_points else ""))
            for words, held in (("fitted to", False), ("held back", True)):
                for ends, later in (("ended at C/20 or before", False), ("ended later", True)):
                    mine = [run for run in runs if is_held_back(run) is held and (run.taper_rate_c < _ENDS_LATER_BELOW_C) is later]
                    print(f"    {words}, {ends}: {score_of(errors_with(run, charged_cell(run, fitted_ohm_ah(run))) for run in mine)}")
    print("Shares of the lead, each with the resistance that suits it best, by the largest error as a part of what is allowed:")
    for set_name in SETS:
        parts = [f"{share:.2f}: {best_fit(runs_within(set_name, 25.0), cell_with_share(share))[1]:.2f}" for share in _SHARES]
        print(f"    {set_name}: {', '.join(parts)}")


if __name__ == "__main__":
    main()
