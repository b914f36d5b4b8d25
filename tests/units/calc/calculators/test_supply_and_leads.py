"""A supply and its lead: what the charger may ask, the fuse, how far a battery goes, and which lead would do."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.inputs.refusals import Refusal

# 100 W at 80 % is 125 W; a stiff 12.5 V on a short thick lead gives it at 10 A.
A_SUPPLY = {
    "supply_kind": "mains",
    "supply_v": "12.5",
    "supply_current_a": "60",
    "lead_length_m": "0.05",
    "lead_area_mm2": "70 mm²",
    "charger_power_w": "100",
    "charger_input_least_v": "11",
    "efficiency_percent": "80",
    "chemistry": "lipo",
    "cells": "3",
    "capacity_mah": "2000",
}
PACK = {"chemistry": "lipo", "cells": "3", "capacity_mah": "2000", "resting_v": "11.4", "pack_degc": "20", "label_charge_rate_c": "1"}
# Everything that any page asks that has a charger and a supply; a page passes over what it does not ask.
EVERY_PAGE = (
    A_SUPPLY
    | PACK
    | {f"packs_{row}_{name}": text for row in (1, 2) for name, text in PACK.items()}
    | {
        "requested_rate_c": "1",
        "charger_current_a": "5",
        "charger_cells": "8",
        "balance_ports": "2",
        "port_cells": "6",
        "current_step_a": "0.1",
        "capacity_step_mah": "100",
        "discharge_current_a": "2",
        "discharge_power_w": "20",
        "stop_after_min": "30",
        "wanted_percent": "80",
        "other_rate_c": "1",
        "goal": "storage",
        "time_left_min": "120",
        "charger_outputs": "1",
        "aim": "soonest",
        "change_min": "3",
        "watched_charges": "2",
        "day_begun": "new",
        "balance_plugs_into": "ports",
        "main_leads_into": "board",
        "join_length_m": "0.15",
        "join_area_mm2": "3.3",
    }
)
BATTERY = {"supply_kind": "battery", "battery_kind": "flooded", "battery_ah": "100", "battery_resting_v": "12.65"}


def supply(**changes: str):
    found = answer("supply_and_leads", A_SUPPLY | changes)
    assert not isinstance(found, Refusal), found
    return found


def test_the_supply_gives_power_over_efficiency_and_voltage() -> None:
    assert supply().requested_current.figure.value == pytest.approx(10, rel=0.001)


def test_a_good_supply_and_lead_leave_the_charger_its_full_power() -> None:
    assert str(supply().power_to_set.figure) == "100\N{NO-BREAK SPACE}W"
    assert supply().power_to_set.set_by == "the charger's highest power"


@pytest.mark.parametrize("area_mm2", ["0.5", "0.75", "1.5", "2.5", "4 mm²", "6 mm²", "70 mm²"])
def test_full_power_is_never_called_good_where_the_fuse_carries_less(area_mm2: str) -> None:
    # Blade fuses carry four fifths of their rating hour after hour.
    for power_w in range(40, 1000, 20):
        found = supply(lead_area_mm2=area_mm2, charger_power_w=str(power_w))
        fuse_a = float(found.fuse.figure.split("\N{NO-BREAK SPACE}")[0])
        drawn_a = found.lost_power.likely.value / found.drop.likely.value
        assert drawn_a <= fuse_a / 1.25 * 1.000001
        assert "good for all" not in found.power_to_set.note or found.requested_current.figure.value <= fuse_a / 1.25 * 1.000001


@pytest.mark.parametrize("fitted_a", ["7.64", "8.17", "8.9"])
def test_a_fuse_is_good_for_the_very_current_that_it_sets(fitted_a: str) -> None:
    # Four fifths of 7.64 A and a quarter on top is a hair more than 7.64 A, as a computer counts.
    found = supply(lead_area_mm2="0.75", charger_power_w="200", lead_fuse_a=fitted_a)
    assert found.allowed_current.set_by.startswith("the fuse in the supply lead")
    assert found.fuse.figure == f"{fitted_a}\N{NO-BREAK SPACE}A, as fitted"


def test_a_supply_that_gives_less_lowers_the_power_and_says_so() -> None:
    # 5 A x 12.5 V x 80 % are 50 W, less a trace of lead: rounded down.
    weak = supply(supply_current_a="5")
    assert weak.power_to_set.figure.number == "49"
    assert weak.power_to_set.set_by == "the supply's highest current"
    assert weak.cautions[0].grave


def test_no_loss_is_shown_for_a_current_that_is_not_allowed() -> None:
    weak = supply(supply_current_a="5", lead_length_m="1.5", lead_area_mm2="2.5")
    # 5 A through 24 mΩ lose 0.12 V.
    assert weak.drop.likely.value == pytest.approx(0.12, abs=0.001)


def test_power_that_cannot_pass_at_all_is_said_in_words() -> None:
    far = supply(charger_power_w="3000", lead_length_m="30", lead_area_mm2="1.5")
    assert far.requested_current.figure == "more than can pass"
    assert far.power_to_set.set_by.startswith("the supply lead")


def test_the_heat_in_the_lead_is_voltage_lost_times_current() -> None:
    found = supply(lead_length_m="1.5", lead_area_mm2="2.5", supply_current_a="5")
    assert found.lost_power.likely.value == pytest.approx(5 * found.drop.likely.value)


@pytest.mark.parametrize(
    "page",
    [
        "supply_and_leads",
        "charge_settings",
        "charge_course",
        "charging_card",
        "storage",
        "packs_in_parallel",
        "packs_in_series",
        "going_home",
        "day_plan",
    ],
)
def test_a_supply_above_the_charger_s_highest_input_is_refused_on_every_page(page: str) -> None:
    found = answer(page, EVERY_PAGE | {"supply_v": "24", "charger_input_most_v": "18"})
    assert isinstance(found, Refusal) and [problem.field for problem in found.problems] == ["supply_v"]


@pytest.mark.parametrize(
    "page",
    [
        "supply_and_leads",
        "charge_settings",
        "charge_course",
        "charging_card",
        "storage",
        "packs_in_parallel",
        "packs_in_series",
        "going_home",
        "day_plan",
    ],
)
def test_a_supply_that_no_charger_made_for_12_volts_bears_is_warned_about_while_its_highest_input_is_not_known(page: str) -> None:
    def warned(**changes: str) -> bool:
        found = answer(page, EVERY_PAGE | changes)
        assert not isinstance(found, Refusal), found
        return any("highest input voltage on its label" in str(caution.sentence) and caution.grave for caution in found.cautions)

    assert warned(supply_v="24") and warned(supply_v="15.1")
    assert not warned(supply_v="15") and not warned(supply_v="24", charger_input_most_v="28")


@pytest.mark.parametrize(("most_v", "is_warned"), [("14", True), ("15", False), ("", False)])
@pytest.mark.parametrize("kind", ["battery", "vehicle"])
def test_a_charger_that_a_running_engine_or_a_battery_charger_would_destroy_is_warned_about(
    kind: str, most_v: str, is_warned: bool
) -> None:
    cautions = supply(**BATTERY | {"supply_kind": kind, "charger_input_most_v": most_v}).cautions
    assert any("up to 15\N{NO-BREAK SPACE}V while it is charged" in caution.sentence for caution in cautions) is is_warned


def test_connectors_are_counted_into_the_loss() -> None:
    # 10 mΩ at 5 A lose 0.05 V more.
    without = supply(supply_current_a="5").drop.likely.value
    assert supply(supply_current_a="5", connector_mohm="10").drop.likely.value - without == pytest.approx(0.05)


def test_what_is_to_spare_counts_the_wire_hot_and_is_rounded_down() -> None:
    found = supply(lead_length_m="1.5", lead_area_mm2="2.5", supply_current_a="5")
    # 12.5 - 0.12 x 1.157 - 11 = 1.36 V.
    assert str(found.to_spare.figure) == "1.3\N{NO-BREAK SPACE}V"


def test_a_charger_that_may_stop_once_the_lead_is_warm_is_said_to() -> None:
    # The allowed current just leaves 11 V behind a cool lead, so a warm one leaves less.
    found = supply(supply_v="11.4", lead_length_m="5", lead_area_mm2="2.5")
    assert found.to_spare.figure == "nothing"
    assert any("too low a voltage" in caution.sentence for caution in found.cautions)


def test_a_mains_supply_has_nothing_to_say_of_a_battery() -> None:
    found = supply()
    assert found.charged is found.ends_by is found.usable is found.packs is found.refill is found.kept_to_start is None


def test_a_mains_supply_needs_no_pack() -> None:
    entries = {name: text for name, text in A_SUPPLY.items() if name not in ("chemistry", "cells", "capacity_mah")}
    assert not isinstance(answer("supply_and_leads", entries), Refusal)


def test_a_charger_does_not_see_the_battery_s_floor() -> None:
    assert supply(**BATTERY).ends_by.figure == "you stop it"


def test_a_hungry_charger_stops_before_the_floor() -> None:
    found = supply(**BATTERY, charger_input_least_v="12.4")
    assert found.ends_by.figure == "the charger stops"
    assert found.usable.figure.value < supply(**BATTERY).usable.figure.value


def test_a_vehicle_keeps_three_quarters_for_its_engine() -> None:
    found = supply(**BATTERY | {"supply_kind": "vehicle"})
    assert str(found.kept_to_start.figure) == "75.0\N{NO-BREAK SPACE}Ah"
    # A quarter of what it gives is left to use, where a battery of its own has a half.
    assert found.usable.figure.value == pytest.approx(supply(**BATTERY).usable.figure.value / 2, abs=0.1)


def test_a_vehicle_s_battery_below_its_floor_keeps_no_more_than_it_holds() -> None:
    found = supply(**BATTERY | {"supply_kind": "vehicle", "battery_resting_v": "12.24"})
    assert str(found.kept_to_start.figure) == "50.0\N{NO-BREAK SPACE}Ah"
    assert found.kept_to_start.set_by == "what it holds now, which is less than it should keep"


def test_a_battery_that_starts_nothing_keeps_nothing_for_an_engine() -> None:
    assert supply(**BATTERY).kept_to_start is None


def test_a_cold_battery_gives_three_quarters_at_freezing_point() -> None:
    cold, warm = (supply(**BATTERY, battery_degc=degc).full_capacity.figure.value for degc in ("0", "30"))
    assert cold == pytest.approx(0.75 * warm, abs=0.1)


def test_the_packs_are_counted_from_empty_and_from_a_flight() -> None:
    # From empty 3 x 4.2 V x 2 Ah are 25.2 Wh; a flight that left a fifth took 0.8 x 22.2 Wh.
    found = supply(**BATTERY)
    per_pack_ah = [wh / 0.8 / found.at_charger.least.value for wh in (25.2, 17.76)]
    assert [found.packs.least.value, found.packs.most.value] == [int(found.usable.figure.value / ah) for ah in per_pack_ah]


def test_a_battery_at_its_floor_charges_no_pack() -> None:
    assert str(supply(**BATTERY | {"battery_resting_v": "12.24"}).packs.most) == "0\N{NO-BREAK SPACE}packs"


def test_a_larger_charger_fills_the_battery_sooner() -> None:
    slow, fast = (supply(**BATTERY, battery_charger_a=amperes).refill for amperes in ("5", "20"))
    assert fast.least.value < slow.least.value and fast.most.value < slow.most.value


def test_an_empty_entry_counts_a_charger_of_a_tenth_of_the_capacity() -> None:
    unknown, tenth = supply(**BATTERY).refill, supply(**BATTERY, battery_charger_a="10").refill
    assert (unknown.least, unknown.most) == (tenth.least, tenth.most)


def test_an_unknown_pack_is_refused_as_on_every_page() -> None:
    found = answer("supply_and_leads", A_SUPPLY | BATTERY | {"chemistry": "unknown"})
    assert isinstance(found, Refusal) and found.problems[0].field == "chemistry"


def test_a_supply_too_weak_to_start_the_charger_is_refused() -> None:
    found = answer("supply_and_leads", A_SUPPLY | {"supply_v": "10.9"})
    assert isinstance(found, Refusal) and found.problems[0].field == "supply_v"
