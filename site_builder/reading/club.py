"""The invented club: its packs, chargers and supplies, as a pilot would type them into the forms.

The field names are those of the calculators' `Inputs`, so that a pack, a charger and a supply can be laid side by side and
handed over as typed entries.
"""

from collections.abc import Mapping, Set
from pathlib import Path
from typing import Annotated

from pydantic import Field

from site_builder.reading.tables import Strict, read_table

_WORDS = {"name", "flies_in"}

Typed = Annotated[str, Field(min_length=1)]


class Thing(Strict):
    """Something of the club's, with a name of the club's own making."""

    name: Typed

    def entries(self) -> dict[str, str]:
        """Return field name to text as typed, without the fields that this thing leaves empty."""
        return self.model_dump(exclude=_WORDS, exclude_none=True)


class Pack(Thing):
    flies_in: Typed
    chemistry: Typed
    cells: Typed
    capacity_mah: Typed
    label_charge_rate_c: Typed
    label_discharge_rate_c: Typed
    cell_resistance_mohm: Typed | None = None
    resting_v: Typed
    pack_degc: Typed
    air_degc: Typed
    requested_rate_c: Typed


class Charger(Thing):
    charger_current_a: Typed
    charger_power_w: Typed
    charger_cells: Typed
    charger_input_least_v: Typed
    charger_input_most_v: Typed
    current_step_a: Typed
    capacity_step_mah: Typed
    discharge_current_a: Typed
    discharge_power_w: Typed
    balance_ports: Typed
    port_cells: Typed
    balance_current_a: Typed
    efficiency_percent: Typed


class Supply(Thing):
    supply_kind: Typed
    supply_v: Typed | None = None
    supply_current_a: Typed | None = None
    battery_ah: Typed | None = None
    battery_resting_v: Typed | None = None
    battery_kind: Typed | None = None
    lead_length_m: Typed
    lead_area_mm2: Typed
    connector_mohm: Typed | None = None
    lead_fuse_a: Typed | None = None


class Club(Strict):
    name: Typed
    field: Typed
    packs: dict[str, Pack]
    chargers: dict[str, Charger]
    supplies: dict[str, Supply]


ENTRY_NAMES = frozenset((*Pack.model_fields, *Charger.model_fields, *Supply.model_fields)) - _WORDS


def read_club(file: Path) -> Club:
    """Return the club that `file` describes."""
    return read_table(Club, file.read_text(encoding="utf-8"), file)


def merged(example: dict[str, str], club: Club, asked: Set[str] = frozenset()) -> dict[str, str]:
    """Return a worked example as entries: the thing that each of `pack`, `charger` and `supply` names, then what the page adds.

    `packs` names several, with spaces between, and gives the entries of rows: `packs_1_cells` and so on. `asked` holds the
    entries of the page's own calculator.

    Raises:
        ValueError: a name is not the club's, or an entry is neither theirs nor asked. The sentence says which.
    """
    entries: dict[str, str] = {}
    for _, thing in _named(example, club):
        entries |= thing.entries()
    for number, (_, pack) in enumerate(_named_packs(example, club), 1):
        row = {f"packs_{number}_{name}": text for name, text in pack.entries().items()}
        if not row.keys() & asked:
            raise ValueError(f"this page's calculator asks for no pack {number}")
        entries |= {name: text for name, text in row.items() if name in asked}
    added = {name: text for name, text in example.items() if name not in (*_KINDS, "packs")}
    if unknown := sorted(set(added) - ENTRY_NAMES - asked):
        raise ValueError(f"`{unknown[0]}` is not an entry of a pack, a charger or a supply, nor of this page's calculator")
    return entries | added


def about(example: dict[str, str], club: Club) -> str:
    """Return what a worked example is made of, in one sentence, so that nobody takes its numbers for their own."""
    names = [f"{kind} “{thing.name}”" for kind, thing in (*_named_packs(example, club), *_named(example, club))]
    whose = f"They belong to the invented club {club.name}"
    return f"{whose}: {', '.join(dict.fromkeys(names))}." if names else f"{whose}."


def pack_names(example: dict[str, str], club: Club) -> str:
    """Return the names of the packs of a worked example, for the head of a printed sheet."""
    named = (*_named_packs(example, club), *_named(example, club))
    return ", ".join(dict.fromkeys(thing.name for kind, thing in named if kind == "pack"))


_KINDS = ("pack", "charger", "supply")


def _named(example: dict[str, str], club: Club) -> list[tuple[str, Thing]]:
    return [(kind, _thing(kind, example[kind], club)) for kind in _KINDS if kind in example]


def _named_packs(example: dict[str, str], club: Club) -> list[tuple[str, Thing]]:
    return [("pack", _thing("pack", key, club)) for key in example.get("packs", "").split()]


def _thing(kind: str, key: str, club: Club) -> Thing:
    every: Mapping[str, Mapping[str, Thing]] = {"pack": club.packs, "charger": club.chargers, "supply": club.supplies}
    things = every[kind]
    if key not in things:
        raise ValueError(f"the club has no {kind} `{key}`: it has {', '.join(things)}")
    return things[key]
