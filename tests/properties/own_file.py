"""The scripts that make, read and merge a file of own things, run in node as they stand in the pages."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from site_builder.building.own_file import file_schema
from site_builder.building.own_things import MOST_IN_NAME, own_thing
from site_builder.setting_up.node import node_modules, node_program

SCHEMA = file_schema()
DATED = {kind: list(own_thing(kind).dated) for kind in ("pack", "charger", "supply")}
NOW = 1_790_000_000_000  # a moment in 2026, ms


class Scripts:
    """What the scripts answer."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process

    def _ask(self, act: str, **given: Any) -> Any:
        assert self._process.stdin and self._process.stdout
        self._process.stdin.write(json.dumps({"act": act, **given}) + "\n")
        self._process.stdin.flush()
        return json.loads(self._process.stdout.readline())

    def file_of(self, things: dict[str, Any]) -> dict[str, Any]:
        return self._ask("make", things=things, moment=NOW, schema=SCHEMA)

    def read(self, text: str, schema: dict[str, Any] = SCHEMA) -> dict[str, Any]:
        return self._ask("read", text=text, schema=schema)

    def fits_schema(self, text: str) -> bool:
        """Whether a program that knows nothing of ours takes the file by the published schema."""
        return self._ask("judge", text=text, schema=SCHEMA, modules=str(node_modules()))

    def merge(self, records: dict[str, Any], here: dict[str, Any], choice: str = "mine", now: int = NOW) -> list[dict[str, Any]]:
        return self._ask("merge", records=records, here=here, datedOf=DATED, now=now, mostInName=MOST_IN_NAME, choice=choice)

    def table(self, packs: list[dict[str, Any]], facts: dict[str, Any]) -> str:
        return self._ask("table", packs=packs, facts=facts)

    def after(self, here: dict[str, Any], text: str, choice: str = "mine") -> dict[str, Any]:
        """Return what is kept once a file was taken in, by kind."""
        read = self.read(text)
        kept = {kind: {one["id"]: one for one in things} for kind, things in here.items()}
        for change in [] if "refused" in read else self.merge(read["records"], here, choice):
            kept[change["kind"]] |= {one["id"]: one for one in change["result"]}
        return {kind: list(things.values()) for kind, things in kept.items()}


@contextmanager
def scripts() -> Iterator[Scripts]:
    script = Path(__file__).with_suffix(".mjs")
    with subprocess.Popen([node_program(), script], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8") as process:
        yield Scripts(process)
        assert process.stdin
        process.stdin.close()


def pack(name: str = "Copper Wren", **more: Any) -> dict[str, Any]:
    """A pack as the phone keeps it, with its log."""
    entries = {"chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "label_charge_rate_c": "2"}
    return {"id": name.lower(), "name": name, "entries": entries | more.pop("entries", {}), "dates": {}, "log": []} | more


def line(identity: str, day: str = "2026-05-03", note: str = "", **entries: str) -> dict[str, Any]:
    return {"id": identity, "entries": {"day": day, "kind": "charge"} | entries, "note": note}


def things(*packs: dict[str, Any], **more: list[Any]) -> dict[str, Any]:
    return {"pack": list(packs), "charger": [], "supply": []} | more
