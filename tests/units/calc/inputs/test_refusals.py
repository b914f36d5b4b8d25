"""A refusal is sentences, and has no place for a setting."""

from __future__ import annotations

from dataclasses import fields

from calc.inputs.refusals import Problem, Refusal, Refused

_EMPTY = Problem("capacity_mah", "Enter the capacity on the label.", missing=True)
_LOW = Problem("resting_v", "Cell 2 is below its floor: do not charge this pack.", go_to="pack-in-trouble")


def test_a_refusal_carries_every_problem() -> None:
    assert Refused(_EMPTY, _LOW).problems == (_EMPTY, _LOW)


def test_a_refusal_reads_as_its_sentences() -> None:
    assert str(Refused(_EMPTY, _LOW)) == f"{_EMPTY.sentence} {_LOW.sentence}"


def test_a_problem_leads_nowhere_unless_it_says_so() -> None:
    assert _EMPTY.go_to == ""


def test_a_refusal_has_no_room_for_a_figure() -> None:
    assert [one.name for one in fields(Refusal)] == ["problems"]
    assert {one.name for one in fields(Problem)} == {"field", "sentence", "go_to", "missing", "lasts"}
