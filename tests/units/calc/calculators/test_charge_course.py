"""The charge in time: what is held by power, what an early stop leaves, and what a faster rate saves."""

import pytest

from calc.answering import PartialAnswer, answer
from calc.inputs.equipment import ChargerEntries
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from calc.inputs.supply import SupplyEntries

ENERGY_PACK = {
    "chemistry": "lipo",
    "cells": "4",
    "capacity_mah": "5000",
    "resting_v": "14.8",
    "pack_degc": "25",
    "label_charge_rate_c": "2",
    "requested_rate_c": "1",
    "cell_resistance_mohm": "20",
    "charger_current_a": "20",
    "charger_power_w": "500",
    "charger_cells": "8",
    "balance_ports": "2",
    "port_cells": "6",
    "current_step_a": "0.1",
    "capacity_step_mah": "100",
    "charger_input_least_v": "11",
    "efficiency_percent": "85",
    "supply_kind": "mains",
    "supply_v": "24",
    "supply_current_a": "60",
    "lead_length_m": "0.5",
    "lead_area_mm2": "16 mm²",
    "stop_after_min": "30",
    "wanted_percent": "80",
    "other_rate_c": "2",
}


def course(**changes: str):
    return answer("charge_course", ENERGY_PACK | changes)


def test_no_power_binds_at_the_setting() -> None:
    assert course().at_full_power is None


def test_a_current_on_the_dial_that_asks_for_more_than_the_charger_has_is_held_by_power() -> None:
    held = course(charger_power_w="100", dialled_a="10")
    assert held.charge_current.set_by == "what you have on the dial"
    assert held.at_full_power.likely.value > 0
    assert held.at_full_power.note.startswith("Set by the charger's highest power")


def test_power_makes_a_charge_longer_than_the_same_current_without_it() -> None:
    assert course(charger_power_w="100", dialled_a="10").charge_time.likely.value > course(dialled_a="10").charge_time.likely.value


def test_a_supply_that_would_have_to_hold_the_power_is_a_grave_caution() -> None:
    first = course(supply_v="13", supply_current_a="8", dialled_a="10").cautions[0]
    assert first.grave
    assert "What limits it is the supply's highest current." in first.sentence


def test_a_dial_above_the_label_is_refused_at_its_field() -> None:
    refused = course(dialled_a="10.1")
    assert isinstance(refused, Refusal)
    assert [problem.field for problem in refused.problems] == ["dialled_a"]
    assert "the charge rate on the label" in refused.problems[0].sentence


def test_twice_the_rate_saves_far_less_than_half_on_an_energy_pack() -> None:
    compared = course()
    one_c, two_c = (row.cells[2].value for row in compared.two_rates.rows)
    assert one_c - two_c == pytest.approx(compared.saved.likely.value)
    assert 0.2 < compared.saved.likely.value / one_c < 0.45


def test_a_rate_below_one_step_of_the_charger_is_not_compared() -> None:
    compared = course(capacity_mah="500", other_rate_c="0.1")
    assert compared.two_rates is None
    assert compared.saved is None


def test_half_an_hour_at_1c_puts_half_of_the_capacity_in() -> None:
    start = course(stop_after_min="1").stopped_early.likely.value - 100 / 60
    assert course().stopped_early.likely.value == pytest.approx(start + 50, abs=0.5)


def test_a_state_that_the_charger_may_never_reach_is_said_in_words() -> None:
    assert course(wanted_percent="100").reached.figure == "near the end of the charge"


def test_the_parts_of_the_likely_course_add_up_to_the_whole() -> None:
    held = course(charger_power_w="100", dialled_a="10")
    parts = (held.at_full_current, held.at_full_power, held.at_full_voltage)
    assert sum(part.likely.value for part in parts) == pytest.approx(held.charge_time.likely.value)


def test_the_picture_stands_between_its_band_and_says_in_words_what_it_shows() -> None:
    picture = course().picture
    for panel in picture.panels:
        assert all(low <= likely <= high for low, likely, high in zip(panel.lowest, panel.likely, panel.highest, strict=True))
        assert len(panel.likely) == len(picture.times)
    assert "full voltage: the current falls" in picture.told
    assert [mark.words for mark in picture.marks][-1] == "done"


def test_the_figures_below_the_picture_begin_at_the_start_and_reach_past_the_end() -> None:
    told = course()
    assert told.minute_by_minute.rows[0].heading == "0\u00a0min"
    assert float(told.minute_by_minute.rows[-1].heading.split()[0]) >= told.charge_time.most.value


def test_what_the_forecast_does_not_know_well_is_named() -> None:
    named = [row.heading for row in course().known_limits.rows]
    assert named == ["In the cold", "Round cells and old packs", "High-voltage cells", "Iron phosphate"]


def test_an_aged_pack_is_charged_with_less_and_takes_as_long_as_a_smaller_one_of_its_resistance() -> None:
    # 4250 of 5000 mAh; what was measured of its cells stays 20 mΩ.
    aged, small = course(measured_capacity_mah="4250"), course(capacity_mah="4250")
    assert aged.charge_current.figure.value == pytest.approx(course().charge_current.figure.value * 0.85, abs=0.1)
    assert aged.charge_time.likely.value == pytest.approx(small.charge_time.likely.value)
    assert aged.charge_time.most.value == pytest.approx(small.charge_time.most.value)


def test_an_aged_pack_of_unknown_resistance_takes_as_long_as_it_did() -> None:
    # At the same C rate the minutes stay, but for the charger's step.
    sound, aged = course(cell_resistance_mohm=""), course(cell_resistance_mohm="", measured_capacity_mah="4250")
    assert aged.charge_time.likely.value == pytest.approx(sound.charge_time.likely.value, rel=0.02)


def test_a_dial_above_a_limit_is_told_in_whole_sentences_what_binds() -> None:
    refused = course(pack_degc="5", dialled_a="4")
    assert [str(problem.sentence) for problem in refused.problems] == [
        "The current on the dial is too high. What limits it is the cold pack: half the current up to 10\N{NO-BREAK SPACE}°C. Dial in the setting."
    ]


def test_a_pack_that_was_read_has_a_course_without_charger_or_supply_and_one_that_was_not_has_none() -> None:
    away = entries_of(ChargerEntries).keys() | entries_of(SupplyEntries).keys()
    read = {name: text for name, text in ENERGY_PACK.items() if name not in away}
    found = answer("charge_course", read)
    assert isinstance(found, PartialAnswer)
    assert "your charger" in found.not_counted and "your supply" in found.not_counted
    # Nothing of this charger or supply binds, so it is the same charge: 5 A.
    assert found.known.charge_current.figure.value == course().charge_current.figure.value == 5
    assert (found.known.charge_time, found.known.stopped_early) == (course().charge_time, course().stopped_early)
    assert found.known.heat_in_charger is None and found.known.at_full_power is None
    assert answer("charge_course", read | {"dialled_a": "10.1"}).problems[0].field == "dialled_a"
    unread = answer("charge_course", read | {"resting_v": ""})
    assert isinstance(unread, Refusal)
    assert [problem.field for problem in unread.problems] == ["resting_v"] and unread.problems[0].missing


@pytest.mark.parametrize("field", ["stop_after_min", "wanted_percent", "other_rate_c"])
def test_a_question_that_was_emptied_is_asked_for_where_all_else_is_there(field: str) -> None:
    found = course(**{field: ""})
    assert isinstance(found, Refusal)
    assert [(problem.field, problem.missing) for problem in found.problems] == [(field, True)]


def test_the_band_of_a_cell_at_its_floor_stays_on_the_axis() -> None:
    found = course(resting_v="12.0", pack_degc="5", cell_resistance_mohm="")
    panel = next(panel for panel in found.picture.panels if panel.title == "Voltage of a cell")
    assert panel.least == min(panel.lowest)
    assert max(panel.highest) <= panel.most
