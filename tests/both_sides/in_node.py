"""Python as the worker starts it, from dist/ and in node, and what it is asked there."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.node import node_program
from tests.both_sides.cases import Case

ASK = Path(__file__).with_name("ask.mjs")
REMEDY = "run the tests with python3 -m site_builder test"

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
