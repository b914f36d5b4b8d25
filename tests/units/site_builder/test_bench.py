"""What the measurements add up and print, without measuring."""

import os
from urllib.request import urlopen

import pytest

from site_builder.commands.bench import _print_once, _print_profile
from site_builder.engine.answer import respond_in_json
from site_builder.harness.host import CountingHost
from site_builder.measuring import answers, machine
from site_builder.measuring.machine import LOOPS, can_crowd, crowded_core, megabytes_of, started_on
from site_builder.measuring.starts import BARE, BARE_WORKER, EMPTY, EMPTY_KEPT, BareHost


def test_a_row_has_the_median_the_range_and_the_ratio_to_what_it_is_held_against(capsys):
    taken = {BARE: [40.0, 30.0, 50.0], EMPTY: [5.0], EMPTY_KEPT: [1.0]}
    taken |= {"first visit, first paint": [10.0], "second visit, first paint": [9.0, 1.0, 2.0], "second visit, live answer": [20.0]}
    _print_profile("a profile", taken)
    _, profile, bare, empty, kept, first, second, answer = capsys.readouterr().out.splitlines()
    assert profile.startswith("a profile")
    assert bare.endswith(f" 1.000 {BARE}")
    assert empty.endswith(f" 1.000 {EMPTY}")
    assert kept.endswith(f" 1.000 {EMPTY_KEPT}")
    assert first.endswith(f" 2.000 {EMPTY}")
    assert second.removesuffix(EMPTY_KEPT).split()[4:] == ["3", "2.0", "ms", "1.0", "to", "9.0", "2.0", "ms", "2.000"]
    assert answer.endswith(f" 0.500 {BARE}")


def test_the_same_questions_are_put_to_plain_cpython_and_answered(monkeypatch):
    asked = []
    monkeypatch.setattr(answers, "KEYS", 2)
    monkeypatch.setattr(answers, "respond_in_json", lambda *question: asked.append(respond_in_json(*question)))
    taken = answers.keys_in_cpython(lambda _: None)
    assert set(taken) == {f"{page.key}, plain CPython" for page in answers.calculators()}
    assert all(len(spans) == 2 and min(spans) > 0 for spans in taken.values())
    assert all('"kind": "answer"' in answer for answer in asked)


def test_what_is_measured_once_is_printed_with_its_unit(capsys):
    _print_once(
        {
            "machine": "a machine",
            "bytes of a first visit": {"built": 14_000_000, "sent": 13_500_000},
            "MB of memory": {"a page": 120.4, "another": None},
        }
    )
    machine, visit, page, another = capsys.readouterr().out.splitlines()
    assert machine == "a machine"
    assert visit.startswith("a first visit: 14.00 MB built, 13.50 MB sent")
    assert page == "memory of a page: 120 MB"
    assert another == "memory of another: not told here"


def test_a_host_adds_up_what_it_sends_and_is_gone_before_it_sends_too_much(tmp_path):
    (tmp_path / "one.txt").write_bytes(bytes(70))
    with CountingHost(tmp_path, at_most=150) as host:
        for _ in range(2):
            urlopen(f"{host.address}one.txt").read()
        with pytest.raises(ConnectionError):
            urlopen(f"{host.address}one.txt")
        (tmp_path / "one.txt").write_bytes(b"1")
        with pytest.raises(ConnectionError):
            urlopen(f"{host.address}one.txt")
        assert host.sent == 140
        assert host.asked == ["/one.txt", "/one.txt"]


def test_the_bare_boot_has_an_empty_page_a_worker_and_nothing_of_ours(tmp_path):
    (tmp_path / "pyodide.mjs").write_text("as published")
    with BareHost(tmp_path) as host:
        assert b"Empty" in urlopen(host.address).read()
        assert urlopen(f"{host.address}worker.js").read() == BARE_WORKER.encode()
        assert urlopen(f"{host.address}pyodide.mjs").read() == b"as published"


@pytest.mark.skipif(not can_crowd(), reason="this system ties no process to a core")
def test_a_crowded_core_is_left_as_it_was(monkeypatch):
    loops = []
    start = machine.subprocess.Popen
    monkeypatch.setattr(machine.subprocess, "Popen", lambda *given: loops.append(start(*given)) or loops[-1])
    before = os.sched_getaffinity(0)
    with crowded_core() as core, started_on(core):
        assert os.sched_getaffinity(0) == {core}
        assert [loop.poll() for loop in loops] == [None] * LOOPS
    assert os.sched_getaffinity(0) == before
    assert None not in [loop.poll() for loop in loops]


def test_memory_that_the_system_does_not_tell_is_no_number():
    assert megabytes_of(set()) is None
