"""Whoever asks over web/messages.js is answered or told why not, whatever the other side does."""

import json

import pytest

from site_builder.setting_up.checkout import WEB
from site_builder.setting_up.node import node_program
from site_builder.setting_up.running import run

# A worker that does what it is told to, and one that is asked of it. Half a second stands for the time that somebody would wait.
SCRIPT = f"""
import {{ answeringBy, ask }} from {json.dumps((WEB / "messages.js").as_uri())};
const jobs = {{
  add: ({{ one, other }}) => ({{ kind: "sum", sum: one + other }}),
  nothing: async () => {{}},
  fail: async () => {{ throw Object.assign(new Error("Traceback:\\n  line 1\\nthe store is full"), {{ told: {{ isFull: true }} }}); }},
  hang: () => new Promise(() => {{}}),
}};
const answer = answeringBy(jobs);
const worker = {{ postMessage: (data, ports) => setTimeout(() => answer({{ data, ports }})) }};
const deaf = {{ postMessage() {{}} }};
const gone = {{ postMessage() {{ throw new Error("there is nobody"); }} }};
const ending = new AbortController();
setTimeout(() => ending.abort(new Error("it was ended")), 50);
let patience = 3;
const WAYS = {{
  answered: () => ask(worker, "add", {{ one: 2, other: 3 }}, {{ limit: 500 }}),
  "answered with nothing": () => ask(worker, "nothing", {{}}, {{ limit: 500 }}),
  failed: () => ask(worker, "fail", {{}}, {{ limit: 500 }}),
  unknown: () => ask(worker, "fly", {{}}, {{ limit: 500 }}),
  hangs: () => ask(worker, "hang", {{}}, {{ limit: 50 }}),
  deaf: () => ask(deaf, "add", {{}}, {{ limit: 50 }}),
  "worth waiting for": () => ask(worker, "hang", {{}}, {{ limit: 20, goesOn: () => (patience -= 1) > 0 }}),
  gone: () => ask(gone, "add", {{}}, {{ limit: 500 }}),
  ended: () => ask(worker, "hang", {{}}, {{ limit: 500, ended: ending.signal }}),
  "ended before": () => ask(worker, "add", {{}}, {{ limit: 500, ended: AbortSignal.abort(new Error("it was ended")) }}),
}};
const told = {{}};
for (const [name, asks] of Object.entries(WAYS)) {{
  const never = new Promise((resolve) => setTimeout(resolve, 2_000, ["never"]));
  told[name] = await Promise.race([never, asks().then(
    (answer) => ["answered", answer ?? null],
    (error) => [error.constructor.name, error.message, error.told ?? null],
  )]);
}}
console.log(JSON.stringify({{ ...told, patience }}));
process.exit();
"""


@pytest.fixture(scope="module")
def told() -> dict:
    finished = run([node_program(), "--input-type=module", "--eval", SCRIPT])
    assert finished.well, finished.output
    return json.loads(finished.output)


def test_a_question_is_answered_by_the_job_of_its_kind(told):
    assert told["answered"] == ["answered", {"kind": "sum", "sum": 5}]
    assert told["answered with nothing"][0] == "answered"


def test_a_job_that_fails_says_so_in_its_last_line_with_what_else_it_has_to_tell(told):
    how, sentence, more = told["failed"]
    assert (how, sentence, more["isFull"]) == ("Failed", "the store is full", True)


def test_a_question_that_nobody_knows_fails(told):
    assert told["unknown"][0] == "Failed"


@pytest.mark.parametrize("way", ["hangs", "deaf", "worth waiting for"])
def test_silence_ends_with_the_time_that_was_set(told, way):
    assert told[way][:2] == ["NoAnswer", "it took too long"]


def test_there_may_be_reason_to_wait_on(told):
    assert told["patience"] == 0


def test_a_worker_that_is_gone_or_ended_leaves_nobody_waiting(told):
    assert told["gone"][:2] == ["Error", "there is nobody"]
    assert told["ended"][:2] == told["ended before"][:2] == ["Error", "it was ended"]
