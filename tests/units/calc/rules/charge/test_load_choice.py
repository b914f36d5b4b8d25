"""Which load empties a pack, and which one at hand is sent away."""

from __future__ import annotations

import pytest

from calc.inputs.refusals import Problem, Refused
from calc.rules.charge.load_choice import Load, lamps_for, ohm_figure, resistor_for


def _resistor(**own: float | None) -> Load:
    # Four cells of 5 Ah: 16.8 V, and 16.8 V over 1 A are 16.8 ohm.
    return resistor_for(full_pack_v=16.8, capacity_ah=5.0, rate_c=0.2, **own)


def _problem(**own: float | None) -> Problem:
    with pytest.raises(Refused) as refused:
        _resistor(**own)
    (problem,) = refused.value.problems
    return problem


def _lamps(**changes: float) -> Load:
    return lamps_for(**({"full_pack_v": 25.2, "capacity_ah": 5.0, "lamp_v": 12.0, "lamp_w": 21.0} | changes))


def test_the_resistor_is_the_next_value_up_and_rated_twice() -> None:
    load = _resistor()
    # 16.8 V on 18 ohm are 15.7 W, and twice that 31.4 W.
    assert (load.ohm, load.rated_w) == (18.0, 32.0)


def test_a_resistor_at_hand_is_taken_as_it_is() -> None:
    assert (_resistor(own_ohm=33.0, own_w=50.0).ohm, _resistor(own_ohm=33.0, own_w=50.0).rated_w) == (33.0, 50.0)


def test_a_resistor_that_draws_more_than_1c_is_sent_away() -> None:
    # 16.8 V over 5 A are 3.36 ohm, and the next value up is 3.9.
    problem = _problem(own_ohm=3.3)
    assert problem.field == "resistor_ohm"
    assert problem.sentence.replace("\N{NO-BREAK SPACE}", " ").endswith("use 3.9 Ω or more.")
    assert _resistor(own_ohm=3.36).ohm == 3.36


def test_a_resistor_that_is_rated_too_low_is_sent_away() -> None:
    problem = _problem(own_w=31.0)
    assert problem.field == "resistor_w"
    assert "32\N{NO-BREAK SPACE}W or more" in problem.sentence


def test_lamps_share_a_pack_s_full_voltage() -> None:
    assert _lamps().lamps == 3


def test_lamps_that_are_too_strong_for_a_small_pack_are_sent_away() -> None:
    with pytest.raises(Refused) as refused:
        _lamps(full_pack_v=8.4, capacity_ah=0.35)
    (problem,) = refused.value.problems
    assert problem.field == "lamp_w"
    # 5 W on 12 V at 8.4 V: 0.417 A x 0.7^0.55, which is 0.342 A and within 0.35 A; 6 W is not.
    assert "use lamps of 5\N{NO-BREAK SPACE}W at most for 12.0\N{NO-BREAK SPACE}V" in problem.sentence


def test_a_pack_too_small_for_any_lamp_takes_a_resistor() -> None:
    with pytest.raises(Refused, match="use a resistor"):
        _lamps(full_pack_v=4.2, capacity_ah=0.03)


def test_two_loads_of_a_kind_may_differ_by_a_tenth() -> None:
    least, likely, most = (of(18.0) for of in _resistor().currents_of)
    assert (least, likely, most) == pytest.approx((0.9, 1.0, 1.1))


@pytest.mark.parametrize("ohm, text", [(0.82, "0.82"), (4.7, "4.7"), (22.0, "22"), (3.3333, "3.333")])
def test_ohms_are_shown_as_they_stand_on_the_part(ohm: float, text: str) -> None:
    assert ohm_figure(ohm).number == text


@pytest.mark.parametrize(
    ("own", "field", "sentence"),
    [
        ({"own_ohm": 3.3}, "resistor_ohm", "This resistor would draw more than 1.00 C from a full pack: use 3.9 Ω or more."),
        ({"own_w": 31.0}, "resistor_w", "A resistor of 18 Ω gets too hot on this pack: use one rated for 32 W or more."),
    ],
)
def test_a_resistor_that_will_not_do_is_told_why_and_what_will(own: dict[str, float], field: str, sentence: str) -> None:
    problem = _problem(**own)
    assert (problem.field, problem.sentence.replace("\N{NO-BREAK SPACE}", " ")) == (field, sentence)


def test_a_resistor_of_exactly_the_rating_that_is_needed_does() -> None:
    assert _resistor(own_w=32.0).rated_w == 32.0


@pytest.mark.parametrize(
    ("lamps", "sentence"),
    [
        # 21 W on 12 V at 4.2 V: 1.75 A x 0.35^0.55, which is 0.98 A. Not even 1 W would do.
        ({"full_pack_v": 4.2, "capacity_ah": 0.03}, "These lamps would draw 1.0 A, more than 1.00 C of this pack: use a resistor."),
        # 2 W on 12 V draw 0.17 A at 12 V, twice what a pack of 1/12 Ah may give: half of that is the smallest bulb.
        (
            {"full_pack_v": 12.0, "capacity_ah": 1 / 12, "lamp_w": 2.0},
            "These lamps would draw 0.2 A, more than 1.00 C of this pack: use lamps of 1 W at most for 12.0 V.",
        ),
    ],
)
def test_lamps_that_draw_too_much_are_told_how_much_and_what_to_use(lamps: dict[str, float], sentence: str) -> None:
    with pytest.raises(Refused) as refused:
        _lamps(**lamps)
    (problem,) = refused.value.problems
    assert (problem.field, problem.sentence.replace("\N{NO-BREAK SPACE}", " ")) == ("lamp_w", sentence)


def test_lamps_that_draw_exactly_1c_are_taken() -> None:
    # 12 W on 12 V draw 1 A, and the pack holds 1 Ah.
    assert _lamps(full_pack_v=12.0, capacity_ah=1.0, lamp_w=12.0).lamps == 1
