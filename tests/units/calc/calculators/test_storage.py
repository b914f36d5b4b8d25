"""A pack on its way to storage: which way, what the charger's power really lets through, and when to stop."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import ENTRIES

# Six cells of 5000 mAh, full, on a charger that discharges with 5 A, but sheds 20 W and no more.
FULL = ENTRIES | {
    "cells": "6", "capacity_mah": "5000", "resting_v": "25.2", "goal": "storage", "discharge_current_a": "5",
    "discharge_power_w": "20",
}  # fmt: skip


def storage(**changes: str) -> Any:
    found = answer("storage", FULL | changes)
    assert not isinstance(found, Refusal), found
    return found


def refused(**changes: str) -> tuple[str, ...]:
    found = answer("storage", {name: text for name, text in (FULL | changes).items() if text})
    assert isinstance(found, Refusal), "this was answered, and not refused"
    return tuple(problem.field for problem in found.problems)


def test_twenty_watts_let_less_than_one_ampere_out_of_six_full_cells() -> None:
    # 20 W at 25.2 V is 0.79 A, and at 3.8 V a cell 0.88 A.
    found = storage()
    assert found.current.figure.number == "5.0"
    assert 0.79 <= found.real_current.least.value < found.real_current.most.value < 0.90
    # About two fifths of 5 Ah are to go: two to three hours.
    assert 120 < found.time.likely.value < 180
    assert "h" in found.time.note.replace("\u00a0", " ").split()
    assert any("far less than you set" in caution.sentence for caution in found.cautions)


def test_a_pack_that_one_balance_port_cannot_take_is_told_of_two() -> None:
    def told(**changes: str) -> list[str]:
        return [one.sentence for one in storage(**changes).cautions if "balance port" in one.sentence]

    two_plugs = {"cells": "8", "charger_cells": "8", "balance_ports": "2", "port_cells": "6"}
    assert [one.split(".")[0] for one in told(**two_plugs, resting_v="33.6")] == ["This pack has more cells than one balance port takes"]
    assert told() == told(**two_plugs, resting_v=" ".join(["3.82"] * 8)) == []


@pytest.mark.parametrize("resting_v", ["25.2", " ".join(["3.82"] * 6), " ".join(["3.7"] * 6), "3.75 3.75 3.75 3.75 3.75 3.9"])
def test_a_pack_that_is_watched_for_its_past_is_read_again_a_day_later_whichever_way_it_goes(resting_v: str) -> None:
    def told(look: str) -> list[str]:
        return [one.sentence for one in storage(resting_v=resting_v, look=look).cautions if "through a crash" in one.sentence]

    assert told("sound") == []
    (only,) = told("watched")
    # To be balanced it is on the charger as for a charge.
    is_charged = resting_v.startswith("3.7")
    slowly = "Charge it slowly, and watch: 0.50C at most, the balance plug in. Look every few minutes. " if is_charged else ""
    begins = f"It has been through a crash or a short circuit. {slowly}Read every cell before you put it away, and again a day later"
    assert only.replace("\u00a0", "").startswith(begins)


def test_a_strong_discharger_lets_the_dial_hold() -> None:
    found = storage(discharge_power_w="500")
    assert found.real_current is None
    assert found.current.set_by == "the charger's highest discharge current"


# Five small cells of iron phosphate, just charged: with fourteen times their capacity in an hour they sag below any cutoff at once.
SAGGING = {
    "chemistry": "life", "cells": "5", "capacity_mah": "32", "resting_v": "3.526 3.528 3.503 3.512 3.509", "requested_rate_c": "13.83",
    "discharge_power_w": "", "current_step_a": "0.01", "capacity_step_mah": "1",
}  # fmt: skip


def test_no_current_is_set_with_which_the_lowest_cell_shows_its_stop_at_once() -> None:
    found = storage(**SAGGING)
    assert found.current.set_by == "the lowest cell, which would show 3.25\u00a0V at once with more"
    # Less than the 0.44 A that was asked for; the way then takes its minutes, in order.
    assert 0 < found.current.figure.value < 0.44
    assert 0 < found.time.least.value <= found.time.likely.value <= found.time.most.value
    assert storage(**SAGGING | {"requested_rate_c": "1"}).current.set_by == "the rate you asked for"


def test_a_power_that_holds_the_current_low_leaves_the_dial_as_it_was_asked() -> None:
    # Half a watt from five cells is some 0.03 A: no cell of 320 mAh sags.
    assert storage(**SAGGING | {"capacity_mah": "320", "discharge_power_w": "0.5"}).current.set_by == "the rate you asked for"


def test_where_not_even_a_step_keeps_the_cell_above_its_stop_the_refusal_names_the_cell() -> None:
    found = answer("storage", FULL | SAGGING | {"discharge_power_w": "1000", "current_step_a": "0.2"})
    assert "(the lowest cell, which would show 3.25\u00a0V at once with more)." in found.problems[0].sentence


def test_a_discharge_is_bound_by_the_label_s_own_rate() -> None:
    found = storage(discharge_power_w="500", label_discharge_rate_c="0.5", cell_resistance_mohm="4")
    assert (found.current.figure.number, found.current.set_by) == ("2.5", "the discharge rate on the label")


def test_the_way_down_of_an_even_line_is_charge_over_current() -> None:
    found = storage(discharge_power_w="500", discharge_current_a="2.5")
    assert found.time.likely.value == pytest.approx(found.charge_moved.likely.value / 2500 * 60, rel=1e-6)


def test_a_low_pack_is_charged_within_the_label() -> None:
    found = storage(resting_v="21.6", label_charge_rate_c="0.5")
    assert found.what_to_do.figure == "Charge it"
    assert found.current.figure.number == "2.5"
    assert found.current.set_by == "the charge rate on the label"
    assert found.within.figure == "today"


def test_a_low_pack_needs_no_charger_that_discharges() -> None:
    assert storage(resting_v="21.6", discharge_current_a="", discharge_power_w="").what_to_do.figure == "Charge it"


@pytest.mark.parametrize("cell_v", ["3.80", "3.83", "3.84", "3.86", "3.78"])
def test_a_pack_in_the_band_is_left_alone_also_where_a_meter_is_a_little_off(cell_v: str) -> None:
    found = storage(resting_v=" ".join([cell_v] * 6), discharge_current_a="")
    assert found.what_to_do.figure == "Leave it"
    assert found.current is found.time is found.stop_after is found.within is None


@pytest.mark.parametrize(("cell_v", "is_in_it"), [("3.80", True), ("3.84", True), ("3.79", False), ("3.86", False)])
def test_a_pack_that_a_meter_cannot_tell_from_the_band_is_not_said_to_rest_in_it(cell_v: str, is_in_it: bool) -> None:
    said = storage(resting_v=" ".join([cell_v] * 6)).what_to_do.set_by.replace("\u00a0", " ")
    assert said.startswith("every cell at rest, within the storage band of 3.80 to 3.84 V for each cell")
    assert said.endswith(", as near as a meter can tell") is not is_in_it


def test_a_pack_that_was_run_nearly_flat_is_watched_on_the_way_up_as_on_the_settings() -> None:
    def told(key: str, **changes: str) -> list[str]:
        found = answer(key, FULL | {"resting_v": "3.1 3.1 3.1 3.1 3.1 3.1"} | changes)
        return [one.sentence for one in found.cautions if "run nearly flat. Charge it slowly, and watch" in one.sentence]

    assert len(told("storage")) == 1 and told("storage") == told("charge_settings")
    assert told("storage", resting_v="25.2") == []


def test_while_it_discharges_a_cell_shows_less_than_it_rests_at_and_while_it_charges_more() -> None:
    down, up = storage(), storage(resting_v="21.6")
    assert down.cell_shows.most.value < down.rests_at.figure.value and up.cell_shows.least.value > up.rests_at.figure.value
    assert down.stopped_by_voltage.least.value >= 3.80 and up.stopped_by_voltage.most.value <= 3.84


def test_the_count_to_stop_at_is_on_a_step_and_never_above_the_likely_charge() -> None:
    found = storage(capacity_step_mah="50")
    assert found.stop_after.figure.value % 50 == 0
    assert 0 < found.stop_after.figure.value <= found.charge_moved.likely.value


UNEVEN = "4.2 4.2 4.2 4.2 4.2 4.1"


def test_a_low_cell_bounds_a_discharge_to_storage() -> None:
    even, uneven = storage(resting_v=" ".join(["4.1"] * 6)), storage(resting_v=UNEVEN)
    assert uneven.stop_after.figure == even.stop_after.figure
    assert "the charge that takes the lowest cell no further than 3.80" in uneven.stop_after.set_by
    assert any("Only the balancer" in caution.sentence for caution in uneven.cautions)


def test_a_high_cell_bounds_a_charge_to_storage() -> None:
    even, uneven = storage(resting_v=" ".join(["3.72"] * 6)), storage(resting_v="3.66 3.66 3.66 3.66 3.66 3.72")
    assert uneven.stop_after.figure == even.stop_after.figure
    assert uneven.stop_cell.figure.number == "3.84"
    assert "highest cell" in uneven.stop_cell.set_by


@pytest.mark.parametrize("resting_v", ["25.2", UNEVEN, "21.6"])
def test_a_voltage_of_one_cell_stands_beside_every_amount(resting_v: str) -> None:
    found = storage(resting_v=resting_v)
    assert found.stop_cell.figure.number == ("3.84" if found.what_to_do.figure == "Charge it" else "3.80")
    assert "as soon as one shows it, whatever the count" in found.stop_cell.note


def test_an_amount_for_a_whole_pack_holds_until_every_cell_has_been_read() -> None:
    whole, each = storage(), storage(resting_v=" ".join(["4.2"] * 6))
    assert "until every cell has been read" in whole.stop_after.note
    assert any("until every cell has been read" in caution.sentence for caution in whole.cautions)
    assert "until every cell" not in each.stop_after.note


@pytest.mark.parametrize(
    "resting_v",
    [
        "3.75 3.90 3.82 3.82 3.82 3.82",  # one below the band, one above
        "3.79 3.90 3.82 3.82 3.82 3.82",  # a discharge would take the first below it
        "3.70 3.86 3.70 3.70 3.70 3.70",  # a charge would take the second above it
    ],
)
def test_cells_too_far_apart_for_any_way_are_balanced_first(resting_v: str) -> None:
    found = storage(resting_v=resting_v)
    assert found.what_to_do.figure == "Balance it first"
    assert found.stop_after is found.stop_cell is None


def test_a_pack_that_is_balanced_first_is_charged_no_faster_and_no_hotter_than_on_any_charge() -> None:
    cold = {"resting_v": "3.76 3.76 3.89 3.76 3.76 3.76", "pack_degc": "5", "label_charge_rate_c": "0.2"}
    found = storage(**cold)
    assert found.what_to_do.figure == "Balance it first"
    # Half of 0.2C of 5 Ah.
    assert found.current.figure.number == "0.5"
    assert found.current.set_by.startswith("the cold pack")
    assert found.temperature_stop.figure.number == "45"
    assert any(caution.sentence.startswith("Stay with it, awake") for caution in found.cautions)
    # Half of 0.2C of 0.35 Ah is less than a step.
    assert refused(**cold, capacity_mah="350") == ("",)


def test_a_battery_at_its_floor_is_named_to_a_pack_that_is_balanced_too() -> None:
    battery = {"supply_kind": "vehicle", "battery_kind": "flooded", "battery_ah": "70", "battery_resting_v": "12.2"}
    found = storage(**battery, resting_v="3.75 3.90 3.82 3.82 3.82 3.82")
    assert any("may not start the engine" in caution.sentence for caution in found.cautions)


def test_a_mean_in_the_band_does_not_hide_a_full_and_a_low_cell() -> None:
    # The mean is 3.82 V.
    assert refused(resting_v="4.2 4.2 3.05", cells="3") == ("resting_v",)
    assert storage(resting_v="3.90 3.82 3.75", cells="3").what_to_do.figure == "Balance it first"


@pytest.mark.parametrize("resting_v, cells", [("4.2 4.2 4.2 3.3", "4"), ("3.3 3.3 4.2", "3")])
def test_a_cell_that_dropped_away_is_neither_discharged_nor_charged(resting_v: str, cells: str) -> None:
    assert refused(resting_v=resting_v, cells=cells) == ("resting_v",)


@pytest.mark.parametrize("air_degc, word", [("-1", "freezing"), ("41", "too hot here")])
def test_the_air_counts_for_a_charge_to_storage_as_for_any_charge(air_degc: str, word: str) -> None:
    found = answer("storage", FULL | {"resting_v": "21.6", "pack_degc": "20", "air_degc": air_degc})
    assert [problem.field for problem in found.problems] == ["air_degc"]
    assert word in found.problems[0].sentence


@pytest.mark.parametrize("air_degc", ["0", "40"])
def test_air_at_the_bound_still_allows_a_charge_to_storage(air_degc: str) -> None:
    assert storage(resting_v="21.6", pack_degc="20", air_degc=air_degc).what_to_do.figure == "Charge it"


def test_a_charge_to_storage_has_the_temperature_stop_of_any_charge_and_its_warning() -> None:
    found = storage(
        resting_v=" ".join(["3.30"] * 6),
        pack_degc="44.9",
        air_degc="40",
        requested_rate_c="2",
        label_charge_rate_c="5",
        charger_power_w="900",
        charger_current_a="25",
        supply_current_a="100",
        cell_resistance_mohm="30",
    )
    assert found.temperature_stop.figure.value == 45
    assert any("past its stop of 45" in caution.sentence for caution in found.cautions)


def test_a_charge_smaller_than_a_step_is_said_in_words() -> None:
    found = storage(capacity_mah="300", capacity_step_mah="1000")
    assert found.stop_after.figure.startswith("less than")


def test_an_aged_pack_has_less_to_move() -> None:
    assert storage(measured_capacity_mah="4500").charge_moved.likely.value == pytest.approx(storage().charge_moved.likely.value * 0.9)


def test_a_cutoff_is_under_load_and_the_pack_rests_above_it() -> None:
    found = storage(goal="careful")
    assert found.cutoff.figure.number == "3.20"
    assert found.cutoff.also.number == "19.20"
    assert found.cutoff.note.endswith("The maker's own limit is 3.00\u00a0V, which leaves the weakest cell no margin.")
    assert found.rests_afterwards.least.value >= 3.2
    assert found.stop_after is None
    assert found.within.figure == "today, to storage"


def test_a_full_pack_gives_nearly_all_that_it_holds_down_to_the_maker_s_cutoff() -> None:
    careful, maker = storage(goal="careful"), storage(goal="maker")
    assert 4800 < careful.charge_moved.likely.value < maker.charge_moved.likely.value < 5000
    assert [caution.grave for caution in maker.cautions].count(True) == 1


def test_the_weakest_cell_ends_a_discharge_to_a_cutoff() -> None:
    even, weak = storage(goal="careful"), storage(goal="careful", resting_v="4.2 4.2 4.2 4.2 4.2 4.05")
    assert weak.charge_moved.likely.value < 0.9 * even.charge_moved.likely.value


def test_a_pack_at_its_cutoff_is_not_discharged() -> None:
    found = storage(goal="careful", resting_v="19.1")
    assert found.what_to_do.figure == "Do not discharge it"
    assert found.current is None


def test_a_charger_whose_discharge_is_not_known_is_asked_for() -> None:
    assert refused(discharge_current_a="") == ("discharge_current_a",)


@pytest.mark.parametrize("degc, goes_to", [("0", ""), ("45", ""), ("60", "pack-in-trouble")])
def test_a_pack_that_is_too_cold_or_too_warm_is_not_discharged(degc: str, goes_to: str) -> None:
    found = answer("storage", FULL | {"pack_degc": degc, "air_degc": "20"})
    assert [(problem.field, problem.go_to) for problem in found.problems] == [("pack_degc", goes_to)]
    assert "charg" not in found.problems[0].sentence


def test_a_low_pack_is_not_charged_in_the_cold() -> None:
    assert refused(resting_v="21.6", pack_degc="0") == ("pack_degc",)


def test_every_reason_is_named_at_once() -> None:
    assert refused(resting_v="26.4", pack_degc="50", charger_cells="4") == ("resting_v", "pack_degc", "cells")


def test_a_full_pack_ages_faster_than_a_stored_one_and_faster_still_in_the_heat() -> None:
    now, stored = storage().waiting.rows
    assert stored.cells[0].value == 1.0
    assert now.cells[0].value > stored.cells[0].value
    assert now.cells[1].value > stored.cells[1].value > now.cells[0].value


def test_no_model_of_ageing_is_lent_to_iron_phosphate() -> None:
    assert storage(chemistry="life", cells="4", resting_v="13.6").waiting is None


@pytest.mark.parametrize("resting_v", ["25.2", "22.92", "21.0"])
def test_a_pack_is_looked_over_before_it_is_put_away_and_a_look_given_elsewhere_counts(resting_v: str) -> None:
    told = [
        [caution for caution in storage(resting_v=resting_v, look=look).cautions if caution.sentence.startswith("Look the pack over first")]
        for look in ("", "sound")
    ]
    assert [[caution.go_to for caution in one] for one in told] == [["cell-check"], []]


def test_no_cell_is_shown_with_less_than_nothing_where_the_load_may_be_more_than_it_can_carry() -> None:
    # 18.5C of a small pack: what its label promises may be four times too much.
    found = storage(
        capacity_mah="850", resting_v=" ".join(["4.01"] * 6), requested_rate_c="18.5", label_discharge_rate_c="300", discharge_current_a="40",
        discharge_power_w="", pack_degc="20",
    )  # fmt: skip
    assert found.cell_shows.least.value == found.pack_shows.least.value == 0
    assert 0 <= found.energy_moved.least.value < found.energy_moved.likely.value
