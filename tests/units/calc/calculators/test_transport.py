"""Which packs may come, and how: the numbers at each limit, the damaged one, and the charge."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.figures.showing import Setting
from calc.inputs.refusals import Problem, Refusal

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


def test_a_pack_that_nobody_untrained_may_touch_travels_by_its_watt_hours_and_is_warned_of() -> None:
    # 16 x 3.7 V x 1 Ah are 59.2 Wh: a carrier takes it, and full it has 67.20 V.
    tall = SMALL | {"cells": "16", "capacity_mah": "1000"}
    found = travel(SMALL, tall)
    assert str(found.kinds.rows[1].cells[0]) == "59.20\N{NO-BREAK SPACE}Wh" and found.kinds.rows[1].cells[3] == "may come"
    [caution] = [one for one in found.cautions if "anybody may touch" in one.sentence]
    assert caution.grave and caution.sentence.startswith("Pack 2: 16\N{NO-BREAK SPACE}cells of 4.20\N{NO-BREAK SPACE}V make 67.20")
    assert not any("anybody may touch" in one.sentence for one in travel(SMALL, tall | {"cells": "14"}).cautions)


def test_all_of_them_are_counted_together() -> None:
    # 4 x 24.42 + 111.
    assert str(travel(SMALL | {"alike_packs": "4"}, LARGE).all_energy.figure) == "208.68\N{NO-BREAK SPACE}Wh"


def counted(**pack: str) -> str:
    return travel(SMALL | pack).kinds.rows[0].cells[0].number


@pytest.mark.parametrize(("chemistry", "capacity_mah", "least_wh", "most_wh"), [
    # 4 x 5 Ah x 3.6 or 3.7 V; 4 x 5 Ah x 3.2 or 3.3 V; 4 x 5 Ah x 3.8 or 3.85 V.
    ("liion", "5000", "72.00", "74.00"), ("life", "5000", "64.00", "66.00"), ("lihv", "5000", "76.00", "77.00"),
])  # fmt: skip
def test_without_watt_hours_on_the_label_the_highest_nominal_voltage_counts(
    chemistry: str, capacity_mah: str, least_wh: str, most_wh: str
) -> None:
    pack = {"chemistry": chemistry, "cells": "4", "capacity_mah": capacity_mah}
    assert counted(**pack) == most_wh
    assert counted(**pack, label_wh=least_wh) == least_wh


def test_a_round_pack_near_a_hundred_watt_hours_is_asked_about_until_its_label_is_read() -> None:
    # 4 x 6.8 Ah x 3.7 V are 100.64 Wh, and x 3.6 V 97.92 Wh.
    pack = SMALL | {"chemistry": "liion", "cells": "4", "capacity_mah": "6800"}
    assert travel(pack).kinds.rows[0].cells[3] == "ask the airline"
    assert travel(pack | {"label_wh": "97.9"}).kinds.rows[0].cells[3] == "may come"


def test_printed_watt_hours_win_and_are_rounded_as_labels_are() -> None:
    assert counted(label_wh="24.5") == "24.50"
    assert counted(label_wh="24") == "24.00"


def test_printed_watt_hours_that_are_too_few_for_the_capacity_do_not_count_and_are_questioned() -> None:
    # 24.42 Wh by its cells and capacity: 23.9 is more than half a watt-hour below.
    assert counted(label_wh="23.9") == "24.42"
    assert any("do not fit its cells and capacity" in caution.sentence for caution in travel(SMALL | {"label_wh": "23.9"}).cautions)
    assert not any("do not fit" in caution.sentence for caution in travel(SMALL | {"label_wh": "24"}).cautions)


def test_printed_watt_hours_that_are_far_too_many_count_and_are_questioned() -> None:
    assert counted(label_wh="244") == "244.00"
    assert any("do not fit" in caution.sentence for caution in travel(SMALL | {"label_wh": "244"}).cautions)


@pytest.mark.parametrize(
    ("label_wh", "words"), [("100", "may come"), ("100.001", "ask the airline"), ("160", "ask the airline"), ("160.001", "may not come")]
)
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
