"""Have a constraint solver find the best plan of each random day and evening, and hold the frozen ones against it.

Not part of the standard tests: it needs the extra `plan` of pyproject.toml, and then

    python -m tests.published.day_plan.rerun_solver

The model below is written from the rules of a plan and shares nothing with the search but the days. It ends with an error where an
optimum is not the frozen one; `--freeze` writes them anew.
"""

from __future__ import annotations

import csv
import sys
from itertools import combinations

from ortools.sat.python import cp_model

from calc.rules.plan.day import Bench, Lot
from tests.published.day_plan.optima import ALL, Solved

_LATEST_MIN = 6000


class _Model:
    """One day as constraints: which lots, on which output, and two courses of one order, the likely one and the slowest."""

    def __init__(self, bench: Bench, lots: list[Lot]) -> None:
        self.bench, self.lots, self.model = bench, lots, cp_model.CpModel()
        self.chosen = [self.model.new_bool_var("") for _ in lots]
        self.lasts = [[lot.likely_min for lot in lots], [lot.most_min for lot in lots]]
        self.starts = [[self.model.new_int_var(lot.put_on_min, _LATEST_MIN, "") for lot in lots] for _ in self.lasts]
        self.on_output = [[self.model.new_bool_var("") for _ in range(bench.outputs)] for _ in lots]
        for number, lot in enumerate(lots):
            self.model.add(sum(self.on_output[number]) == self.chosen[number])
            for output, is_on in enumerate(self.on_output[number]):
                if lot.outputs is not None and output not in lot.outputs:
                    self.model.add(is_on == 0)
            by_min = min((by for place in lot.packs if (by := bench.wanted_min[place]) is not None), default=None)
            if by_min is not None:
                self.model.add(self.starts[1][number] + lot.most_min <= by_min).only_enforce_if(self.chosen[number])
        for place in range(len(bench.wanted_min)):
            self.model.add_at_most_one(self.chosen[number] for number, lot in enumerate(lots) if place in lot.packs)
        for number in range(len(bench.feeds)):
            self._within_battery(number)
        for number in range(len(lots)):
            self._after_what_is_on(number)
        for one, other in combinations(range(len(lots)), 2):
            if not set(lots[one].packs) & set(lots[other].packs):
                self._order(one, other)

    def sum_of(self, amounts: list[int]) -> cp_model.LinearExpr:
        return sum(amount * chosen for amount, chosen in zip(amounts, self.chosen, strict=True))

    def _outputs_of(self, feed: int) -> list[int]:
        return [output for output in range(self.bench.outputs) if self.bench.feed_of(output) == feed]

    def _within_battery(self, feed: int) -> None:
        """What the lots on the outputs of a supply take from its battery is in it."""
        outputs = self._outputs_of(feed)
        taken_mah = sum(lot.battery_mah * self.on_output[number][output] for number, lot in enumerate(self.lots) for output in outputs)
        if (battery_mah := self.bench.feeds[feed].battery_mah) is not None:
            self.model.add(taken_mah <= battery_mah)

    def _after_what_is_on(self, number: int) -> None:
        """What is on already stays: a lot waits for it on its output, and elsewhere where both would be too many or take too much at once."""
        lot = self.lots[number]
        for one in self.bench.running:
            for course, end_min in zip(self.starts, (one.ends_min, one.ends_at_latest_min), strict=True):
                waits = self.chosen[number] if self.bench.one_at_a_time else self.on_output[number][one.output]
                self.model.add(course[number] - lot.put_on_min >= end_min).only_enforce_if(waits)
                for feed, limits in enumerate(self.bench.feeds):
                    beside = self._outputs_of(feed)
                    if one.output in beside and limits.power_w is not None and lot.power_w + one.power_w > limits.power_w:
                        for output in beside:
                            self.model.add(course[number] >= end_min).only_enforce_if(self.on_output[number][output])

    def _order(self, one: int, other: int) -> None:
        """Which of two lots the hands take first, and what follows on both courses."""
        one_first = self.model.new_bool_var("")
        both = [self.chosen[one], self.chosen[other]]
        shares = [self.model.new_bool_var("") for _ in range(self.bench.outputs)]
        for output, share in enumerate(shares):
            self.model.add_bool_or([~self.on_output[one][output], ~self.on_output[other][output], share])
        power_w = self.lots[one].power_w + self.lots[other].power_w
        too_much = [
            self._both_on(one, other, feed) for feed, limits in enumerate(self.bench.feeds) if power_w > (limits.power_w or power_w)
        ]
        for first, second, in_order in ((one, other, one_first), (other, one, ~one_first)):
            for course, last in zip(self.starts, self.lasts, strict=True):
                put_on = course[second] - self.lots[second].put_on_min
                # One pair of hands.
                self.model.add(put_on >= course[first]).only_enforce_if([*both, in_order])
                if self.bench.one_at_a_time:
                    self.model.add(put_on >= course[first] + last[first]).only_enforce_if([*both, in_order])
                # One charge at a time on an output.
                for share in shares:
                    self.model.add(put_on >= course[first] + last[first]).only_enforce_if([*both, in_order, share])
                # Not both at once where they would take more than the supply of their outputs has.
                for share in too_much:
                    self.model.add(course[second] >= course[first] + last[first]).only_enforce_if([*both, in_order, share])

    def _both_on(self, one: int, other: int, feed: int) -> cp_model.IntVar:
        """Whether two lots are on outputs of the same supply; it may also hold where they are not, which only makes a plan later."""
        found = self.model.new_bool_var("")
        for mine in self._outputs_of(feed):
            for theirs in self._outputs_of(feed):
                self.model.add_bool_or([~self.on_output[one][mine], ~self.on_output[other][theirs], found])
        return found


def optimum(bench: Bench, lots: list[Lot]) -> tuple[int, int, int]:
    """Packs left out, cost, and the last minute of the likely course: each least once those before it are."""
    day_model = _Model(bench, lots)
    model = day_model.model
    end = model.new_int_var(0, _LATEST_MIN, "end")
    for number, lot in enumerate(lots):
        model.add(end >= day_model.starts[0][number] + lot.likely_min).only_enforce_if(day_model.chosen[number])
        for one in bench.running:
            model.add(end >= one.ends_min).only_enforce_if(day_model.chosen[number])
    left_out = len(bench.wanted_min) - day_model.sum_of([len(lot.packs) for lot in lots])
    found = []
    for goal in (left_out, day_model.sum_of([lot.cost for lot in lots]), end):
        model.minimize(goal)
        solver = cp_model.CpSolver()
        status = solver.solve(model)
        if status != cp_model.OPTIMAL:
            raise SystemExit(f"the solver did not prove an optimum: {solver.status_name(status)}")
        found.append(round(solver.objective_value))
        model.add(goal == found[-1])
    return found[0], found[1], found[2]


def _rerun(solved: Solved, *, freeze: bool) -> None:
    file = solved.file
    frozen = {} if freeze else {int(row["day"]): row for row in csv.DictReader(file.open(encoding="utf-8"))}
    rows = []
    for number, one in enumerate(solved.each()):
        left_out, cost, end_min = optimum(*one)
        rows.append({"day": number, "left_out": left_out, "cost": cost, "end_min": end_min})
        if not freeze and {name: int(text) for name, text in frozen[number].items()} != rows[-1]:
            raise SystemExit(f"{file.stem}, {number}: the solver finds {rows[-1]}, and {frozen[number]} is frozen")
    if freeze:
        with file.open("w", encoding="utf-8", newline="") as written:
            writer = csv.DictWriter(written, list(rows[0]), lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
    print(f"{file.stem}: {len(rows)} agree with the solver")


def main() -> None:
    """Solve every day and evening; compare, or write down."""
    for solved in ALL:
        _rerun(solved, freeze="--freeze" in sys.argv)


if __name__ == "__main__":
    main()
