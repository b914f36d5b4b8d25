"""What web/memory.mjs takes out of a snapshot comes back whole, and what the browser has of its own takes its place."""

import json

from site_builder.building.bundle import WEB
from site_builder.setting_up.node import node_program
from site_builder.setting_up.running import run

# A snapshot of 24 bytes: the second number of its head says that the heap begins at the 16th, with 4 bytes as at first.
SCRIPT = f"""
import {{ callerIn, exchange, folded, heapOf, unfolded }} from {json.dumps((WEB / "memory.mjs").as_uri())};
const snapshot = new Uint8Array(new Uint32Array([9, 16, 0, 0, 0x04030201, 0x08070605]).buffer);
const first = new Uint8Array([1, 2, 3, 4]);
const heaps = [];
for (let time = 0; time < 2; time++) {{
  exchange(snapshot, first);
  heaps.push([...heapOf(snapshot)]);
}}
const pyodide = {{ __PyRuntime: 2, __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET: 4, HEAP32: new Int32Array([9, 2]) }};
const caller = [...callerIn(heapOf(snapshot), pyodide)];
// Pieces of 4096 bytes: two that hold something, two empty ones, and half a piece that holds something.
const pieces = new Uint8Array(4.5 * 4096);
for (const place of [0, 4096, 4.5 * 4096 - 1]) pieces[place] = 7;
const unlike = unfolded(folded(pieces)).map((byte, place) => byte ^ pieces[place]);
console.log(JSON.stringify({{ heaps, caller, folded: folded(pieces).length, unlike: unlike.filter(Boolean).length, whole: unlike.length }}));
"""


def told():
    finished = run([node_program(), "--input-type=module", "--eval", SCRIPT])
    assert finished.well, finished.output
    return json.loads(finished.output)


def test_what_a_snapshot_has_in_common_with_the_first_memory_becomes_nothing_and_comes_back():
    assert told()["heaps"] == [[0, 0, 0, 0, 5, 6, 7, 8], [1, 2, 3, 4, 5, 6, 7, 8]]


def test_the_place_of_the_browsers_own_function_is_found_as_python_finds_it():
    assert told()["caller"] == [5, 6, 7, 8]


def test_what_is_empty_is_left_out_and_comes_back():
    spans = 2
    assert told()["folded"] == 4 * (2 + 2 * spans) + int(2.5 * 4096)
    assert told()["whole"] == int(4.5 * 4096)
    assert told()["unlike"] == 0
