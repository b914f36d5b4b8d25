"""Python as the worker starts it, from dist/ and in node: from the snapshot, with no library at hand, and from nothing."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path
from typing import Any

import pytest

from site_builder.building import snapshot
from site_builder.engine.answer import respond_in_json
from site_builder.engine.qr_code import qr_code
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.node import node_modules, node_program
from tests.both_sides.cases import Case, cases
from tests.units.site_builder.test_trimming import exports

ASK = Path(__file__).with_name("ask.mjs")
REMEDY = "run the tests with python3 -m site_builder test"
FILES = ("snapshot.bin", "plain-start.zip", "pyodide.asm.mjs.gz", "pyodide.asm.wasm.gz")

# Hears of each module that is looked for from here on; finding it is left to the others.
WATCH = """
import random, sys
class Watch:
    looked_for = []
    def find_spec(self, name, path=None, target=None):
        self.looked_for.append(name)
sys.meta_path.insert(0, Watch())
told = random.random()
"""
CODE_OF = "https://club.example/?cells=4"
LOOKED_FOR = "import sys; told = sys.meta_path[0].looked_for"
# What goes wrong in a program of ours one day, in the places where it can: what is raised, and then told with its traceback.
FAULTS = {
    "a calculator that is not there": "from site_builder.engine.answer import respond; respond('none', {})",
    "entries that are no text": "from site_builder.engine.answer import respond; respond('voltages', {'cells': 4, 'chemistry': 4})",
    "a question that is cut off": "from site_builder.engine.answer import respond_in_json; respond_in_json('voltages', '{')",
    "a sum without end": "def again(): again()\nagain()",
    "a division by nothing": "1 / 0",
    "a number too large": "import math; math.exp(1000)",
    "a root of less than nothing": "import math; math.sqrt(-1)",
    "a decimal that is none": "import decimal; decimal.Decimal('x')",
    "a name that is almost there": "voltage = 1\nvoltag",
    "an attribute that is almost there": "import json; json.load_s",
    "a key that is not there": "{}['cells']",
    "half a character": "'\\ud800'.encode()",
    "bytes that are no text": "b'\\xff'.decode()",
    "code that is none": "compile('if', 'x', 'exec')",
    "a fault behind a fault": "try:\n    1 / 0\nexcept ZeroDivisionError as fault:\n    raise ValueError('cells') from fault",
    "several faults at once": "raise ExceptionGroup('two', [ValueError('cells'), KeyError('volts')])",
    "a promise that is broken": "assert 1 == 2, 'they are not'",
    "a template that is not there": "from site_builder.engine.answer import ENVIRONMENT as e; e.get_template('x.html')",
    "a template that is none": "from site_builder.engine.answer import ENVIRONMENT as e; e.from_string('{% for %}')",
    "a template without its value": "from site_builder.engine.answer import ENVIRONMENT as e; e.get_template('answers/refusal.html').render()",
    "a template with a wrong value": "from site_builder.engine.answer import ENVIRONMENT as e; e.get_template('answers/answer.html').render(sections=3)",
    "a filter that is not there": "from site_builder.engine.answer import ENVIRONMENT as e; e.from_string('{{ 1 | volts }}')",
}
# The names of the faults alone: their sentences change from one Python to the next.
TELL_FAULTS = f"""
import traceback
told = []
for source in {list(FAULTS.values())!r}:
    try:
        exec(source, {{}})
    except Exception as fault:
        traceback.format_exc()
        told.append(type(fault).__name__)
"""


def engine() -> Path:
    folders = list(DIST.glob("engine-*"))
    if not folders:
        pytest.fail(f"dist/ is not built: {REMEDY}")
    return folders[0]


def asked_in_node(way: str, questions: list[Case], folder: Path, before: str, after: str) -> dict[str, Any]:
    task, told = folder / "task.json", folder / "told.json"
    task.write_text(json.dumps({"questions": [[one.key, one.entries, one.units] for one in questions], "before": before, "after": after}))
    finished = subprocess.run([node_program(), ASK, engine(), way, task, told], capture_output=True, text=True, check=False)
    assert finished.returncode == 0, finished.stderr[-2000:]  # its first line is the whole of a script of Pyodide's
    return json.loads(told.read_text())


def answers_here(questions: list[Case]) -> list[dict[str, Any]]:
    return [json.loads(respond_in_json(one.key, json.dumps(one.entries), json.dumps(one.units))) for one in questions]


@pytest.fixture(scope="module")
def restored(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    after = f"{TELL_FAULTS}\nfaults = told\n{LOOKED_FOR}\ntold = [faults, told]"
    return asked_in_node("quick", cases(), tmp_path_factory.mktemp("restored"), WATCH, after)


def test_the_snapshot_answers_and_refuses_to_the_last_character_as_python_here_does(restored: dict[str, Any]) -> None:
    questions = cases()
    differing = [case for case, there, here in zip(questions, restored["answers"], answers_here(questions), strict=True) if there != here]
    assert differing == []


def test_a_fault_after_a_start_from_the_snapshot_is_told_by_its_own_name(restored: dict[str, Any]) -> None:
    here: dict[str, Any] = {}
    exec(TELL_FAULTS, here)
    assert len(here["told"]) == len(FAULTS)
    assert dict(zip(FAULTS, restored["after"][0], strict=True)) == dict(zip(FAULTS, here["told"], strict=True))


def test_no_answer_no_refusal_and_no_fault_looks_for_a_module_that_the_snapshot_lacks(restored: dict[str, Any]) -> None:
    assert restored["after"][1] == [], "import these in site_builder/snapshot/warm.py, or do there what imports them"


@pytest.mark.parametrize("way", ["quick", "plain"])
def test_a_code_is_drawn_as_python_here_draws_it(way: str, tmp_path: Path) -> None:
    there = asked_in_node(way, [], tmp_path, WATCH if way == "quick" else "told = 0", LOOKED_FOR if way == "quick" else "told = []")
    assert there["code"] == qr_code(CODE_OF)
    assert there["after"] == [], "what encodes looks for a module that the snapshot lacks"


def test_a_second_start_draws_other_random_numbers_than_the_first(restored: dict[str, Any], tmp_path: Path) -> None:
    assert asked_in_node("quick", [], tmp_path, WATCH, LOOKED_FOR)["before"] != restored["before"]


def test_a_start_from_nothing_gives_the_same_answers(tmp_path: Path) -> None:
    questions = [case for case in cases() if case.page]
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
