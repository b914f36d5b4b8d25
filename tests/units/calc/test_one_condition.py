"""One pack, one verdict, one reason: every page that takes a pack says of it what the check page says."""

from __future__ import annotations

import re
from typing import Any

import pytest

from calc.answering import answer, calculator
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from tests.units.calc.joined_charge import REST
from tests.units.calc.sound_charge import BATTERY, CHARGER

# Three cells of 5 Ah with a label that allows ten times more than a tired pack should get.
PACK = {
    "chemistry": "lipo", "cells": "3", "capacity_mah": "5000", "resting_v": "3.80 3.80 3.80", "pack_degc": "20", "air_degc": "20",
    "label_charge_rate_c": "10", "look": "sound", "read_when": "rested",
}  # fmt: skip
JOBS = REST | BATTERY | CHARGER | {
    "charger_current_a": "60", "charger_power_w": "3000", "battery_ah": "1000", "lead_area_mm2": "70", "balance_ports": "2", "requested_rate_c": "10",
    "planned_charges": "1", "stop_after_min": "30", "wanted_percent": "80", "other_rate_c": "5", "goal": "storage",
    "discharge_current_a": "5", "time_left_min": "600", "reserve_percent": "20", "flights_1_flown_min": "5", "flights_1_put_back_mah": "2500",
    "highest_current_a": "40", "mean_current_a": "20", "flight_min": "5", "load_kind": "resistor", "emptying_rate_c": "0.2",
    "charger_outputs": "1", "watched_charges": "1", "aim": "soonest", "start_clock": "8:00", "change_min": "3", "day_begun": "new",
}  # fmt: skip

CHARGES = ("charge_settings", "charge_course", "charging_card", "supply_day", "packs_in_parallel", "packs_in_series")
BY_CHARGER = (*CHARGES, "storage")
# They ask of each pack no more than its label and its voltages, and how warm all of them are.
PLANS = ("day_plan", "going_home")
OF_A_PLAN = {"resting_v", "pack_degc"}
FLIGHTS = ("flight_timer", "model_fit")
COLD, WARM = "Warm it through first, indoors or in a pocket with its contacts covered", "Leave it in the shade until it has cooled"
IN_UNKNOWN_AIR = "Let it cool in the shade, or enter how warm the air is where that is asked"
OUT, AGAIN, ELSEWHERE, AWAY = "Take it out of use", "Rest it, then read every cell", "Charge it elsewhere", "Get away from it"

# What was entered, and the verdict: no page charges such a pack.
FORBIDDEN = {
    "a cell that dropped away": ({"resting_v": "3.80 3.80 3.50"}, OUT),
    "a cell below its floor": ({"resting_v": "3.80 2.95 3.80"}, OUT),
    "a cell above full": ({"resting_v": "4.20 4.30 4.20"}, OUT),
    "swollen": ({"look": "swollen"}, OUT),
    "smoking": ({"look": "smoking"}, AWAY),
    "crashed today": ({"look": "crashed"}, AGAIN),
    "wet outside": ({"look": "rained-on"}, "Let it dry first"),
    "just flown": ({"read_when": "flown"}, AGAIN),
    "read under load": ({"read_when": "loaded"}, AGAIN),
    "a cell of twice the resistance": ({"cell_resistances_mohm": "5 5 10"}, OUT),
    "the resistance doubled": ({"cell_resistance_mohm": "10", "new_resistance_mohm": "5"}, OUT),
    "the resistance of one cell doubled": ({"cell_resistances_mohm": "9 9 10", "new_resistance_mohm": "5"}, OUT),
    "exactly four fifths of the label": ({"measured_capacity_mah": "4000"}, OUT),
    "half of the label": ({"measured_capacity_mah": "2500"}, OUT),
    "frozen": ({"pack_degc": "0"}, COLD),
    "warm": ({"pack_degc": "45"}, WARM),
    "warm in air that nobody measured": ({"pack_degc": "44.9", "air_degc": ""}, IN_UNKNOWN_AIR),
    "hot": ({"pack_degc": "60"}, AWAY),
    "freezing air": ({"air_degc": "-1"}, ELSEWHERE),
    "hot air": ({"air_degc": "41"}, ELSEWHERE),
}
# A flight and a discharge have windows of their own, and a flight asks for no voltage.
OF_WARMTH = ("frozen", "warm", "warm in air that nobody measured", "hot", "freezing air", "hot air")
OF_A_READING = ("a cell that dropped away", "a cell below its floor", "a cell above full", "just flown", "read under load")
# A pack whose life ended by these is whole: it is judged, and may be emptied.
EMPTIED = (
    "a cell that dropped away", "a cell of twice the resistance", "the resistance doubled", "the resistance of one cell doubled",
    "exactly four fifths of the label", "half of the label",
)  # fmt: skip
# No page charges such a pack with more than half of 1C.
SLOW = {
    "cells at 3.1 V": {"resting_v": "3.10 3.10 3.10"},
    "0.04 V apart": {"resting_v": "3.80 3.84 3.80"},
    "0.06 V apart": {"resting_v": "3.80 3.86 3.80"},
    "watched": {"look": "watched"},
    "half as much again": {"cell_resistances_mohm": "5 5 7.5"},
    "cold": {"pack_degc": "10"},
    "cold and near freezing": {"pack_degc": "0.1"},
    "cold air": {"air_degc": "1", "pack_degc": "12"},
}
# At these nothing is held against the pack.
SOUND = {
    "as it is": {},
    "0.03 V apart": {"resting_v": "3.80 3.83 3.80"},
    "a hair over four fifths": {"measured_capacity_mah": "4001"},
    "not quite twice the resistance": {"cell_resistance_mohm": "9.9", "new_resistance_mohm": "5"},
    "not quite half as much again": {"cell_resistances_mohm": "5 5 7.4"},
    "just above the cold": {"pack_degc": "10.1"},
    "just below the heat": {"pack_degc": "44.9"},
    "air of 40 degrees": {"air_degc": "40"},
}


def found_by(key: str, changes: dict[str, str]) -> Any:
    """A calculator's answer on the pack with some entries changed; of packs that are joined, the first is changed."""
    pack = PACK | changes
    rows = {
        f"packs_{number}_{name}": text for number, one in ((1, pack), (2, PACK)) for name, text in (one | {"stands": "waiting"}).items()
    }
    return answer(key, JOBS | pack | rows)


def current_a(found: Any) -> float:
    """What is dialled in; nothing where the pack is left as it is, or is not joined yet."""
    setting = next((getattr(found, name) for name in ("charge_current", "joint_current", "current") if getattr(found, name, None)), None)
    return float(setting.figure.number) if setting else 0.0


def said(found: Any) -> str:
    return " ".join(caution.sentence for caution in found.cautions)


@pytest.mark.parametrize("key", BY_CHARGER)
@pytest.mark.parametrize("name", FORBIDDEN)
def test_a_pack_that_the_check_page_would_not_charge_is_charged_nowhere_and_for_the_same_reason(key: str, name: str) -> None:
    changes, verdict = FORBIDDEN[name]
    checked = found_by("cell_check", changes)
    assert checked.verdict.figure == verdict
    # Storage brings a pack in its band nowhere, and a discharge has its own window of warmth.
    if key == "storage" and name in OF_WARMTH:
        changes = changes | {"resting_v": "3.60 3.60 3.60"}
    refusal = found_by(key, changes)
    assert isinstance(refusal, Refusal)
    told = " ".join(problem.sentence for problem in refusal.problems)
    assert f"{checked.verdict.set_by[1:]}. {verdict}: do not" in told


@pytest.mark.parametrize("key", [*BY_CHARGER, "model_fit", "end_of_life"])
def test_a_pack_whose_cells_were_each_read_is_forecast_as_one_of_which_the_highest_alone_was_noted(key: str) -> None:
    # A pilot who has read more must not be told of a cooler pack.
    pack = PACK | {"resting_v": "3.60 3.60 3.60"}

    def told(**read: str) -> Any:
        rows = {f"packs_{number}_{name}": text for number in (1, 2) for name, text in (pack | read).items()}
        return answer(key, JOBS | pack | read | rows)

    highest = told(cell_resistance_mohm="8")
    assert not isinstance(highest, Refusal)
    assert told(cell_resistances_mohm="8 8 8") == highest
    # The lowest counts too where packs are joined, since it lets the most through.
    assert key == "packs_in_parallel" or told(cell_resistances_mohm="8 8 8", cell_resistance_mohm="6") == highest


def in_a_plan(changes: dict[str, str]) -> dict[str, str]:
    """The same for a plan: the air is not asked, and cells that lie in the band of storage rest below it."""
    typed = {name: text for name, text in changes.items() if name != "air_degc"}
    return {"resting_v": "3.60 3.60 3.60"} | typed


@pytest.mark.parametrize("key", PLANS)
@pytest.mark.parametrize(
    "name", [name for name, (changes, _) in FORBIDDEN.items() if changes.keys() <= OF_A_PLAN | {"air_degc"} and changes.keys() & OF_A_PLAN]
)
def test_no_plan_charges_a_pack_that_the_check_page_would_not_charge(key: str, name: str) -> None:
    changes, verdict = FORBIDDEN[name]
    checked, refusal = found_by("cell_check", changes), found_by(key, in_a_plan(changes))
    assert isinstance(refusal, Refusal)
    told = " ".join(problem.sentence for problem in refusal.problems)
    assert f"{checked.verdict.set_by[1:]}. {verdict}: do not" in told


@pytest.mark.parametrize("name", FORBIDDEN)
def test_the_end_of_life_page_gives_the_check_page_s_verdict_and_reason(name: str) -> None:
    changes, verdict = FORBIDDEN[name]
    checked, found = found_by("cell_check", changes), found_by("end_of_life", changes)
    if name in EMPTIED:
        assert (found.life.figure, found.life.set_by) == (verdict, checked.verdict.set_by)
    elif verdict in (ELSEWHERE, IN_UNKNOWN_AIR):
        assert found.life.figure == "Not at its end"
    else:
        assert any(f"{checked.verdict.set_by}. {verdict}: do not discharge or charge it" in one.sentence for one in found.problems)


@pytest.mark.parametrize("key", FLIGHTS)
@pytest.mark.parametrize("name", [name for name in FORBIDDEN if name not in (*OF_WARMTH, *OF_A_READING)])
def test_a_pack_that_the_check_page_would_not_fly_gets_no_flight(key: str, name: str) -> None:
    changes, verdict = FORBIDDEN[name]
    checked, refusal = found_by("cell_check", changes), found_by(key, changes)
    assert isinstance(refusal, Refusal)
    asked = entries_of(calculator(key).Inputs)
    assert any(
        f"{checked.verdict.set_by}. {verdict}: do not fly or charge it" in one.sentence and one.field in asked for one in refusal.problems
    )


@pytest.mark.parametrize("key", BY_CHARGER)
@pytest.mark.parametrize("name", SLOW)
def test_a_recovering_or_a_cold_pack_gets_half_of_1c_on_every_page(key: str, name: str) -> None:
    found = found_by(key, SLOW[name])
    # Of two packs side by side the first takes half.
    assert current_a(found) <= (5.0 if key == "packs_in_parallel" else 2.5)


@pytest.mark.parametrize("key", PLANS)
@pytest.mark.parametrize("name", [name for name, changes in SLOW.items() if changes.keys() <= OF_A_PLAN])
def test_a_recovering_or_a_cold_pack_gets_half_of_1c_in_every_plan(key: str, name: str) -> None:
    # Far enough down for a plan of the evening to bring them up, each as far from the others as before.
    changes = in_a_plan({one: text.replace("3.8", "3.6") for one, text in SLOW[name].items()})
    plan = found_by(key, changes)
    turns = plan.turns if key == "day_plan" else plan.in_order
    # "Pack 2 off, then Pack 1 alone, at 2.5 A, by ...": what goes on stands last.
    put_on = [str(row.cells[0]).rpartition("then ")[2] for row in turns.rows]
    currents_a = [float(found[1]) for text in put_on if (found := re.match(r"Pack 1\b.* at ([0-9.]+)\u00a0A, by", text))]
    assert currents_a and max(currents_a) <= 2.5


@pytest.mark.parametrize("name", SLOW)
def test_the_limit_is_named_alike_wherever_a_charge_is_given(name: str) -> None:
    settings, course, card = (found_by(key, SLOW[name]) for key in ("charge_settings", "charge_course", "charging_card"))
    assert settings.charge_current.set_by == course.charge_current.set_by == card.charge_current.set_by
    assert current_a(settings) == current_a(course) == current_a(card) == 2.5


@pytest.mark.parametrize("key", ["charge_settings", "charge_course", "charging_card"])
@pytest.mark.parametrize("name", SOUND)
def test_up_to_the_bound_nothing_is_held_against_a_pack(key: str, name: str) -> None:
    # Ten times more than half of 1C: what binds then is the fuse that a lead can have.
    assert current_a(found_by(key, SOUND[name])) > 25


# Packs side by side are not joined at all before every cell has been read.
@pytest.mark.parametrize("key", [key for key in CHARGES if key != "packs_in_parallel"])
def test_a_whole_pack_s_voltage_gives_settings_until_every_cell_has_been_read(key: str) -> None:
    found = found_by(key, {"resting_v": "11.40"})
    assert "these settings hold until every cell has been read" in said(found).lower()


@pytest.mark.parametrize("key", CHARGES)
def test_a_pack_that_nobody_looked_over_gets_settings_and_is_to_be_looked_over_first(key: str) -> None:
    assert "look the pack over first" in said(found_by(key, {"look": ""})).lower()
