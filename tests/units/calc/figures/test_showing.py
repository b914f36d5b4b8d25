"""What an answer shows follows from its class: the words, the order, the kind, and nothing where nothing applies."""

from __future__ import annotations

from dataclasses import dataclass

from calc.figures.quantities import AMPERES, Figure
from calc.figures.showing import Caution, Setting, parts_of, shown

_CURRENT = Setting(figure=Figure(2.6, AMPERES), set_by="the label")
_CAUTION = Caution(sentence="Balance it at a low current.")


@dataclass(frozen=True, kw_only=True)
class _Answer:
    cautions: tuple[Caution, ...] = shown("Look out")
    current: Setting = shown("Charge current", "Dial in")
    discharge: Setting | None = shown("Discharge current", "Stops to set")


def test_parts_come_in_the_order_of_the_class() -> None:
    parts = parts_of(_Answer(cautions=(_CAUTION,), current=_CURRENT, discharge=_CURRENT))
    assert [part.key for part in parts] == ["cautions", "current", "discharge"]


def test_a_part_carries_its_words_its_section_and_its_kind() -> None:
    (part,) = parts_of(_Answer(cautions=(), current=_CURRENT, discharge=None))
    assert (part.title, part.section, part.kind, part.values) == ("Charge current", "Dial in", "setting", (_CURRENT,))


def test_several_of_one_kind_are_one_part() -> None:
    part = parts_of(_Answer(cautions=(_CAUTION, _CAUTION), current=_CURRENT, discharge=None))[0]
    assert part.kind == "caution"
    assert part.values == (_CAUTION, _CAUTION)


def test_what_does_not_apply_is_left_out() -> None:
    keys = [part.key for part in parts_of(_Answer(cautions=(), current=_CURRENT, discharge=None))]
    assert keys == ["current"]
