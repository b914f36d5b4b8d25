"""The rules of an evening, read off the sheet that the pilot sees: written from the rules and the storage page, not from the search."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties.own_condition import FULL_CELL_V
from tests.properties.own_plan import of_its_output, outputs_by_supply, shared_w, supply_w
from tests.properties.typed_entries import Entries

_HOUR = re.compile(r"(\d+):(\d\d)")
# What a shown figure or a whole minute may hide.
_ROUNDING_A, _ROUNDING_MIN = 0.006, 1.0
# No lead-acid battery that feeds a charger gives its charge at more than it rests at when full.
_BATTERY_MOST_V = 12.9


@dataclass(frozen=True)
class Line:
    """One line of the sheet: minutes since midnight, the output, the pack, whether it is charged, and amperes."""

    begin_min: int
    output: str
    pack: int
    is_charge: bool
    current_a: float
    ready_min: int
    latest_min: int


def lines_of(found: Any) -> list[Line]:
    """Read the list of an evening that begins before noon and ends on the same day."""
    lines = []
    for row in found.in_order.rows if found.in_order else ():
        what, ready = str(row.cells[0]), row.cells[-1]
        likely, latest = (int(hours) * 60 + int(minutes) for hours, minutes in _HOUR.findall(ready))
        [(hours, minutes)] = _HOUR.findall(row.heading)
        on = what.rpartition("then ")[2]
        lines.append(
            Line(
                begin_min=int(hours) * 60 + int(minutes),
                output=row.heading.partition(", ")[2],
                pack=int(re.match(r"Pack (\d+):", on)[1]),
                is_charge=". Charge, " in on,
                current_a=float(re.search(r" at ([0-9.]+)\u00a0A, by", on)[1]),
                ready_min=likely,
                latest_min=latest,
            )
        )
    return lines


def faults_of(entries: Entries, found: Any) -> list[str]:
    """Return every rule that an evening breaks, in words; none for a sound one."""
    lines = lines_of(found)
    pages = {line.pack: own_page(entries | of_its_output(entries, line.output), line.pack) for line in lines}
    return [
        *_of_the_list(entries, found, lines),
        *_of_the_hands(entries, lines),
        *_of_the_power(entries, lines),
        *_of_the_battery(entries, lines, pages),
        *(fault for line in lines for fault in _of_one(entries, line, pages[line.pack])),
    ]


def own_page(entries: Entries, pack: int) -> Any:
    """Return what the storage page says of one of the packs."""
    shared = {name: text for name, text in entries.items() if not name.startswith("packs_")}
    own = {name.removeprefix(f"packs_{pack}_"): text for name, text in entries.items() if name.startswith(f"packs_{pack}_")}
    return answer("storage", shared | own | {"goal": "storage"})


def packs_in(entries: Entries) -> int:
    """How many packs were entered."""
    return len({name.split("_")[1] for name in entries if name.startswith("packs_")})


def _of_the_list(entries: Entries, found: Any, lines: list[Line]) -> list[str]:
    named = [line.pack for line in lines]
    for table in (found.not_tonight, found.to_balance, found.left_alone):
        named += [int(row.heading.split(":")[0].removeprefix("Pack ")) for row in (table.rows if table else ())]
    faults = []
    if sorted(named) != list(range(1, packs_in(entries) + 1)):
        faults.append(f"each pack is named once: {named}")
    end_min = 8 * 60 + int(entries["time_left_min"])
    return faults + [f"{line} is not done by {end_min}" for line in lines if line.latest_min > end_min]


def _of_the_hands(entries: Entries, lines: list[Line]) -> list[str]:
    change_min = int(entries["change_min"])
    faults = [
        f"the hands are on {before} when {after} begins"
        for before, after in pairwise(lines)
        if after.begin_min < before.begin_min + change_min
    ]
    faults += [
        f"{other} is put on while {one} is on the same output"
        for one, other in combinations(lines, 2)
        if one.output == other.output and other.begin_min < one.ready_min
    ]
    most = min(int(entries["charger_outputs"]), int(entries["watched_charges"]))
    return faults + [
        f"more than {most} at once with {line}"
        for line in lines
        if sum(one.begin_min <= line.begin_min < one.ready_min for one in lines) > most
    ]


def _of_the_power(entries: Entries, lines: list[Line]) -> list[str]:
    """What is charged shares the power of the outputs. What is discharged takes none of it."""

    def power_w(line: Line) -> float:
        return line.current_a * int(entries[f"packs_{line.pack}_cells"]) * FULL_CELL_V[entries[f"packs_{line.pack}_chemistry"]]

    charges = [line for line in lines if line.is_charge]
    faults = [
        f"{line} takes more than its output has"
        for line in charges
        if power_w(line) > min(float((entries | of_its_output(entries, line.output))["charger_power_w"]), shared_w(entries)) + 1
    ]
    change_min = int(entries["change_min"])
    for outputs in outputs_by_supply(entries):
        all_w = min(shared_w(entries), supply_w(entries | of_its_output(entries, outputs[0])))
        beside = [line for line in charges if line.output in outputs]
        for line in beside:
            starts_min = line.begin_min + change_min
            running = [one for one in beside if one.begin_min + change_min <= starts_min < one.ready_min]
            if sum(map(power_w, running)) > all_w + 1:
                faults.append(f"the outputs of one supply take too much when {line} starts")
    return faults


def _of_the_battery(entries: Entries, lines: list[Line], pages: dict[int, Any]) -> list[str]:
    """What the charges on a battery take at least is no more than its upper half holds at its highest voltage."""
    faults = []
    for outputs in outputs_by_supply(entries):
        supply = entries | of_its_output(entries, outputs[0])
        if supply["supply_kind"] == "battery":
            taken_wh = sum(pages[line.pack].energy_moved.least.value for line in lines if line.is_charge and line.output in outputs)
            holds_wh = float(supply["battery_ah"]) * 0.5 * _BATTERY_MOST_V * float(entries["efficiency_percent"]) / 100
            faults += (
                [f"the battery of {' and '.join(outputs) or 'the output'} gives {taken_wh} Wh of {holds_wh} Wh"]
                if taken_wh > holds_wh
                else []
            )
    return faults


def _of_one(entries: Entries, line: Line, page: Any) -> list[str]:
    """Each way is the one that its own page gives: up or down, at no more current, in no less time."""
    if isinstance(page, Refusal) or page.current is None:
        return [f"its own page forbids {line}: {page}"]
    faults = []
    if line.current_a > page.current.figure.value + _ROUNDING_A:
        faults.append(f"{line} is above its own page's {page.current.figure}")
    if line.is_charge != str(page.what_to_do.figure).startswith("Charge"):
        faults.append(f"{line} goes the other way than its own page: {page.what_to_do.figure}")
    change_min = int(entries["change_min"])
    is_own_current = line.current_a >= page.current.figure.value - _ROUNDING_A
    if is_own_current and line.latest_min - line.begin_min - change_min < page.time.most.value - _ROUNDING_MIN:
        faults.append(f"{line} promises less than the {page.time.most} of its own page")
    return faults


def shortest_first(entries: Entries, times_min: list[float]) -> int:
    """How many packs are done by taking always the shortest next, each on the output that is free first: no best order does fewer."""
    outputs = min(int(entries["charger_outputs"]), int(entries["watched_charges"]))
    change_min, free_min, hands_min, done = int(entries["change_min"]), [0.0] * outputs, 0.0, 0
    for most_min in sorted(times_min):
        output = free_min.index(min(free_min))
        starts_min = max(free_min[output], hands_min) + change_min
        # A whole minute more, as each is rounded up.
        if starts_min + most_min + 1 > int(entries["time_left_min"]):
            break
        free_min[output], hands_min, done = starts_min + most_min + 1, starts_min, done + 1
    return done
