"""Which packs may come, and how: the numbers at each limit, the damaged one, and the charge."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.asking.refusals import Problem, Refusal
from calc.figures.showing import Setting

# 3 x 3.7 V x 2.2 Ah are 24.42 Wh.
SMALL = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2200", "alike_packs": "1", "condition": "sound"}
# 6 x 3.7 V x 5 Ah are 111 Wh, and 7.3 Ah are 162.06 Wh.
LARGE = SMALL | {"cells": "6", "capacity_mah": "5000"}
TOO_LARGE = LARGE | {"capacity_mah": "7300"}


def entries(*packs: dict[str, str]) -> dict[str, str]:
    return {f"packs_{place}_{name}": text for place, pack in enumerate(packs, 1) for name, text in pack.items()}


def travel(*packs: dict[str, str]):
    found = answer("transport", entries(*packs))
    assert not isinstance(found, Refusal), found
    return found


def problem(*packs: dict[str, str]) -> Problem:
    found = answer("transport", entries(*packs))
    assert isinstance(found, Refusal)
    (only,) = found.problems
    return only


def number(setting: Setting | None) -> str:
    return "0" if setting is None else setting.figure.number


def test_watt_hours_are_those_of_the_nominal_voltage() -> None:
    assert str(travel(SMALL).kinds.rows[0].cells[0]) == "24.42\N{NO-BREAK SPACE}Wh"


def test_all_of_them_are_counted_together() -> None:
    # 4 x 24.42 + 111.
    assert str(travel(SMALL | {"alike_packs": "4"}, LARGE).all_energy.figure) == "208.68\N{NO-BREAK SPACE}Wh"


def test_the_label_counts_where_it_says_more() -> None:
    assert travel(SMALL | {"label_wh": "24.5"}).kinds.rows[0].cells[0].number == "24.50"
    assert travel(SMALL | {"label_wh": "24"}).kinds.rows[0].cells[0].number == "24.42"


@pytest.mark.parametrize(("label_wh", "words"), [("100", "may come"), ("100.001", "ask the airline"), ("160", "ask the airline"), ("160.001", "may not come")])
def test_a_pack_on_a_limit_is_within_it_and_a_hair_above_is_not(label_wh: str, words: str) -> None:
    assert travel(SMALL | {"label_wh": label_wh}).kinds.rows[0].cells[3] == words


def test_small_packs_come_without_asking_up_to_twenty() -> None:
    found = travel(SMALL | {"alike_packs": "23"})
    assert (number(found.free), number(found.left)) == ("20", "3")
    assert "20\N{NO-BREAK SPACE}packs in all are the most" in found.left.set_by


def test_two_large_packs_come_if_the_airline_agrees_and_a_third_stays() -> None:
    found = travel(LARGE | {"alike_packs": "3"})
    assert (number(found.free), number(found.by_approval), number(found.left)) == ("0", "2", "1")


def test_large_packs_that_are_approved_count_into_the_twenty() -> None:
    found = travel(SMALL | {"alike_packs": "20"}, LARGE)
    assert (number(found.free), number(found.by_approval), number(found.left)) == ("19", "1", "1")


def test_a_pack_that_is_too_large_stays_and_the_others_may_come() -> None:
    found = travel(SMALL, TOO_LARGE)
    assert (number(found.free), number(found.left)) == ("1", "1")
    assert "160\N{NO-BREAK SPACE}Wh each" in found.left.set_by


def test_nothing_stays_at_home_where_all_may_come() -> None:
    assert travel(SMALL).left is None


def test_no_spare_pack_goes_into_checked_baggage() -> None:
    assert str(travel(SMALL).checked_in.figure) == "0\N{NO-BREAK SPACE}packs"


def test_a_damaged_pack_goes_by_no_aircraft_however_small_it_is() -> None:
    found = travel(SMALL | {"condition": "damaged"})
    assert number(found.free) == "0"
    assert found.air_freight.figure == found.post.figure == "not at all"
    assert found.cautions[0].grave


def test_one_damaged_pack_among_sound_ones_is_not_overlooked() -> None:
    found = travel(SMALL, SMALL | {"condition": "damaged"})
    assert (number(found.free), number(found.left)) == ("1", "1")
    assert found.car.figure != "may come"


def test_a_damaged_pack_is_not_told_how_to_be_charged_for_the_journey() -> None:
    assert travel(SMALL | {"condition": "damaged"}).charge is None


def test_every_rule_says_from_when_it_is() -> None:
    found = travel(LARGE)
    rules = (found.free, found.by_approval, found.checked_in, found.car, found.post, found.road_freight, found.air_freight)
    assert all("20" in rule.set_by for rule in rules)


def test_the_pilot_is_told_to_check_the_carrier() -> None:
    assert any("check the airline and each country" in caution.sentence for caution in travel(SMALL).cautions)


def test_seventy_percent_of_the_label_is_taken_out_of_a_full_pack_for_freight() -> None:
    # 70 % of 2200 mAh.
    assert str(travel(SMALL).charge.rows[0].cells[3]) == "1540\N{NO-BREAK SPACE}mAh"


def test_an_iron_phosphate_pack_has_one_curve_and_no_range() -> None:
    assert travel(SMALL | {"chemistry": "life"}).charge.rows[0].cells[1] == "the same"


def test_a_pack_of_a_kind_not_known_is_refused_in_its_row() -> None:
    refused = problem(SMALL, SMALL | {"chemistry": "unknown"})
    assert refused.field == "packs_2_chemistry" and refused.sentence.startswith("Pack 2: no carrier")


def test_a_nickel_pack_is_sent_to_its_own_rules() -> None:
    assert "rules of its own" in problem(SMALL | {"chemistry": "nimh"}).sentence
