"""The rules of a plan, read off the list that the pilot sees: written from the rules and the pages of single charges, not from the search."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties.own_condition import FULL_CELL_V
from tests.properties.typed_entries import Entries

_HOUR = re.compile(r"(\d+):(\d\d)")
# What a shown figure or a whole minute may hide.
_ROUNDING_A, _ROUNDING_MIN = 0.006, 1.0


@dataclass(frozen=True)
class Line:
    """One line of the list: minutes since midnight, the output, the packs by number, how they are connected, and amperes."""

    begin_min: int
    output: str
    packs: tuple[int, ...]
    together: str
    current_a: float
    ready_min: int
    latest_min: int


def lines_of(found: Any) -> list[Line]:
    """Read the list of a plan that begins before noon and ends on the same day."""
    lines = []
    for row in found.turns.rows if found.turns else ():
        put_on, ready = row.cells
        on, _, current = put_on.partition(", by ")[0].rpartition("then ")[2].rpartition(", at ")
        likely, latest = (int(hours) * 60 + int(minutes) for hours, minutes in _HOUR.findall(ready))
        [(hours, minutes)] = _HOUR.findall(row.heading)
        lines.append(
            Line(
                begin_min=int(hours) * 60 + int(minutes),
                output=row.heading.partition(", ")[2],
                packs=tuple(int(number) for number in re.findall(r"\d+", on)),
                together="alone" if on.endswith("alone") else on.rpartition(" in ")[2],
                current_a=float(current.removesuffix("\u00a0A")),
                ready_min=likely,
                latest_min=latest,
            )
        )
    return lines


def faults_of(entries: Entries, found: Any) -> list[str]:
    """Return every rule that a plan breaks, in words; none for a sound plan."""
    lines = lines_of(found)
    return [*_of_the_list(entries, found, lines), *_of_the_hands(entries, lines), *_of_the_power(entries, lines), *_of_each(entries, lines)]


def _count(entries: Entries) -> int:
    return len({name.split("_")[1] for name in entries if name.startswith("packs_")})


def _of_the_list(entries: Entries, found: Any, lines: list[Line]) -> list[str]:
    charged = [number for line in lines for number in line.packs]
    left = [int(row.heading.split(":")[0].removeprefix("Pack ")) for row in (found.left_out.rows if found.left_out else ())]
    full = [int(number) for one in found.cautions if "Full already" in one.sentence for number in re.findall(r"\d+", one.sentence)]
    faults = []
    if sorted([*charged, *left, *full]) != list(range(1, _count(entries) + 1)):
        faults.append(f"each pack is charged once, left out or full: {charged}, {left}, {full}")
    for line in lines:
        hours = [entries.get(f"packs_{number}_wanted_clock", "") for number in line.packs]
        hours.append(entries.get("by_clock", "") if entries["aim"] == "by_hour" else "")
        faults += [f"{line} is wanted by {hour}" for hour in hours if hour and line.latest_min > _minutes(hour)]
    if found.charge_left and lines and found.charge_left.least.value < _floor_percent(entries):
        faults.append(f"the battery falls to {found.charge_left.least}")
    return faults


def _minutes(hour: str) -> int:
    hours, minutes = hour.split(":")
    return int(hours) * 60 + int(minutes)


def _floor_percent(entries: Entries) -> float:
    """Half, or three quarters for a vehicle's own: common practice, no source. One that rests below gives nothing."""
    return 75 if entries["supply_kind"] == "vehicle" else 50


def _of_the_hands(entries: Entries, lines: list[Line]) -> list[str]:
    change_min = int(entries["change_min"])
    faults = []
    for before, after in pairwise(lines):
        if after.begin_min < before.begin_min + change_min * len(before.packs):
            faults += [f"the hands are on {before} when {after} begins"]
    for one, other in combinations(lines, 2):
        if one.output == other.output and other.begin_min < one.ready_min:
            faults += [f"{other} is put on while {one} is on the same output"]
    most = min(int(entries["charger_outputs"]), int(entries["watched_charges"]))
    for line in lines:
        if sum(one.begin_min <= line.begin_min < one.ready_min for one in lines) > most:
            faults += [f"more than {most} at once with {line}"]
    return faults


def _cells_of(entries: Entries, line: Line) -> int:
    cells = [int(entries[f"packs_{number}_cells"]) for number in line.packs]
    return sum(cells) if line.together == "series" else cells[0]


def _of_the_power(entries: Entries, lines: list[Line]) -> list[str]:
    change_min = int(entries["change_min"])

    def power_w(line: Line) -> float:
        return line.current_a * _cells_of(entries, line) * FULL_CELL_V[entries[f"packs_{line.packs[0]}_chemistry"]]

    faults = [f"{line} takes more than its output has" for line in lines if power_w(line) > float(entries["charger_power_w"]) + 1]
    if not entries.get("all_outputs_w"):
        return faults
    for line in lines:
        starts_min = line.begin_min + change_min * len(line.packs)
        running = [one for one in lines if one.begin_min + change_min * len(one.packs) <= starts_min < one.ready_min]
        if sum(map(power_w, running)) > float(entries["all_outputs_w"]) + 1:
            faults.append(f"all outputs together take too much when {line} starts")
    return faults


def _of_each(entries: Entries, lines: list[Line]) -> list[str]:
    """Each charge is one that its own page gives: it says yes, to no less current, and to no more minutes at the same current."""
    change_min = int(entries["change_min"])
    faults = []
    for line in lines:
        page, current = _own_page(entries, line)
        if isinstance(page, Refusal) or current is None:
            faults.append(f"its own page forbids {line}: {page if isinstance(page, Refusal) else page.join}")
            continue
        if line.current_a > current.figure.value + _ROUNDING_A:
            faults.append(f"{line} is above its own page's {current.figure}")
        minutes = line.ready_min - line.begin_min - change_min * len(line.packs)
        if abs(line.current_a - current.figure.value) < _ROUNDING_A and minutes < page.charge_time.likely.value - _ROUNDING_MIN:
            faults.append(f"{line} takes less than the {page.charge_time.likely} of its own page")
    return faults


def _own_page(entries: Entries, line: Line) -> tuple[Any, Any]:
    shared = {name: text for name, text in entries.items() if not name.startswith("packs_")}
    if line.together == "alone":
        own = {
            name.removeprefix(f"packs_{line.packs[0]}_"): text
            for name, text in entries.items()
            if name.startswith(f"packs_{line.packs[0]}_")
        }
        if int(own["cells"]) > int(entries["port_cells"]):
            own["first_plug_cells"] = entries[
                "port_cells"
            ]  # it asks for what the plan does not: as many cells on the first plug as a port takes
        page = answer("charge_settings", shared | own)
        return page, None if isinstance(page, Refusal) else page.charge_current
    renumbered = {
        f"packs_{place}_{name.split('_', 2)[2]}": text
        for place, number in enumerate(line.packs, 1)
        for name, text in entries.items()
        if name.startswith(f"packs_{number}_")
    }
    renumbered |= {f"packs_{place}_pack_degc": entries["pack_degc"] for place in range(1, len(line.packs) + 1)}
    key = "packs_in_series" if line.together == "series" else "packs_in_parallel"
    page = answer(key, shared | renumbered | {"main_leads_into": "board"})
    return page, None if isinstance(page, Refusal) else page.joint_current
