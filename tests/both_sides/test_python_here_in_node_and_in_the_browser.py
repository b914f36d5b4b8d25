"""CPython on this machine and Pyodide, in node and in the browser, give the same answers, to the last character.

The worker is the pages' own, out of dist/, started with the message that engine.js starts it with. All that asks every question stands in
this file: drawing them takes as long as answering them.
"""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import product
from typing import Any

import pytest
from playwright.sync_api import Page, sync_playwright

from site_builder.commands.serve import Server
from site_builder.harness.phone import open_browser
from site_builder.setting_up.checkout import DIST
from tests.both_sides.cases import Case, answers_here, cases
from tests.both_sides.in_node import FAULTS, LOOKED_FOR, REMEDY, TELL_FAULTS, WATCH, asked_in_node
from tests.properties.typed_entries import GROWING_KEYS, KEYS

BATCH = 40

# Ends when the worker has answered; a worker that fails rejects, so nothing waits for a time.
ASK = """([code, questions]) => {
  const worker = (window.workerUnderTest ??= new Worker(`${code}/worker.js`, { type: "module" }));
  const answer = (question) => new Promise((resolve, reject) => {
    const { port1, port2 } = new MessageChannel();
    worker.onerror = (event) => reject(new Error(event.message || "the worker's script did not load"));
    port1.onmessage = ({ data }) => (data?.kind === "failed" ? reject(new Error(data.sentence)) : resolve(data));
    worker.postMessage(question, [port2]);
  });
  return Promise.all(questions.map(answer));
}"""


@dataclass(frozen=True)
class Asked:
    """A question with what each side said to it."""

    case: Case
    here: dict[str, Any]
    in_browser: dict[str, Any]

    @property
    def differences(self) -> list[str]:
        return [
            f"{self.case.key} {self.case.entries} {self.case.units}\n  {name} here:       {self.here[name]!r:.2000}\n"
            f"  {name} in browser: {self.in_browser.get(name, self.in_browser)!r:.2000}"
            for name in self.here
            if self.in_browser.get(name) != self.here[name]
        ]


@pytest.fixture(scope="module")
def asked() -> list[Asked]:
    if "FIELDSLATE_BROWSER" not in os.environ:
        pytest.fail(f"FIELDSLATE_BROWSER names no browser: {REMEDY}")
    if not (DIST / "service-worker.js").is_file():
        pytest.fail(f"dist/ is not built: {REMEDY}")
    questions = cases()
    # In a thread of its own: Playwright runs once in a thread, and the browser tests may hold this one's.
    with ThreadPoolExecutor(max_workers=1) as aside:
        answers = aside.submit(answers_in_browser, questions).result()
    return [Asked(*one) for one in zip(questions, answers_here(questions), answers, strict=True)]


@pytest.fixture(scope="module")
def restored(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What node says after a start from the snapshot, with no library at hand."""
    after = f"{TELL_FAULTS}\nfaults = told\n{LOOKED_FOR}\ntold = [faults, told]"
    return asked_in_node("quick", cases(), tmp_path_factory.mktemp("restored"), WATCH, after)


def answers_in_browser(questions: list[Case]) -> list[dict[str, Any]]:
    with sync_playwright() as playwright, Server(DIST) as site:
        browser = open_browser(playwright, os.environ["FIELDSLATE_BROWSER"])
        # Without a service worker: the files come from the host as they were built. Without our policy, which lets a page's own
        # scripts alone start a worker.
        page = browser.new_context(service_workers="block", bypass_csp=True).new_page()
        page.goto(f"{site.address}index.html")
        page.evaluate(ASK, [folder("code"), [{"kind": "boot", "way": "quick", "engine": f"{site.address}{folder('engine')}/"}]])
        answers = [answer for start in range(0, len(questions), BATCH) for answer in ask(page, questions, start)]
        browser.close()
    return answers


def folder(name: str) -> str:
    [built] = DIST.glob(f"{name}-*")
    return built.name


def ask(page: Page, questions: list[Case], start: int) -> list[dict[str, Any]]:
    batch = questions[start : start + BATCH]
    messages = [{"kind": "answer", "calculator": case.key, "entries": case.entries, "units": case.units} for case in batch]
    return page.evaluate(ASK, [folder("code"), messages])


def test_both_sides_give_the_same_answer_to_the_last_character(asked: list[Asked]) -> None:
    differences = [difference for one in asked for difference in one.differences]
    assert not differences, f"{len(differences)} differ, the first of them:\n" + "\n".join(differences[:3])


def test_at_least_five_hundred_questions_were_asked_and_every_calculator_answered_and_refused(asked: list[Asked]) -> None:
    assert len({(one.case.key, tuple(sorted(one.case.entries.items()))) for one in asked}) >= 500
    kinds = {*product(KEYS, ("answer", "refusal")), *product(GROWING_KEYS, ("partial",))}
    assert {(one.case.key, one.here["kind"]) for one in asked} == kinds


def test_the_baked_example_of_a_page_is_the_live_answer_byte_for_byte(asked: list[Asked]) -> None:
    baked = [one for one in asked if one.case.page]
    assert baked
    wrong = [
        f"{one.case.page} does not hold what its calculator answers to its worked example: {REMEDY}, which builds it anew"
        for one in baked
        if one.in_browser["html"].encode() not in (DIST / one.case.page).read_bytes()
    ]
    assert not wrong, "\n".join(wrong)


def test_the_snapshot_answers_and_refuses_in_node_to_the_last_character_as_python_here_does(
    asked: list[Asked], restored: dict[str, Any]
) -> None:
    assert [one.case for one, there in zip(asked, restored["answers"], strict=True) if there != one.here] == []


def test_a_fault_after_a_start_from_the_snapshot_is_told_by_its_own_name(restored: dict[str, Any]) -> None:
    here: dict[str, Any] = {}
    exec(TELL_FAULTS, here)
    assert len(here["told"]) == len(FAULTS)
    assert dict(zip(FAULTS, restored["after"][0], strict=True)) == dict(zip(FAULTS, here["told"], strict=True))


def test_no_answer_no_refusal_and_no_fault_looks_for_a_module_that_the_snapshot_lacks(restored: dict[str, Any]) -> None:
    assert restored["after"][1] == [], "import these in site_builder/snapshot/warm.py, or do there what imports them"
