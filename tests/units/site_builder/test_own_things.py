"""What the build gives the pages of the pilot's own things: names, words and days from calc, and the club's things as they are kept."""

import pytest

from calc.answering import calculator, calculator_keys
from calc.facts.practice import MEASURED_KEEPS_DAYS, REFILL_WITHIN_DAYS, STORE_WITHIN_DAYS, STORED_CHECK_DAYS, SUPPLY_CHECK_DAYS
from calc.inputs.fields import entries_of
from calc.inputs.own_things import SECOND_CHARGER, SECOND_OUTPUT, SECOND_SUPPLY, OutputEntries, own_charger, own_pack, own_supply
from calc.inputs.supply import SupplyEntries
from site_builder.building.own_things import club_things, kinds_asked, own_facts
from site_builder.setting_up.checkout import CONTENT


def test_what_is_picked_is_entered_under_the_names_that_the_calculators_ask_by():
    asked = entries_of(calculator("charge_settings").Inputs).keys()

    assert set(own_facts()["charger"]["names"]) - asked <= {"discharge_current_a", "discharge_power_w"}
    assert set(own_facts()["supply"]["names"]) <= asked
    assert {"chemistry", "cells", "capacity_mah", "label_charge_rate_c"} <= set(own_facts()["pack"]["names"])


def test_what_a_second_output_has_of_its_own_is_asked_as_each_output_is():
    assert set(SECOND_OUTPUT.values()) == entries_of(OutputEntries).keys()
    for key in ("day_plan", "going_home"):
        asked = entries_of(calculator(key).Inputs).keys()
        assert {"charger_outputs", "second_charger", "second_supply", *own_facts()["secondOutput"], *own_facts()["secondSupply"]} <= asked
        discharges = {name for name in SECOND_CHARGER if "discharge" in name}
        assert set(SECOND_CHARGER) - asked == (discharges if key == "day_plan" else set())
    assert set(SECOND_SUPPLY.values()) == entries_of(SupplyEntries).keys()


def test_every_unit_that_a_line_says_is_the_calculators_own():
    signs = own_facts()["signs"]

    assert (signs["capacity_mah"], signs["outputs_1_charger_power_w"], signs["battery_ah"]) == ("mAh", "W", "Ah")


def test_the_days_after_which_something_is_due_are_those_of_the_facts():
    due = own_facts()["due"]

    assert (due["store"], due["check"], due["measured"]) == (STORE_WITHIN_DAYS.value, STORED_CHECK_DAYS.value, MEASURED_KEEPS_DAYS.value)
    assert (due["refill"], due["battery"]) == (REFILL_WITHIN_DAYS.value, SUPPLY_CHECK_DAYS.value)
    assert set(due["again"]) < set(own_pack().dated)


def test_a_page_with_rows_asks_for_no_one_pack():
    assert kinds_asked(entries_of(calculator("packs_in_parallel").Inputs)) == ["charger", "supply"]
    assert kinds_asked(entries_of(calculator("charge_settings").Inputs)) == ["pack", "charger", "supply"]


@pytest.mark.parametrize("key", calculator_keys())
def test_whatever_asks_an_entry_of_a_charger_or_of_a_supply_offers_those_that_are_kept(key):
    asked = entries_of(calculator(key).Inputs)

    for kind in ("charger", "supply"):
        assert (kind in kinds_asked(asked)) == any(name in asked for name in own_facts()[kind]["names"])


def test_of_the_clubs_things_only_the_label_comes_along():
    club = club_things(CONTENT)
    asked = {"pack": own_pack(), "charger": own_charger(), "supply": own_supply()}

    assert [len(club[kind]) for kind in asked] == [7, 2, 3]
    for kind, things in club.items():
        for thing in things:
            assert set(thing["entries"]) <= asked[kind].entries.keys() - set(asked[kind].dated), thing["name"]
            assert "state" not in thing
