"""What is asked is written once, on the field, and read from there by the form and by the sentences."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from calc.figures.quantities import AMPERES, CELL_VOLTS, METRES
from calc.inputs.fields import Group, Kind, choice, entries_of, number, plain, readings, same_as

_PACK = Group("pack", "This pack")
_SUPPLY = Group("supply", "The supply", kept=True)


@dataclass(frozen=True, kw_only=True)
class _Inputs:
    current_a: float = number("Current", AMPERES, group=_PACK, least=0.1, most=50, starts_as="1", measured=True)
    resting_v: tuple[float, ...] = readings("Resting voltage", CELL_VOLTS, group=_PACK, least=0, most=70)
    kind: str = choice("Supply", {"mains": "Mains", "battery": "Battery"}, group=_SUPPLY, starts_as="mains")
    lead_m: float | None = number("Lead", METRES, group=_SUPPLY, least=0.1, most=30, only_with=("kind", ("battery",)))
    spare_a: float | None = number("Spare current", AMPERES, group=_PACK, least=0, most=5, optional=True)


_ASKED = entries_of(_Inputs)


def test_entries_come_in_the_order_of_the_class() -> None:
    assert list(_ASKED) == ["current_a", "resting_v", "kind", "lead_m", "spare_a"]


def test_a_number_carries_its_label_its_unit_and_its_bounds() -> None:
    entry = _ASKED["current_a"]
    assert (entry.kind, entry.label, entry.quantity) == (Kind.NUMBER, "Current", AMPERES)
    assert (entry.least, entry.most, entry.starts_as, entry.measured) == (0.1, 50, "1", True)


def test_a_choice_carries_its_options_in_order() -> None:
    assert _ASKED["kind"].kind is Kind.CHOICE
    assert list(_ASKED["kind"].options) == ["mains", "battery"]


def test_voltages_are_measured_and_so_never_brought_back() -> None:
    assert _ASKED["resting_v"].kind is Kind.READINGS
    assert _ASKED["resting_v"].measured


def test_what_is_asked_on_another_page_too_keeps_its_label_and_its_bounds() -> None:
    again = same_as(_Inputs, "current_a", hint="On this page.", only_with=("kind", ("mains",))).metadata["entry"]
    assert (again.label, again.quantity, again.least, again.most) == ("Current", AMPERES, 0.1, 50)
    assert (again.hint, again.only_with) == ("On this page.", ("kind", ("mains",)))


def test_what_is_asked_without_a_change_is_the_same_entry() -> None:
    assert same_as(_Inputs, "lead_m").metadata["entry"] == _ASKED["lead_m"]


def test_what_need_not_be_entered_has_no_value() -> None:
    inputs = _Inputs(current_a=1.0, resting_v=(3.8,), kind="mains")
    assert inputs.lead_m is None
    assert inputs.spare_a is None


def test_what_must_be_entered_has_no_default() -> None:
    with pytest.raises(TypeError, match="current_a"):
        _Inputs(resting_v=(3.8,), kind="mains")


@pytest.mark.parametrize("value, text", [(60_000, "60000"), (60_000.0, "60000"), (0.1, "0.1"), (25.2, "25.2"), (-40, "-40")])
def test_a_bound_is_written_as_a_pilot_writes_it(value: float, text: str) -> None:
    assert plain(value) == text


def test_an_absurd_number_is_written_without_failing() -> None:
    assert plain(1e300) == "1e+300"
