"""What the pages of the pilot's own packs, chargers and supplies are built from: what calc says is kept of each, and the club's, to try them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from calc.facts.practice import MEASURED_KEEPS_DAYS, REFILL_WITHIN_DAYS, STORE_WITHIN_DAYS, STORED_CHECK_DAYS, SUPPLY_CHECK_DAYS
from calc.inputs.equipment import ChargerEntries
from calc.inputs.fields import Entry, entries_of
from calc.inputs.flights import MOST_FLIGHTS
from calc.inputs.joined_packs import MOST_PACKS
from calc.inputs.log_lines import FIRST_LINES, KINDS, MOST_LINES, LineEntries
from calc.inputs.own_things import (
    MEASURED_AGAIN,
    SECOND_CHARGER,
    SECOND_OUTPUT,
    SECOND_SUPPLY,
    SHORT_KINDS,
    OwnThing,
    own_charger,
    own_pack,
    own_supply,
)
from calc.inputs.second_charger import UNLESS_KNOWN
from calc.inputs.supply import BATTERY, SUPPLY_CHOICES
from site_builder.reading.club import Thing, read_club

_CALLED = {"pack": "packs", "charger": "chargers", "supply": "supplies"}
# What of a thing tells that a calculator asks one of its kind: of a charger any entry does, since the page of leads asks its power and not its
# current; a page with rows asks several packs, and none by these names.
_ASKED_BY = {"pack": ("chemistry",), "charger": tuple(entries_of(ChargerEntries)), "supply": ("supply_kind",)}
# After so many days something of one's own is due.
DUE_AFTER_DAYS = {
    "store": STORE_WITHIN_DAYS,
    "check": STORED_CHECK_DAYS,
    "measured": MEASURED_KEEPS_DAYS,
    "refill": REFILL_WITHIN_DAYS,
    "battery": SUPPLY_CHECK_DAYS,
}
_FIRST_OUTPUT = "outputs_1_"
# So many characters a name and a note may have: more is no name, and no file takes it.
MOST_IN_NAME, MOST_IN_NOTE = 200, 10_000
# How a thing may have been left, as the pilot notes it.
STATES = {"pack": ("charged", "flown", "stored"), "supply": ("used", "filled")}


def own_thing(key: str) -> OwnThing:
    """Return what is kept of a kind of thing."""
    return {"pack": own_pack, "charger": own_charger, "supply": own_supply}[key]()


def kinds_asked(entries: Mapping[str, Entry]) -> list[str]:
    """Return the kinds of thing of which a form asks one."""
    return [kind for kind, names in _ASKED_BY.items() if any(name in entries for name in names)]


def takes_packs(entries: Mapping[str, Entry]) -> bool:
    """Return whether a form asks several packs, in rows."""
    return any(name.startswith("packs_") for name in entries)


def own_facts() -> dict[str, Any]:
    """Return what the scripts know of these things: names, units and words, after how many days what is due, and how many go together."""
    kinds = {key: own_thing(key) for key in _CALLED}
    entries = {name: entry for thing in kinds.values() for name, entry in thing.entries.items()}
    facts: dict[str, Any] = {key: _names(thing) for key, thing in kinds.items()}
    return facts | {
        "called": _CALLED,
        "secondOutput": SECOND_OUTPUT,
        "secondCharger": SECOND_CHARGER,
        "secondSupply": SECOND_SUPPLY,
        "unlessKnown": UNLESS_KNOWN,
        "short": SHORT_KINDS,
        "supplies": dict(SUPPLY_CHOICES),
        "signs": {name: entry.quantity.sign for name, entry in entries.items() if entry.quantity and "_2_" not in name},
        "labels": {name: entries[name].label for name in kinds["pack"].dated},
        "log": _log(),
        "due": {name: int(days.value) for name, days in DUE_AFTER_DAYS.items()} | {"again": MEASURED_AGAIN, "refilled": BATTERY},
        "mostTogether": MOST_PACKS,
        "states": STATES,
    }


def _log() -> dict[str, Any]:
    """What a line of a log asks: what its kinds and entries are called, their units, and how much a line, a note, and a form of lines and flights take."""
    entries = entries_of(LineEntries)
    return {
        "kinds": KINDS,
        "labels": {name: entry.label for name, entry in entries.items()},
        "signs": {name: entry.quantity.sign for name, entry in entries.items() if entry.quantity},
        "mostMinutes": int(entries["taken_min"].most),
        "mostInNote": MOST_IN_NOTE,
        "most": MOST_LINES,
        "first": FIRST_LINES,
        "flights": MOST_FLIGHTS,
    }


def _names(thing: OwnThing) -> dict[str, list[str]]:
    """`entries` are the names under which it is kept, `names` those by which the calculators ask it, `least` what tells it from others."""
    entries = [name for name, entry in thing.entries.items() if not (entry.group.row and entry.group.row.optional)]
    needed = [
        name for name in entries if not (thing.entries[name].optional or thing.entries[name].starts_as or thing.entries[name].only_with)
    ]
    return {
        "entries": entries,
        "names": [name.removeprefix(_FIRST_OUTPUT) for name in entries],
        "least": needed,
        "dated": list(thing.dated),
        "readings": list(thing.readings),
    }


def club_things(content: Path) -> dict[str, list[dict[str, Any]]]:
    """Return the things of the club as they are kept on a phone, by kind: what is on their labels alone."""
    club = read_club(content / "club.toml")
    of_club: dict[str, Mapping[str, Thing]] = {"pack": club.packs, "charger": club.chargers, "supply": club.supplies}
    return {kind: [_kept(f"club-{key}", thing, own_thing(kind)) for key, thing in things.items()] for kind, things in of_club.items()}


def _kept(identity: str, thing: Thing, own: OwnThing) -> dict[str, Any]:
    outputs = entries_of(ChargerEntries).keys()
    typed = thing.entries()
    by_name = typed | {f"{_FIRST_OUTPUT}{name}": text for name, text in typed.items() if name in outputs}
    started = {name: entry.starts_as for name, entry in own.entries.items() if entry.starts_as and not entry.only_with}
    label = {name: text for name, text in by_name.items() if name in own.entries and name not in own.dated}
    return {"id": identity, "name": thing.name, "entries": started | label, "dates": {}}
