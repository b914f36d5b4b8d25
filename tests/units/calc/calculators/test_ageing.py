"""The ageing of a pack: the verdict with its one reason, what is left, and what is said where the lines are too few."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answering import answer, standing_of
from calc.inputs.refusals import Refusal

PACK = {"chemistry": "lipo", "cells": "4", "capacity_mah": "5000"}


def lines(*each: dict[str, str]) -> dict[str, str]:
    return {f"lines_{number}_{name}": text for number, line in enumerate(each, 1) for name, text in line.items()}


def measured(*capacities_mah: float, charges: int = 10) -> dict[str, str]:
    """A check every two months, so many charges after the one before."""
    each = [
        {
            "day": f"2024-{1 + 2 * place:02}-01",
            "kind": "check",
            "charges": str(charges if place else 0),
            "measured_capacity_mah": f"{mah:g}",
        }
        for place, mah in enumerate(capacities_mah)
    ]
    return lines(*each)


def ageing(entries: dict[str, str], **changes: str) -> Any:
    found = answer("ageing", PACK | entries | changes)
    assert not isinstance(found, Refusal), found
    return found


def words(text: object) -> str:
    return str(text).replace("\u00a0", " ")


def test_a_steady_fall_says_what_is_held_and_when_it_is_over() -> None:
    # 2 % for ten charges: 90 % after fifty, 80 % after another fifty.
    found = ageing(measured(5000, 4900, 4800, 4700, 4600, 4500))
    assert words(found.life.figure) == "Ageing"
    assert words(found.life.set_by) == "90 % of its own first capacity; over at 80 % and less: about 50 charges away"
    assert words(found.held.likely) == "90 %"
    assert found.charges_left.likely.value == pytest.approx(50)
    # Fifty charges took 305 days.
    assert found.months_left.likely.value == pytest.approx(305 / 365.25 * 12, rel=0.01)
    assert standing_of(found).taken_out == ""


def test_a_pack_shortly_before_its_end_is_warned_of() -> None:
    found = ageing(measured(5000, 4850, 4700, 4550, 4400, 4250))
    assert words(found.life.figure) == "Near its end"
    assert found.life.warns


def test_exactly_four_fifths_of_the_first_is_over() -> None:
    found = ageing(measured(5000, 4800, 4600, 4400, 4200, 4000))
    assert words(found.life.figure) == "Take it out of use"
    assert not found.life.may
    assert standing_of(found).taken_out.startswith("By its log it has 80")


def test_shortly_before_four_fifths_it_does_not_read_as_four_fifths() -> None:
    found = ageing(measured(5000, 4804, 4608, 4412, 4216, 4020))
    assert found.life.figure != "Take it out of use"
    assert words(found.life.set_by).startswith("80.4 % of its own first capacity; over at 80 % and less")
    assert words(found.of_label.figure) == "80.4 %"


def test_the_label_counts_where_it_is_stricter() -> None:
    """It began with nine tenths of its label: 3950 mAh are 88 % of that, and 79 % of the label."""
    found = ageing(measured(4500, 4400, 4290, 4180, 4060, 3950))
    assert words(found.life.set_by).startswith("79 % of the capacity on its label")
    assert not found.life.may


def test_an_end_by_the_label_that_comes_sooner_is_said_beside_what_is_left() -> None:
    """It began with 96 % of its label and loses 144 mAh in ten charges: from 4080 mAh to four fifths of 5000 it is 5.6 charges, to four fifths of
    its own first 16.7.
    """
    found = ageing(measured(4800, 4656, 4512, 4368, 4224, 4080))
    assert found.charges_left.likely.value == pytest.approx(50 / 3)
    (caution,) = found.cautions
    assert words(caution.sentence) == (
        "By its label it is over sooner: at 4000 mAh, four fifths of it, about 6 charges away. From there on every page takes it out of use."
    )


@pytest.mark.parametrize(
    "capacities",
    [
        (5000, 4900, 4800, 4700, 4600, 4500),  # began with what its label says
        (5200, 5100, 5000, 4900, 4800, 4700),  # and with more
        (4500, 4400, 4290, 4180, 4060, 3950),  # out of use by its label already
        (4800, 4801, 4799, 4800, 4801, 4800),  # and one that does not fall
    ],
)
def test_nothing_is_said_of_the_label_where_it_ends_no_pack_sooner(capacities: tuple[float, ...]) -> None:
    assert ageing(measured(*capacities)).cautions == ()


def test_a_capacity_that_only_follows_from_a_charge_is_not_held_against_the_label() -> None:
    """By the curve of another cell it may be off by a tenth, in each line alike."""
    charged = [
        {
            "day": f"2024-{1 + 2 * place:02}-01", "kind": "charge", "charges": "10" if place else "0", "from_v": "3.70 3.70 3.70 3.70",
            "put_in_mah": f"{mah}",
        }
        for place, mah in enumerate((3600, 3492, 3384, 3276, 3168, 3060))
    ]  # fmt: skip
    assert ageing(lines(*charged)).cautions == ()


def test_a_pack_that_holds_more_than_its_label_ends_by_its_own_first() -> None:
    found = ageing(measured(5400, 5180, 4960, 4750, 4530, 4300))
    assert words(found.life.set_by).startswith("79.6 % of its own first capacity")
    assert not found.life.may


def test_few_lines_are_too_few_to_tell_and_a_study_stands_beside() -> None:
    found = ageing(measured(5000, 4900, 4800, 4700))
    assert words(found.life.figure) == "Too few lines to tell"
    assert (found.charges_left, found.picture, found.held) == (None, None, None)
    assert "Schmalstieg" in found.by_a_study.note
    assert found.by_a_study.least.value < found.by_a_study.likely.value < found.by_a_study.most.value


def test_lines_that_scatter_too_widely_for_a_trend_are_not_said_to_lack_only_their_number() -> None:
    read = ("2.0", "2.6", "2.4", "2.1", "3.0", "2.2", "1.7")
    found = ageing(
        lines(*({"day": f"2024-0{place}-01", "kind": "check", "cell_resistance_mohm": one} for place, one in enumerate(read, 1)))
    )
    assert words(found.life.figure) == "Too few lines to tell"
    assert words(found.life.set_by).endswith("each on a day of its own. If they scatter, it takes more")


def test_two_lines_are_enough_to_see_that_it_is_over() -> None:
    assert not ageing(measured(5300, 4100)).life.may


def test_scatter_that_shows_no_fall_is_said_to_show_none() -> None:
    found = ageing(measured(4950, 5010, 4930, 5020, 4960, 5000))
    assert words(found.life.figure) == "Steady so far"
    assert words(found.charges_left.figure).startswith(("at least", "more than"))


def test_no_more_is_promised_than_the_lines_go_back() -> None:
    found = ageing(measured(5000, 4999, 4998, 4997, 4996, 4995))
    assert words(found.charges_left.figure) == "at least 50 charges"
    assert found.charges_left.set_by == "no line that fits reaches the end before then"


@pytest.mark.parametrize(("mah", "left"), [(70, "about 93 charges away"), (60, "less")])
def test_no_line_is_followed_further_than_twice_of_what_was_seen(mah: int, left: str) -> None:
    # 1.4 % for ten charges: 93 charges on from 50 it is over; with 1.2 % it would take 117.
    found = ageing(measured(*(5000 - mah * place for place in range(6))))
    assert words(found.life.set_by).endswith(left)


def test_twice_the_first_resistance_is_over_whatever_the_capacity() -> None:
    each = [
        {"day": f"2024-0{place + 1}-01", "kind": "check", "charges": "10", "cell_resistance_mohm": f"{mohm:g}", "line_degc": "25"}
        for place, mohm in enumerate((3, 3.7, 4.2, 4.9, 5.4, 6.1))
    ]
    found = ageing(lines(*each))
    assert words(found.life.set_by).startswith("203 % of its own first resistance")
    assert not found.life.may


def test_a_cold_reading_does_not_age_a_pack() -> None:
    warm = [
        {"day": f"2024-0{place + 1}-01", "kind": "check", "charges": "10", "cell_resistance_mohm": "4", "line_degc": "25"}
        for place in range(5)
    ]
    cold = {"day": "2024-06-01", "kind": "check", "charges": "10", "cell_resistance_mohm": "7.6", "line_degc": "0"}
    found = ageing(lines(*warm, cold))
    assert found.life.may
    assert found.resistance.likely.value == pytest.approx(100, abs=2)


def test_a_resistance_without_its_temperature_is_left_out_and_that_is_said() -> None:
    found = ageing(lines({"day": "2024-01-01", "kind": "check", "cell_resistance_mohm": "4"}))
    assert found.resistance is None
    assert "left out" in found.cautions[0].sentence


def test_a_pack_that_is_hardly_flown_is_followed_by_time() -> None:
    found = ageing(measured(5000, 4900, 4800, 4700, 4600, 4500, charges=0))
    assert found.months_left is None
    assert found.charges_left.likely.quantity.suffix == "months"


def test_the_lines_are_listed_by_their_days_with_what_each_says() -> None:
    found = ageing(measured(5000, 4900))
    assert [(row.heading, words(row.cells[2]), words(row.cells[3])) for row in found.every_line.rows] == [
        ("1 January 2024", "5000 mAh", "100 %"),
        ("1 March 2024", "4900 mAh", "98 %"),
    ]


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("lines_1_measured_capacity_mah", "6000", "more than such a pack can hold"),
        ("lines_1_discharged_mah", "6000", "more than such a pack can hold"),
        ("lines_1_day", "3/5/24", "must be written as 2026-05-03"),
        ("lines_1_day", "2024-02-30", "there is no 30 February"),
        ("lines_1_from_v", "3.7 3.7", "2 were read, and the pack has 4"),
        ("lines_1_to_v", "4.15", "is no voltage of a cell"),
        ("lines_1_day", "", "Enter the day of this line"),
    ],
)
def test_what_cannot_be_is_sent_back_at_its_line(field: str, text: str, says: str) -> None:
    found = answer("ageing", PACK | measured(5000) | {field: text})
    assert isinstance(found, Refusal)
    [problem] = found.problems
    assert problem.field == field
    assert says.lower() in words(problem.sentence).lower()


def test_a_pack_that_nobody_untrained_may_touch_is_refused_as_on_every_page() -> None:
    # 16 cells of 4.20 V are 67.20 V, and 14 are 58.80 V.
    found = answer("ageing", PACK | measured(5000, 4900) | {"cells": "16"})
    assert isinstance(found, Refusal)
    assert [(one.field, "anybody may touch" in one.sentence) for one in found.problems] == [("cells", True)]
    ageing(measured(5000, 4900), cells="14")


def test_a_line_that_falls_beyond_nothing_shows_nothing_and_not_less() -> None:
    found = ageing(
        lines(
            *(
                {
                    "day": f"2024-0{1 + place}-01",
                    "kind": "check",
                    "charges": str(10 if place else 0),
                    "line_degc": "25",
                    "cell_resistance_mohm": ohms,
                }
                for place, ohms in enumerate(("60", "47", "33", "18", "5"))
            ),
            {"day": "2024-08-01", "kind": "check", "charges": "60"},
        )
    )
    assert words(found.resistance.least) == words(found.resistance.likely) == "0 %"
    assert "-" not in found.life.set_by


def test_a_cell_with_twice_the_resistance_of_the_others_ends_a_pack_here_as_on_every_page() -> None:
    read = lines(
        {"day": "2024-01-01", "kind": "check", "each_mohm": "5 5 5 5"}, {"day": "2024-05-01", "kind": "check", "each_mohm": "5 5 10 5"}
    )
    found = ageing(read)
    assert words(found.life.figure) == "Take it out of use"
    assert words(found.life.set_by) == "200 % of the middle of its other cells' resistances; over at 200 % and more"
    other = {
        "cell_resistances_mohm": "5 5 10 5",
        "resting_v": "3.8 3.8 3.8 3.8",
        "pack_degc": "20",
        "look": "sound",
        "load_kind": "resistor",
    }
    assert words(answer("end_of_life", PACK | other | {"emptying_rate_c": "0.2"}).life.figure) == words(found.life.figure)
    # A later reading takes the place of an earlier one.
    assert (
        words(ageing(read | lines({}, {}, {"day": "2024-06-01", "kind": "check", "each_mohm": "5 5 6 5"})).life.figure)
        != "Take it out of use"
    )


@pytest.mark.parametrize(
    ("read", "says", "section"),
    [
        ({"from_v": "3.84 2.95 3.84 3.84"}, "cell 2 rests at 2.950 V, below its floor of 3.00 V: it may be harmed inside", "run-too-flat"),
        ({"from_v": "3.84 3.84 3.84 3.84", "to_v": "4.20 4.24 4.20 4.20"}, "cell 2 rests at 4.240 V, above its full voltage", "charged-too-far"),
        ({"from_v": "4.15 4.15 3.70 4.15"}, "cell 3 has dropped away", "afterwards"),
        ({"to_v": "11.8"}, "the mean cell rests at 2.950 V, below its floor", "run-too-flat"),
    ],
)  # fmt: skip
def test_a_cell_that_was_last_read_beyond_its_limits_ends_a_pack_here_as_on_every_page(
    read: dict[str, str], says: str, section: str
) -> None:
    log = lines({"day": "2024-01-01", "kind": "check", "from_v": "3.84 3.84 3.84 3.84"}, {"day": "2024-05-01", "kind": "check"} | read)
    found = ageing(log)
    assert words(found.life.figure) == "Take it out of use"
    assert words(found.life.set_by).startswith(f"a bad cell, last read on 1 May 2024: {says}")
    assert [caution.go_to for caution in found.cautions] == [f"pack-in-trouble#{section}"]
    assert words(standing_of(found).taken_out).startswith(f"By its log it has a bad cell, last read on 1 May 2024: {says}")
    # A later reading takes the place of an earlier one.
    later = ageing(log | lines({}, {}, {"day": "2024-06-01", "kind": "check", "from_v": "3.84 3.84 3.84 3.84"}))
    assert words(later.life.figure) != "Take it out of use"


@pytest.mark.parametrize(("later", "is_over"), [("15.2", True), ("3.84 3.84 3.84 3.84", False)])
def test_a_bad_cell_stays_one_until_each_cell_was_read_again(later: str, is_over: bool) -> None:
    bad = {"day": "2024-05-01", "kind": "check", "from_v": "3.84 3.84 2.95 3.84"}
    found = ageing(lines(bad, {"day": "2024-06-01", "kind": "check", "from_v": later}))
    assert (words(found.life.figure) == "Take it out of use") == is_over


def test_a_whole_pack_that_was_low_is_judged_by_its_last_reading() -> None:
    sound = {"day": "2024-03-01", "kind": "check", "from_v": "3.84 3.84 3.84 3.84"}
    low, later = ({"day": f"2024-0{month}-01", "kind": "check", "from_v": v} for month, v in ((5, "11.8"), (6, "15.2")))
    assert words(ageing(lines(sound, low)).life.figure) == "Take it out of use"
    assert words(ageing(lines(sound, low, later)).life.figure) != "Take it out of use"


def test_a_cell_at_its_floor_ends_no_pack() -> None:
    log = lines({"day": "2024-05-01", "kind": "check", "from_v": "3.00 3.00 3.01 3.00", "to_v": "4.22 4.20 4.20 4.20"})
    assert words(ageing(log).life.figure) != "Take it out of use"


def test_of_a_pack_that_is_over_nothing_says_when_its_label_would_have_ended_it() -> None:
    log = measured(4800, 4656, 4512, 4368, 4224, 4080)
    bad = log | {"lines_6_from_v": "2.90 3.84 3.84 3.84"}
    assert ["By its label" in caution.sentence for found in (ageing(log), ageing(bad)) for caution in found.cautions] == [True, False]
