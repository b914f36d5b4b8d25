"""What web/memory.mjs takes out of a snapshot comes back whole, and what the browser has of its own is found."""

import json

from site_builder.setting_up.checkout import WEB
from site_builder.setting_up.node import node_program
from site_builder.setting_up.running import run

# A heap of four pieces of 4096 bytes: the first memory reaches into the second, the third is empty. The heap that it is laid
# over was used up to its third piece.
SCRIPT = f"""
import {{ callerIn, exchange, folded, lay, opened, parts }} from {json.dumps((WEB / "memory.mjs").as_uri())};
const snapshot = new Uint8Array(16 + 4 * 4096).map((_, place) => (place < 16 + 2 * 4096 || place >= 16 + 3 * 4096 ? 1 + (place % 7) : 0));
new Uint32Array(snapshot.buffer).set([9, 16]);
const {{ head, heap }} = parts(snapshot);
const meant = heap.slice();
const first = meant.slice(0, 6000).map((byte, place) => (place < 4096 ? byte : byte + 1));
exchange(heap, first);
const bytes = folded({{ head, heap }});
// It comes in parts that end anywhere.
const found = opened([0, 5, 9_001].map((begin, at, begins) => bytes.slice(begin, begins[at + 1])));
const laid = new Uint8Array(4 * 4096).fill(77, 0, 3 * 4096);
lay(found, first, laid, 3 * 4096);
const pyodide = {{ __PyRuntime: 2, __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET: 4, HEAP32: new Int32Array([9, 2]) }};
console.log(JSON.stringify({{
  head: [...found.head],
  heapLength: found.heapLength,
  spans: found.spans.map(({{ begin, length }}) => [begin, length]),
  size: bytes.length,
  unlike: laid.filter((byte, place) => byte !== meant[place]).length,
  caller: [...callerIn(new Uint8Array([0, 1, 2, 3, 4, 5, 6, 7, 8]), pyodide)],
}}));
"""


def answer_in_units():
    finished = run([node_program(), "--input-type=module", "--eval", SCRIPT])
    assert finished.well, finished.output
    return json.loads(finished.output)


def test_what_is_empty_or_known_from_the_first_memory_is_left_out():
    found = answer_in_units()
    # The first piece is the first memory's own and the third is empty: the second and the fourth are left.
    assert found["spans"] == [[4096, 4096], [3 * 4096, 4096]]
    assert found["size"] == 4 * (3 + 2 * 2) + 16 + 2 * 4096


def test_all_of_it_comes_back_over_a_memory_that_was_in_use():
    found = answer_in_units()
    assert found["heapLength"] == 4 * 4096
    assert found["head"][:8] == [9, 0, 0, 0, 16, 0, 0, 0]
    assert found["unlike"] == 0


def test_the_place_of_the_browsers_own_function_is_found_as_python_finds_it():
    assert answer_in_units()["caller"] == [4, 5, 6, 7]
