"""What is said of the supply beside the numbers."""

from __future__ import annotations

import pytest

from calc.answering import PartialAnswer, answer, calculator, calculator_keys
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from calc.presenting.supply_load import cautions_of_supply, feed_cautions
from tests.units.calc.sound_charge import BATTERY, ENTRIES, MAINS, PACK, VEHICLE, given


def test_a_battery_is_kept_away_from_sparks() -> None:
    sentences = [caution.sentence for caution in cautions_of_supply(given(**BATTERY), 3.5)]
    assert any("no sparks or flames near it" in sentence for sentence in sentences)


def test_a_battery_at_its_floor_is_a_grave_caution() -> None:
    cautions = cautions_of_supply(given(**BATTERY | {"battery_resting_v": "12.24"}), 3.5)
    assert any(one.grave and "below it, it wears out fast" in one.sentence for one in cautions)


def test_a_vehicle_at_three_quarters_may_not_start_again() -> None:
    cautions = cautions_of_supply(given(**VEHICLE | {"battery_resting_v": "12.45"}), 3.5)
    assert any(one.grave and "it may not start the engine" in one.sentence for one in cautions)


@pytest.mark.parametrize(("fuse_a", "grave"), [("20", False), ("25", True)])
def test_a_fuse_above_what_the_wire_may_carry_is_a_grave_caution(fuse_a: str, grave: bool) -> None:
    # 2.5 mm² counts as gauge 14, which may carry 20 A.
    cautions = feed_cautions(given(lead_area_mm2="2.5", lead_fuse_a=fuse_a), None)
    assert [one.grave for one in cautions if "does not protect this lead" in one.sentence] == [True] * grave
    assert feed_cautions(None, given()) == ()


def test_a_fuse_a_little_above_what_the_wire_may_carry_does_not_read_as_that() -> None:
    [said] = [one.sentence for one in feed_cautions(given(lead_area_mm2="2.5", lead_fuse_a="20.04"), None)]
    assert said.replace("\u00a0", " ").startswith("The fuse does not protect this lead: 20.1 A where the wire may carry 20.0 A.")


# Two packs half full on a charger from a battery: enough for every page that asks for the fuse in the supply lead.
TWO_PACKS = {f"packs_{number}_{name}": text for number in (1, 2) for name, text in (PACK | {"resting_v": "3.7 3.7 3.7"}).items()}
EVERY_PAGE = (
    ENTRIES
    | BATTERY
    | TWO_PACKS
    | {
        "resting_v": "3.7 3.7 3.7",
        "charger_outputs": "1",
        "second_charger": "same",
        "balance_ports": "2",
        "balance_plugs_into": "ports",
        "main_leads_into": "board",
        "join_length_m": "0.15",
        "join_area_mm2": "3.3",
        "stop_after_min": "30",
        "wanted_percent": "80",
        "other_rate_c": "2",
        "planned_charges": "2",
        "goal": "storage",
        "aim": "soonest",
        "day_begun": "new",
        "change_min": "3",
        "watched_charges": "1",
        "time_left_min": "300",
        "discharge_current_a": "2",
    }
)
ASKING = [key for key in calculator_keys() if "lead_fuse_a" in entries_of(calculator(key).Inputs)]


@pytest.mark.parametrize("key", ASKING)
def test_every_page_that_asks_for_the_fuse_says_that_it_does_not_protect_the_lead(key: str) -> None:
    for fuse_a, said in (("20", []), ("60", [True])):
        found = answer(key, EVERY_PAGE | {"lead_area_mm2": "2.5", "lead_fuse_a": fuse_a})
        assert not isinstance(found, Refusal), found
        assert [one.grave for one in found.cautions if "does not protect this lead" in one.sentence] == said


@pytest.mark.parametrize("key", ASKING)
def test_every_page_says_once_that_a_vehicle_s_engine_is_not_started_with_the_charger_on_it(key: str) -> None:
    for supply, said in ((BATTERY, 0), (VEHICLE, 1)):
        found = answer(key, EVERY_PAGE | supply)
        assert not isinstance(found, Refusal), found
        assert sum("before you start" in one.sentence for one in found.cautions) == said


@pytest.mark.parametrize("key", [*(key for key in ASKING if hasattr(calculator(key), "so_far")), "storage"])
@pytest.mark.parametrize("missing", ["", "charger_power_w"])
def test_every_page_of_one_charge_says_that_the_battery_is_at_its_floor(key: str, missing: str) -> None:
    for resting_v, said in (("12.6", []), ("12.24", [True])):
        found = answer(key, EVERY_PAGE | {"battery_resting_v": resting_v} | ({missing: ""} if key != "storage" else {}))
        shown = found.known if isinstance(found, PartialAnswer) else found
        assert [one.grave for one in shown.cautions if "at its floor already" in one.sentence] == said


@pytest.mark.parametrize("key", [key for key in ASKING if hasattr(calculator(key), "so_far")])
@pytest.mark.parametrize("missing", ["charger_power_w", "efficiency_percent"])
def test_so_does_an_answer_that_does_not_know_all_of_the_charger(key: str, missing: str) -> None:
    # A card is started by an answer that knows no charger, too.
    found = answer(key, EVERY_PAGE | {"lead_area_mm2": "2.5", "lead_fuse_a": "60", missing: ""})
    assert isinstance(found, PartialAnswer)
    assert [one.grave for one in found.known.cautions if "does not protect this lead" in one.sentence] == [True]


@pytest.mark.parametrize("key", [key for key in ASKING if hasattr(calculator(key), "so_far")])
@pytest.mark.parametrize("missing", ["charger_power_w", "charger_current_a"])
def test_an_answer_that_does_not_know_all_of_the_charger_says_that_a_high_voltage_may_be_too_high_for_it(key: str, missing: str) -> None:
    for supply_v, said in (("13.8", []), ("24", [True])):
        found = answer(key, EVERY_PAGE | MAINS | {"supply_v": supply_v, missing: ""})
        assert isinstance(found, PartialAnswer)
        assert [one.grave for one in found.known.cautions if "highest input voltage" in one.sentence] == said


@pytest.mark.parametrize(("missing", "asked"), [("charger_power_w", "enter all that is asked of the charger."), ("", "enter it.")])
def test_a_highest_input_is_not_asked_for_once_more_where_the_rest_of_the_charger_is_missing(missing: str, asked: str) -> None:
    found = answer(
        "charge_settings", EVERY_PAGE | MAINS | {"supply_v": "24", "charger_input_most_v": "30" if missing else ""} | {missing: ""}
    )
    shown = found.known if isinstance(found, PartialAnswer) else found
    assert [asked in one.sentence for one in shown.cautions if "highest input voltage" in one.sentence] == [True]


@pytest.mark.parametrize("peak_current_a, cautions", [(11.2, 0), (11.3, 1)])
def test_a_lead_that_loses_more_than_3_percent_is_said_to(peak_current_a: float, cautions: int) -> None:
    # 2 m of 2.5 mm² on 12 V lose 3 % at 11.25 A.
    supply = given(supply_v="12", lead_length_m="2", lead_area_mm2="2.5")
    found = cautions_of_supply(supply, peak_current_a)
    assert len(found) == cautions
    assert all("shorten it, or use a thicker one" in one.sentence for one in found)
    # 3.01 % must not read as the 3 % that a good lead loses.
    assert all("loses 3.1\u00a0% of the voltage at the peak, more than the 3\u00a0% of a good one" in one.sentence for one in found)
