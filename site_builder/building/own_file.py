"""The file in which the pilot's own things leave the phone and come back: one JSON file, its version, and its schema.

The models below are the only place that says what may stand in it. What can be entered of a pack, a charger, a supply and a line of a log they
take from calc. `file_schema` is the JSON Schema (draft 2020-12) that lies in dist/ for whoever reads the file by other means, and that the pages
check a file against before anything is taken from it.

Each record has a checksum: CRC-32 (ISO 3309) over its JSON without the checksum, in UTF-8, its names in order and no space between
(RFC 8785). Numbers are whole, so that every program writes them alike.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, create_model
from pydantic.json_schema import GenerateJsonSchema

from calc.inputs.fields import Entry, Kind, entries_of
from calc.inputs.log_lines import LineEntries
from site_builder.building.own_things import MOST_IN_NAME, MOST_IN_NOTE, STATES, own_thing
from site_builder.reading.tables import Strict

VERSION = 1
SCHEMA = "own-things.schema.json"
_LATEST_MS = 8_640_000_000_000_000  # the last moment that a browser's clock knows
_CRC_32 = 2**32 - 1

Moment = Annotated[int, Field(ge=0, le=_LATEST_MS, description="Milliseconds since 1970-01-01T00:00Z.")]
Identity = Annotated[str, Field(min_length=1, max_length=100, pattern=r"^[A-Za-z0-9 _-]+$")]
Name = Annotated[str, Field(min_length=1, max_length=MOST_IN_NAME)]
Sentence = Annotated[str, Field(min_length=1, max_length=1000)]
Checksum = Annotated[int, Field(ge=0, le=_CRC_32)]


def _one_of(choices: Iterable[str]) -> Any:
    return Literal[tuple(choices)]


def _typed(entry: Entry) -> Any:
    """What may be kept of an entry: the text that was typed, or the key of a choice."""
    if entry.kind is Kind.CHOICE:
        return _one_of(entry.options)
    return Annotated[str, Field(min_length=1, max_length=400)]


def _left_out(schema: dict[str, Any]) -> None:
    schema.pop("default", None)  # what is not there has no value: null is none


def _may_be_missing(**more: Any) -> Any:
    return Field(default=None, json_schema_extra=_left_out, **more)


def _entries(name: str, entries: Mapping[str, Entry]) -> Any:
    """Return the model of entries by name, each of which may be missing."""
    fields: dict[str, Any] = {key: (_typed(entry), _may_be_missing(title=entry.label)) for key, entry in entries.items()}
    return create_model(name, __base__=Strict, **fields)


def _dates(*dated: str) -> Any:
    return dict[_one_of(dated), Moment]  # type: ignore[misc]


def _state(kind: str) -> Any:
    return tuple[_one_of(STATES[kind]), Moment]  # type: ignore[misc]


_PACK, _CHARGER, _SUPPLY = own_thing("pack"), own_thing("charger"), own_thing("supply")
_LINE = entries_of(LineEntries)
_LineRead: Any = _entries("LineEntries", {name: entry for name, entry in _LINE.items() if name != "day"})


def _of_the_calendar(day: str) -> str:
    date.fromisoformat(day)
    return day


class LineOfLog(_LineRead):  # type: ignore[misc]  # made from what calc asks of a line
    """What a line says. Its day is always there."""

    day: Annotated[
        str,
        Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$", title=_LINE["day"].label, json_schema_extra={"format": "date"}),
        AfterValidator(_of_the_calendar),
    ]


class Line(Strict):
    """One line of a pack's log."""

    id: Identity
    entries: LineOfLog
    note: Annotated[str, Field(max_length=MOST_IN_NOTE)]


class _Record(Strict):
    id: Identity
    name: Annotated[Name, Field(title="Name")]
    checksum: Checksum


class Pack(_Record):
    """One pack: what is on its label, what was measured and when, and its log. How it was left is a note, and never a reading."""

    entries: _entries("PackEntries", _PACK.entries)  # type: ignore[valid-type]
    dates: _dates(*_PACK.dated)  # type: ignore[valid-type]
    state: Annotated[_state("pack"), _may_be_missing(title="How it was left")]  # type: ignore[valid-type]
    refused: Annotated[tuple[Sentence, Moment], _may_be_missing(title="Why it is out of use")]
    checked: Annotated[Moment, _may_be_missing(title="When its cells were last checked")]
    fromLog: Annotated[list[_one_of(_PACK.dated)], _may_be_missing(title="What its log measured last")]  # type: ignore[valid-type]  # noqa: N815  # the phone's name
    log: Annotated[list[Line], Field(title="Log")]


class Charger(_Record):
    """One charger, with its outputs."""

    entries: _entries("ChargerEntries", _CHARGER.entries)  # type: ignore[valid-type]


class Supply(_Record):
    """One supply, with its lead."""

    entries: _entries("SupplyEntries", _SUPPLY.entries)  # type: ignore[valid-type]
    state: Annotated[_state("supply"), _may_be_missing(title="How it was left")]  # type: ignore[valid-type]


class OwnThings(Strict):
    """My packs with their logs, my chargers and my supplies."""

    kind: Literal["own-things"]
    version: Annotated[int, Field(ge=1, le=VERSION)]
    made: Moment
    packs: list[Pack]
    chargers: list[Charger]
    supplies: list[Supply]


class _AsRead(GenerateJsonSchema):
    """Without the titles that only repeat a name."""

    def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ARG002
        return False


def file_schema() -> dict[str, Any]:
    """Return the JSON Schema of the file."""
    return OwnThings.model_json_schema(schema_generator=_AsRead)


def schema_file() -> bytes:
    """Return the schema as it lies in dist/."""
    named = {"$schema": GenerateJsonSchema.schema_dialect, **file_schema()}
    return (json.dumps(named, ensure_ascii=False, indent=1) + "\n").encode()
