"""The card: the settings, carried over as steps in the order in which a careful pilot does them."""

from __future__ import annotations

import pytest

from calc import answering
from calc.calculators.charging_card import Answer
from calc.figures.showing import Step
from calc.inputs.fields import entries_of
from calc.inputs.log_lines import SET_BY_THE_CARD, LineEntries
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import BATTERY, ENTRIES, settings


def _card(**changes: str) -> Answer:
    return answering.answer("charging_card", ENTRIES | changes)


def _steps(**changes: str) -> list[Step]:
    return [step for part in _card(**changes).steps for step in part.steps]


def _step(key: str, **changes: str) -> Step:
    return next(step for step in _steps(**changes) if step.key == key)


def test_the_pack_is_looked_at_before_anything_is_plugged_in_and_unplugged_before_the_note() -> None:
    assert [step.key for step in _steps()] == [
        "label", "place", "look", "cells", "supply",
        "supply-lead", "main-lead", "balance-lead",
        "set-mode", "set-count", "set-size", "set-full", "set-current", "set-capacity", "set-time", "set-temperature",
        "count-again", "start", "first-look", "next-look", "expected-end",
        "done", "unplug", "feel", "note",
    ]  # fmt: skip


def test_a_step_is_ticked_by_a_key_of_its_own() -> None:
    keys = [step.key for step in _steps()]
    assert len(set(keys)) == len(keys)


def test_every_step_says_what_to_do() -> None:
    assert all(step.title and step.say for step in _steps())


@pytest.mark.parametrize(
    "key, name",
    [
        ("set-mode", "chemistry_mode"),
        ("set-count", "cells"),
        ("set-size", "capacity_setting"),
        ("set-full", "full_voltage"),
        ("set-current", "charge_current"),
        ("set-capacity", "capacity_cutout"),
        ("set-time", "time_cutout"),
        ("set-temperature", "temperature_stop"),
    ],
)
def test_a_setting_is_carried_over_with_the_limit_that_set_it(key: str, name: str) -> None:
    changes = {"charger_current_a": "2", "resting_v": "9.3"}
    setting = getattr(settings(**changes), name)
    step = _step(key, **changes)
    assert (step.figure, step.set_by) == (setting.figure, setting.set_by)


def test_no_figure_to_dial_in_stands_without_what_set_it() -> None:
    assert all(step.set_by for step in _steps() if step.figure is not None)


def test_the_cells_are_held_against_their_floor_and_full() -> None:
    say = _step("cells").say.replace("\N{NO-BREAK SPACE}", " ")
    assert "between 3.00 V and 4.20 V" in say
    assert "no more than 0.03 V" in say


def test_a_pack_read_as_a_whole_is_read_cell_by_cell_before_the_charge() -> None:
    told = _step("cells", resting_v="11.4").say
    assert "this card holds until every cell has been read" in told and "enter each of them before you go on" in told


def test_cells_that_were_entered_apart_are_held_against_what_was_entered() -> None:
    assert "no more than 0.08\N{NO-BREAK SPACE}V" in _step("cells", resting_v="3.80 3.88 3.80").say


def test_the_pilot_confirms_that_the_charger_counts_the_same_cells() -> None:
    step = _step("count-again")
    assert step.figure.number == "3"
    assert "stop and unplug" in step.say


def test_the_first_step_names_kind_cells_and_capacity_of_the_label() -> None:
    step = _steps()[0]
    assert step.key == "label"
    assert step.figure == f"{settings().chemistry_mode.figure}, 3\N{NO-BREAK SPACE}cells, 2650\N{NO-BREAK SPACE}mAh"


def test_the_count_is_asked_before_the_time_of_the_charge_begins() -> None:
    steps = _steps()
    (asks,) = (place for place, step in enumerate(steps) if step.asks_count)
    (starts,) = (place for place, step in enumerate(steps) if "expected-end" in step.starts)
    assert asks < starts
    assert steps[asks].figure == settings().cells.figure


def test_a_timer_that_a_tick_begins_or_ends_is_that_of_a_step() -> None:
    timed = {step.key for step in _steps() if step.timer is not None}
    assert {key for step in _steps() for key in (*step.starts, *step.stops)} == timed


def test_what_is_compared_with_the_charger_stays_on_top() -> None:
    on_top = [step.figure for step in _steps() if step.on_top and step.timer is None]
    found = settings()
    assert on_top == [
        one.figure for one in (found.full_voltage, found.charge_current, found.capacity_cutout, found.time_cutout, found.temperature_stop)
    ]


def test_the_main_lead_goes_into_the_charger_first() -> None:
    assert _step("main-lead").say.startswith("First the lead into the charger, then the pack onto the lead")


def test_the_balance_lead_comes_off_first() -> None:
    assert _step("unplug").say.startswith("Balance lead, then the pack from the main lead, then the main lead from the charger")


@pytest.mark.parametrize(
    "port_cells, ports, first, words",
    [
        ("8", "1", "", "one balance port"),
        ("3", "2", "", "one balance port"),
        (
            "2",
            "2",
            "1",
            "first plug, at the minus, into port 1: the charger shows cell 1; second plug, into port 2: the charger shows cells 2 to 3",
        ),
    ],
)
def test_each_balance_plug_of_a_pack_goes_into_a_port_that_takes_its_cells(port_cells: str, ports: str, first: str, words: str) -> None:
    assert words in _step("balance-lead", port_cells=port_cells, balance_ports=ports, first_plug_cells=first).say


def test_the_looks_have_timers_and_so_has_the_likely_end() -> None:
    timed = {step.key: step.timer.number for step in _steps() if step.timer is not None}
    assert timed == {"first-look": "5", "next-look": "15", "expected-end": settings().charge_time.likely.number}


def test_only_the_note_leaves_room_to_write() -> None:
    assert [step.key for step in _steps() if step.takes_note] == ["note"]


def test_the_note_asks_for_the_log_what_its_line_has() -> None:
    [asked] = [step.logs_as for step in _steps() if step.logs_as]
    assert asked == ("put_in_mah", "line_degc", "to_v", "each_mohm")
    assert set(asked) <= {*entries_of(LineEntries)} - {*SET_BY_THE_CARD}


def test_a_battery_is_checked_against_the_voltage_that_was_entered() -> None:
    step = _step("supply", **BATTERY)
    assert step.title == "Check the battery"
    assert step.figure.number == "12.7"
    assert "no flame or spark is near it" in step.say


def test_a_mains_supply_is_checked_for_damp_and_left_off() -> None:
    step = _step("supply")
    assert step.title == "Check the power supply"
    assert step.figure.number == "13.8"
    assert step.say.endswith("Leave it off.")


def test_a_charger_that_cannot_count_this_pack_off_is_not_said_to_stop_it() -> None:
    card = _card(capacity_mah="20", resting_v="11.1", charger_current_a="1", current_step_a="0.01")
    told = " ".join(stop.sentence for stop in card.stop_at_once)
    assert "at the time cut-out, 120\N{NO-BREAK SPACE}min." in told
    counting = next(step for steps in card.steps for step in steps.steps if step.key == "set-capacity")
    assert "The charger stops" not in counting.say and "read at every look how much it has put in" in counting.say


def test_what_ends_the_charge_at_once_is_grave_and_names_this_pack_s_numbers() -> None:
    stops = _card(resting_v="9.6").stop_at_once
    told = " ".join(stop.sentence for stop in stops).replace("\N{NO-BREAK SPACE}", " ")
    assert all(stop.grave for stop in stops)
    assert "The pack swells, smells, hisses or smokes: get away from it" in told
    assert "45 °C" in told
    assert "A cell reads above 4.20 V." in told
    assert "120 min, or after 2800 mAh" in told
    assert "You have to leave." in told


def test_the_cautions_of_the_settings_stand_on_the_card() -> None:
    assert _card(pack_degc="8").cautions == settings(pack_degc="8").cautions != ()


def test_there_is_no_card_for_a_charge_that_must_not_be_started() -> None:
    card = answering.answer("charging_card", ENTRIES | {"pack_degc": "-5"})
    assert isinstance(card, Refusal)
    assert card == answering.answer("charge_settings", ENTRIES | {"pack_degc": "-5"})


def test_a_single_cell_is_not_compared_with_others() -> None:
    assert "differ" not in _step("cells", cells="1", resting_v="3.80").say
    assert "differ" in _step("cells", cells="2", resting_v="3.80 3.80").say


@pytest.mark.parametrize("capacity_mah", ["350", "850", "2650", "5000"])
@pytest.mark.parametrize("unit", ["mah", "ah", "wh"])
def test_the_charge_that_ends_it_at_once_is_the_stop_that_is_set_in_every_unit(capacity_mah: str, unit: str) -> None:
    entries = ENTRIES | {"capacity_mah": capacity_mah, "capacity_step_mah": "10"}
    found = answering.answer_in_units("charging_card", entries, {"capacity": unit}).found
    [step] = [step for part in found.steps for step in part.steps if step.key == "set-capacity"]
    assert any(f"or after {step.figure}." in one.sentence for one in found.stop_at_once)
