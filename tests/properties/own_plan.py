"""The rules of a plan, read off the list that the pilot sees: written from the rules and the pages of single charges, not from the search."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

from calc.answering import answer
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from calc.inputs.supply import SupplyEntries
from tests.properties.own_condition import FULL_CELL_V
from tests.properties.typed_entries import Entries

# An hour, and how many days later it is that hour once more.
_HOUR = re.compile(r"(\d+):(\d\d)(?:, (\d+)\u00a0days? later)?")
_OUTPUT = re.compile(r"output \d")
# What a shown figure or a whole minute may hide.
_ROUNDING_A, _ROUNDING_MIN = 0.006, 1.0
# A rested lead-acid battery that is full: it gives no ampere-hour at more.
_BATTERY_MOST_V = 12.9


@dataclass(frozen=True)
class Line:
    """One line of the list: minutes since the midnight before the start, the output, the packs by number, how they are connected, and amperes."""

    begin_min: int
    output: str
    packs: tuple[int, ...]
    together: str
    current_a: float
    ready_min: int
    latest_min: int


def lines_of(found: Any) -> list[Line]:
    """Read the list of a plan that has an hour of its start; it may go on for days."""
    lines = []
    for row in found.turns.rows if found.turns else ():
        put_on, ready = row.cells
        on, _, current = put_on.partition(", by ")[0].rpartition("then ")[2].rpartition(", at ")
        likely, latest = _minutes_in(ready, found.turns.start_min)
        [begin] = _minutes_in(row.heading, found.turns.start_min)
        lines.append(
            Line(
                begin_min=begin,
                output="".join(_OUTPUT.findall(row.heading)),
                packs=tuple(int(number) for number in re.findall(r"\d+", on)),
                together="alone" if on.endswith("alone") else on.rpartition(" in ")[2],
                current_a=float(current.removesuffix("\u00a0A")),
                ready_min=likely,
                latest_min=latest,
            )
        )
    return lines


def _minutes_in(text: str, start_min: int) -> list[int]:
    """Each hour in minutes since the midnight before the start: one that is earlier than the start is one of the next day."""
    day_min = 24 * 60
    return [
        start_min + (int(hours) * 60 + int(minutes) - start_min) % day_min + int(days or 0) * day_min
        for hours, minutes, days in _HOUR.findall(text)
    ]


def faults_of(entries: Entries, found: Any) -> list[str]:
    """Return every rule that a plan breaks, in words; none for a sound plan."""
    lines = lines_of(found)
    pages = [_own_page(entries, line) for line in lines]
    return [
        *_of_the_list(entries, found, lines),
        *_of_the_hands(entries, lines),
        *_of_the_power(entries, lines),
        *_of_the_battery(entries, lines, [page for page, _ in pages]),
        *(fault for line, (page, current) in zip(lines, pages, strict=True) for fault in _of_one(entries, line, page, current)),
    ]


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
    return faults


def _of_the_battery(entries: Entries, lines: list[Line], pages: list[Any]) -> list[str]:
    """What the charges on a battery take at most, by their own pages, is no more than it holds above its floor at its highest voltage."""
    faults = []
    for outputs in outputs_by_supply(entries):
        supply = entries | of_its_output(entries, outputs[0])
        alone = [
            page
            for line, page in zip(lines, pages, strict=True)
            if line.together == "alone" and not isinstance(page, Refusal) and line.output in outputs
        ]
        if supply["supply_kind"] == "mains" or not alone:
            continue
        taken_wh = sum(page.supply_energy.most.value for page in alone)
        holds_wh = float(supply["battery_ah"]) * (1 - _floor_percent(supply) / 100) * _BATTERY_MOST_V
        faults += (
            [f"the battery of {' and '.join(outputs) or 'the output'} gives {taken_wh} Wh of {holds_wh} Wh"] if taken_wh > holds_wh else []
        )
    return faults


def outputs_by_supply(entries: Entries) -> list[tuple[str, ...]]:
    """Return the outputs of each supply, as the list names them: an only output is not named."""
    if entries["charger_outputs"] == "1":
        return [("",)]
    return [("output 1",), ("output 2",)] if has_second_supply(entries) else [("output 1", "output 2")]


def has_second_supply(entries: Entries) -> bool:
    """Whether the second output is another charger's, with a supply of its own."""
    return entries["second_charger"] == "another" and entries["second_supply"] == "own"


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

    faults = [
        f"{line} takes more than its output has"
        for line in lines
        if power_w(line) > float((entries | of_its_output(entries, line.output))["charger_power_w"]) + 1
    ]
    for outputs in outputs_by_supply(entries):
        all_w = min(shared_w(entries), supply_w(entries | of_its_output(entries, outputs[0])))
        beside = [line for line in lines if line.output in outputs]
        for line in beside:
            starts_min = line.begin_min + change_min * len(line.packs)
            running = [one for one in beside if one.begin_min + change_min * len(one.packs) <= starts_min < one.ready_min]
            if sum(map(power_w, running)) > all_w + 1:
                faults.append(f"the outputs of one supply take too much when {line} starts")
    return faults


def shared_w(entries: Entries) -> float:
    """What both outputs have together at most, where there are two of one charger and they share it."""
    shares = entries["charger_outputs"] == "2" and entries["second_charger"] == "same"
    return float((shares and entries.get("all_outputs_w")) or "inf")


def supply_w(entries: Entries) -> float:
    """What a mains supply gives its outputs together at most: no lead of any length adds to it."""
    if entries["supply_kind"] != "mains":
        return float("inf")
    return float(entries["supply_v"]) * float(entries["supply_current_a"]) * float(entries["efficiency_percent"]) / 100


def _of_one(entries: Entries, line: Line, page: Any, current: Any) -> list[str]:
    """Each charge is one that its own page gives: it says yes, to no less current, and to no more minutes at the same current."""
    if isinstance(page, Refusal) or current is None:
        return [f"its own page forbids {line}: {page if isinstance(page, Refusal) else page.join}"]
    if line.current_a > current.figure.value + _ROUNDING_A:
        return [f"{line} is above its own page's {current.figure}"]
    if abs(line.current_a - current.figure.value) >= _ROUNDING_A:
        return []
    put_on_min = int(entries["change_min"]) * len(line.packs)
    promised = ((line.ready_min, page.charge_time.likely), (line.latest_min, page.charge_time.most))
    return [
        f"{line} takes less than the {own} of its own page"
        for ready_min, own in promised
        if ready_min - line.begin_min - put_on_min < own.value - _ROUNDING_MIN
    ]


def of_its_output(entries: Entries, output: str) -> Entries:
    """Return what an output has of its own, by the names that the pages of one charge ask: what is left empty is as the first has it, but for
    the second supply, which is asked as a whole, and for what is not known of another charger.
    """
    if output != "output 2":
        return {}
    asked = {"charger_current_a": "second_output_current_a", "charger_power_w": "second_output_power_w"}
    found = {name: entries[second] for name, second in asked.items() if entries.get(second)}
    if entries["second_charger"] == "another":
        as_first = ("charger_cells", "balance_ports", "port_cells", "current_step_a", "charger_input_least_v", "efficiency_percent")
        found |= {name: entries[f"second_{name}"] for name in as_first if entries.get(f"second_{name}")}
        # Of these an empty one is not known.
        unless_known = ("charger_input_most_v", "balance_current_a", "discharge_current_a", "discharge_power_w")
        found |= {name: entries.get(f"second_{name}", "") for name in unless_known}
    if has_second_supply(entries):
        found |= {name: entries.get(f"second_{name}", "") for name in entries_of(SupplyEntries)}
    return found


def _own_page(entries: Entries, line: Line) -> tuple[Any, Any]:
    shared = {name: text for name, text in entries.items() if not name.startswith("packs_")} | of_its_output(entries, line.output)
    if line.together == "alone":
        own = {
            name.removeprefix(f"packs_{line.packs[0]}_"): text
            for name, text in entries.items()
            if name.startswith(f"packs_{line.packs[0]}_")
        }
        if int(own["cells"]) > int(shared["port_cells"]):
            # It asks for what the plan does not: as many cells on the first plug as a port takes.
            own["first_plug_cells"] = shared["port_cells"]
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
