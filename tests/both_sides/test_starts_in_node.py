"""Python as the worker starts it, from dist/ and in node: from the snapshot, with no library at hand, and from nothing."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from site_builder.building import snapshot
from site_builder.engine.qr_code import qr_code
from site_builder.setting_up.node import node_modules
from tests.both_sides.cases import answers_here, worked_examples
from tests.both_sides.in_node import FAULTS, LOOKED_FOR, TELL_FAULTS, WATCH, asked_in_node, engine
from tests.units.site_builder.test_trimming import exports

FILES = ("snapshot.bin", "plain-start.zip", "pyodide.asm.mjs.gz", "pyodide.asm.wasm.gz")

CODE_OF = "https://club.example/?cells=4"


@pytest.mark.parametrize("way", ["quick", "plain"])
def test_a_code_is_drawn_as_python_here_draws_it(way: str, tmp_path: Path) -> None:
    there = asked_in_node(way, [], tmp_path, WATCH if way == "quick" else "told = 0", LOOKED_FOR if way == "quick" else "told = []")
    assert there["code"] == qr_code(CODE_OF)
    assert there["after"] == [], "what encodes looks for a module that the snapshot lacks"


def test_each_start_draws_other_random_numbers(tmp_path: Path) -> None:
    one, other = (asked_in_node("quick", [], tmp_path, WATCH, LOOKED_FOR) for _ in range(2))
    assert one["before"] != other["before"]


def test_a_start_from_nothing_gives_the_same_answers(tmp_path: Path) -> None:
    questions = worked_examples()
    told = asked_in_node("plain", questions, tmp_path, "told = 0", TELL_FAULTS)
    assert told["answers"] == answers_here(questions)
    assert len(told["after"]) == len(FAULTS)


def test_the_same_content_gives_the_same_bytes_in_another_folder_zone_and_language(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in {"TZ": "Asia/Tokyo", "LANG": "de_DE.UTF-8", "HOME": str(tmp_path), "PYTHONHASHSEED": "7"}.items():
        monkeypatch.setenv(name, value)
    sources = (snapshot.KEPT / "sources.zip").read_bytes()
    examples = json.loads((snapshot.KEPT / "examples.json").read_text(encoding="utf-8"))
    again = snapshot.frozen_files(node_modules() / "pyodide", sources, examples, tmp_path / "a second time")
    differing = [name for name in FILES if again[name] != (engine() / name).read_bytes()]
    assert differing == []


def test_whatever_the_trimmed_script_takes_is_in_the_trimmed_webassembly() -> None:
    trimmed = snapshot.KEPT / snapshot.TRIMMED
    taken = set(re.findall(r'wasmExports\["(\w+)"\]', (trimmed / "pyodide.asm.mjs").read_text(encoding="utf-8")))
    assert len(taken) > 100 and taken <= exports(trimmed / "pyodide.asm.wasm")
