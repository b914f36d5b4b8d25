"""Text as typed with cold fingers: what is clear is accepted, what is not is asked about, and nothing is guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass

import pytest

from calc.answering import answer, calculator, calculator_keys
from calc.figures.quantities import (
    AMPERE_HOURS,
    AMPERES,
    CELL_VOLTS,
    CELLS,
    DEGREES_CELSIUS,
    METRES,
    MILLIAMPERE_HOURS,
    MILLIOHMS,
    MINUTES,
    PERCENT,
    PORTS,
    RATE,
    SQUARE_MILLIMETRES,
    WATTS,
)
from calc.inputs.entries import is_asked, read
from calc.inputs.fields import Entry, Group, Kind, choice, entries_of, number, readings, same_as
from calc.inputs.refusals import Problem, Refused

_GROUP = Group("pack", "This pack")


@dataclass(frozen=True, kw_only=True)
class _Inputs:
    capacity_mah: float = number("Capacity on the label", MILLIAMPERE_HOURS, group=_GROUP, least=20, most=60_000)
    current_a: float = number("Charge current", AMPERES, group=_GROUP, least=0.1, most=50)
    cells: float = number("Cells in series", CELLS, group=_GROUP, least=1, most=14, whole=True)
    pack_degc: float = number("Temperature of the pack", DEGREES_CELSIUS, group=_GROUP, least=-40, most=100)
    area_mm2: float = number("Cross-section of one wire", SQUARE_MILLIMETRES, group=_GROUP, least=0.1, most=70)
    rate_c: float = number("Charge rate", RATE, group=_GROUP, least=0.1, most=20)
    power_w: float = number("Charge power", WATTS, group=_GROUP, least=1, most=3000)
    lead_m: float = number("Length of the lead", METRES, group=_GROUP, least=0.05, most=30)
    cell_mohm: float = number("Resistance of one cell", MILLIOHMS, group=_GROUP, least=0.1, most=500)
    efficiency_percent: float = number("Efficiency", PERCENT, group=_GROUP, least=40, most=99)
    balance_ports: float = number("Balance ports", PORTS, group=_GROUP, least=1, most=4, whole=True)
    resting_v: tuple[float, ...] = readings("Resting voltage", CELL_VOLTS, group=_GROUP, least=0, most=70)
    resistances_mohm: tuple[float, ...] | None = readings("Resistances", MILLIOHMS, group=_GROUP, least=0.1, most=500, optional=True)
    supply: str = choice("Supply", {"mains": "Mains", "battery": "Battery"}, group=_GROUP, starts_as="mains")
    battery_ah: float = number(
        "Capacity of the battery", AMPERE_HOURS, group=_GROUP, least=1, most=1000, only_with=("supply", ("battery",))
    )
    terminal: str | None = choice(
        "Terminal", {"post": "Post", "bolt": "Bolt"}, group=_GROUP, starts_as="bolt", only_with=("supply", ("battery",))
    )
    bolt_mm2: float | None = number(
        "Bolt", SQUARE_MILLIMETRES, group=_GROUP, least=1, most=70, optional=True, only_with=("terminal", ("bolt",))
    )
    spare_a: float | None = number("Spare current", AMPERES, group=_GROUP, least=0.1, most=5, optional=True)


_SOUND = {
    "capacity_mah": "2650",
    "current_a": "2.6",
    "cells": "3",
    "pack_degc": "20",
    "area_mm2": "2.5",
    "rate_c": "1",
    "power_w": "50",
    "lead_m": "1.5",
    "cell_mohm": "4",
    "efficiency_percent": "85",
    "balance_ports": "1",
    "resting_v": "11.4",
    "supply": "mains",
    "terminal": "bolt",
}


def _value(name: str, text: str) -> object:
    return getattr(read(_Inputs, _SOUND | {name: text}), name)


def _problem(name: str, text: str, **others: str) -> Problem:
    with pytest.raises(Refused) as refused:
        read(_Inputs, _SOUND | others | {name: text})
    (problem,) = refused.value.problems
    assert problem.field == name
    return problem


@pytest.mark.parametrize("text", ["2.6", " 2.6 ", "2,6", "+2.6", "2.60", "2.6 A", "2.6A", "2.6 a", "2,6 amps", "2600 mA", "2.6\u00a0A"])
def test_a_clear_current_is_accepted(text: str) -> None:
    assert _value("current_a", text) == pytest.approx(2.6)


@pytest.mark.parametrize("text", ["2650", "2650 mAh", "2650mah", "2650 MAH", "2.65 Ah", "2,65 Ah", "2.65AH"])
def test_a_clear_capacity_is_accepted(text: str) -> None:
    assert _value("capacity_mah", text) == pytest.approx(2650)


@pytest.mark.parametrize(
    "name, text, value",
    [
        ("cells", "6S", 6),
        ("cells", "6 cells", 6),
        ("cells", "1 cell", 1),
        ("rate_c", "2C", 2),
        ("rate_c", ".5", 0.5),
        ("rate_c", "0.5 C", 0.5),
        ("power_w", "50 W", 50),
        ("power_w", "50 watts", 50),
        ("power_w", "50.", 50),
        ("lead_m", "1,5 m", 1.5),
        ("cell_mohm", "4 mΩ", 4),
        ("cell_mohm", "4 milliohms", 4),
        ("efficiency_percent", "85 %", 85),
        ("balance_ports", "2 ports", 2),
        ("area_mm2", "2,5 mm²", 2.5),
        ("area_mm2", "2.5mm2", 2.5),
        ("pack_degc", "-5", -5),
        ("pack_degc", "\u22125", -5),
        ("pack_degc", "20 °C", 20),
        ("pack_degc", "20C", 20),
    ],
)
def test_the_unit_of_the_field_may_be_typed_after_the_number(name: str, text: str, value: float) -> None:
    assert _value(name, text) == value


@pytest.mark.parametrize("text, degc", [("68 F", 20), ("68°F", 20), ("68 deg F", 20), ("32f", 0), ("-40 F", -40), ("50,0 °F", 10)])
def test_degrees_fahrenheit_are_converted(text: str, degc: float) -> None:
    assert _value("pack_degc", text) == pytest.approx(degc)


# Areas by the formula of ASTM B258, as texts that restate it give it.
@pytest.mark.parametrize(
    "text, area_mm2",
    [
        ("12 AWG", 3.309), ("14awg", 2.081), ("16 gauge", 1.309), ("10 AWG", 5.261), ("AWG 14", 2.081), ("AWG14", 2.081),
        ("awg #14", 2.081), ("14 ga", 2.081), ("14ga.", 2.081), ("14-gauge", 2.081), ("gauge 14", 2.081), ("#14", 2.081),
        ("No. 14", 2.081), ("# 14 AWG", 2.081), ("0 AWG", 53.475), ("1/0", 53.475), ("1/0 AWG", 53.475), ("AWG 2/0", 67.431),
        ("00", 67.431),
    ],
)  # fmt: skip
def test_a_gauge_is_converted_to_its_area(text: str, area_mm2: float) -> None:
    assert _value("area_mm2", text) == pytest.approx(area_mm2, abs=0.0005)


@pytest.mark.parametrize("text", ["4", "14", "14.", "10", "16", "12", "8", "6", "2", "0", "20", "13", "+14"])
def test_a_bare_number_that_is_a_gauge_is_asked_about(text: str) -> None:
    # 14 mm² may carry 80 A, gauge 14 may carry 20.
    sentence = _problem("area_mm2", text).sentence
    number = text.strip("+.")
    assert sentence == f"Cross-section of one wire: {number} can be read in two ways. Enter {number} AWG, or {number} mm²."


@pytest.mark.parametrize(
    "text, area_mm2", [("0.75", 0.75), ("1", 1), ("1.5", 1.5), ("2,5", 2.5), ("4.0", 4), ("25", 25), ("35", 35), ("50", 50)]
)
def test_a_bare_number_that_can_only_be_a_cross_section_is_one(text: str, area_mm2: float) -> None:
    assert _value("area_mm2", text) == area_mm2


@pytest.mark.parametrize(("text", "area_mm2"), [(".5", 0.5), (",5", 0.5), ("+.8", 0.8)])
def test_a_decimal_mark_at_the_front_belongs_to_the_number(text: str, area_mm2: float) -> None:
    # Half a square millimetre is neither gauge 5 nor 5 mm², which may carry ten times as much.
    assert _value("area_mm2", text) == area_mm2


@pytest.mark.parametrize("text", ["4 mm2", "4mm²", "4 sq mm", "4 mm^2", "4.00 mm²"])
def test_a_cross_section_with_its_unit_is_no_gauge(text: str) -> None:
    assert _value("area_mm2", text) == 4


@pytest.mark.parametrize("text", ["41 AWG", "-1 AWG", "1000000 AWG", "3/0"])
def test_a_gauge_that_no_lead_has_is_sent_back(text: str) -> None:
    assert "mm²" in _problem("area_mm2", text).sentence


def test_a_battery_in_milliampere_hours_is_converted() -> None:
    inputs = read(_Inputs, _SOUND | {"supply": "battery", "battery_ah": "7000 mAh"})
    assert inputs.battery_ah == 7.0


@pytest.mark.parametrize(
    "text",
    [
        "3.85 3.86 3.71",
        "3,85 3,86 3,71",
        "3.85, 3.86, 3.71",
        "3,85, 3,86, 3,71",
        "3,85; 3,86; 3,71",
        "3.85;3.86;3.71",
        "3.85,3.86,3.71",
        "3.85/3.86/3.71",
        "3.85 / 3.86 / 3.71",
        "3.85|3.86|3.71",
        "3.85V 3.86V 3.71V",
        "3.85 V, 3.86 V, 3.71 V",
        "3,85 V 3,86 V 3,71 V",
        "3.85 volts 3.86 volts 3.71 volts",
        "3850 mV 3860 mV 3710 mV",
        "3850mV/3860mV/3710mV",
        "  3.85   3.86\t3.71  ",
        "3.85, 3.86, 3.71,",
        "3850 3860 3710",
        "C1: 3.85V C2: 3.86V C3: 3.71V",
        "C1 3.85, C2 3.86, C3 3.71",
        "cell 1: 3,85; cell 2: 3,86; cell 3: 3,71",
        "1: 3.85 2: 3.86 3: 3.71",
        "1=3.85 2=3.86 3=3.71",
        "C1:3850 C2:3860 C3:3710",
    ],
)
def test_the_voltages_of_three_cells_are_read_however_they_are_listed(text: str) -> None:
    assert _value("resting_v", text) == pytest.approx((3.85, 3.86, 3.71))


@pytest.mark.parametrize("text", ["11.4", "11,4", "11,4 V", "11.4V", "11.4 v", "11.40 volts", "11400 mV"])
def test_the_voltage_of_a_whole_pack_is_read_alone(text: str) -> None:
    assert _value("resting_v", text) == pytest.approx((11.4,))


def test_a_colon_between_two_voltages_names_no_cell() -> None:
    assert "enter the number in V" in _problem("resting_v", "3.85:3.86").sentence


def test_a_number_of_four_digits_that_stands_alone_is_not_taken_for_millivolts() -> None:
    assert "from 0 to 70\u00a0V" in _problem("resting_v", "2650").sentence


@pytest.mark.parametrize(
    "text", ["5.1 4.9 5.0", "5,1 4,9 5,0", "5.1 mΩ 4.9 mΩ 5.0 mΩ", "5.1mΩ/4.9mΩ/5mΩ", "C1: 5.1 mohm C2: 4.9 mohm C3: 5 mohm"]
)
def test_the_resistances_of_three_cells_are_read_however_they_are_listed(text: str) -> None:
    assert _value("resistances_mohm", text) == pytest.approx((5.1, 4.9, 5.0))


@pytest.mark.parametrize("text", ["3,85,3,86", "3.85 and 3.86", "3.85-3.86", "3.85 3.8.6", "V", ";", "3.85 nan"])
def test_voltages_that_are_not_clear_are_sent_back(text: str) -> None:
    assert "must be a number" in _problem("resting_v", text).sentence


@pytest.mark.parametrize(
    "text, instead", [("5.0", "5000"), ("2.65", "2650"), ("2,65", "2650"), ("0.35", "350"), (".35", "350"), ("16.1", "16100")]
)
def test_ampere_hours_typed_where_milliampere_hours_are_meant_are_asked_about(text: str, instead: str) -> None:
    sentence = _problem("capacity_mah", text).sentence
    assert "is asked in mAh" in sentence
    assert f"enter {instead} if the label says {text} Ah" in sentence


@pytest.mark.parametrize(
    "name, text, whole, decimal",
    [
        ("capacity_mah", "2,650", "2650", "2.65"),
        ("capacity_mah", "2,650 mAh", "2650", "2.65"),
        ("capacity_mah", "12,000", "12000", "12"),
        ("capacity_mah", "22.000 mAh", "22000", "22"),
        ("capacity_mah", "22.500 mah", "22500", "22.5"),
        ("capacity_mah", "22.000", "22000", "22"),
        ("capacity_mah", "60.000", "60000", "60"),
        ("power_w", "1,200", "1200", "1.2"),
        ("power_w", "1.200 W", "1200", "1.2"),
    ],
)
def test_a_mark_before_three_digits_is_asked_about(name: str, text: str, whole: str, decimal: str) -> None:
    sentence = _problem(name, text).sentence
    assert "can be read in two ways" in sentence
    assert f"Enter {whole}, or {decimal}" in sentence


@pytest.mark.parametrize(
    "name, text, value",
    [("capacity_mah", "2.650 Ah", 2650), ("capacity_mah", "850.00", 850), ("lead_m", "1.500", 1.5), ("current_a", "2.600", 2.6)],
)
def test_a_point_before_three_digits_is_a_decimal_mark_where_a_label_or_a_meter_has_such(name: str, text: str, value: float) -> None:
    assert _value(name, text) == value


@pytest.mark.parametrize("name, text, value", [("lead_m", "1,500", 1.5), ("current_a", "2,600", 2.6)])
def test_a_comma_before_three_digits_is_a_decimal_mark_where_thousands_make_no_sense(name: str, text: str, value: float) -> None:
    assert _value(name, text) == value


def test_a_nought_before_the_comma_makes_it_a_decimal_mark() -> None:
    assert _value("capacity_mah", "0,850 Ah") == 850


@pytest.mark.parametrize(
    "text", ["abc", "twelve", "--5", "5-", "+", ".", ",", "1.2.3", "2 650", "nan", "NaN", "inf", "-inf", "Infinity", "½", "<b>5</b>", "∞"]
)
def test_what_is_no_number_is_sent_back_with_a_sample(text: str) -> None:
    assert _problem("current_a", text).sentence == "Charge current must be a number, such as 2 A."


@pytest.mark.parametrize("name, sample", [("cells", "4"), ("balance_ports", "2"), ("capacity_mah", "1000 mAh")])
def test_the_sample_is_in_the_words_of_the_field(name: str, sample: str) -> None:
    assert _problem(name, "?").sentence.endswith(f"such as {sample}.")


@pytest.mark.parametrize(
    "name, text, sign",
    [
        ("current_a", "1e5", "A"),
        ("current_a", "2.6 V", "A"),
        ("current_a", "2_6", "A"),
        ("current_a", "0x10", "A"),
        ("capacity_mah", "2650 A", "mAh"),
        ("lead_m", "150 cm", "m"),
        ("power_w", "0.05 kW", "W"),
        ("pack_degc", "293 K", "°C"),
        ("resting_v", "11.4A", "V"),
    ],
)
def test_a_unit_that_is_not_known_is_asked_in_the_field_s_own(name: str, text: str, sign: str) -> None:
    sentence = _problem(name, text).sentence
    assert f": enter the number in {sign}, such as " in sentence


def test_what_is_counted_is_asked_for_as_a_number_alone() -> None:
    assert _problem("cells", "3 kg").sentence == "Cells in series: enter the number alone, such as 4."


@pytest.mark.parametrize("text", ["", " ", "\t", "\n", "\u00a0", "\u202f "])
def test_a_missing_entry_is_asked_for_in_the_words_of_the_label(text: str) -> None:
    problem = _problem("capacity_mah", text)
    assert problem.sentence == "Enter the capacity on the label."
    assert problem.missing


def test_an_entry_that_is_there_but_wrong_is_not_called_missing() -> None:
    assert not _problem("capacity_mah", "abc").missing


def test_an_optional_entry_may_stay_empty() -> None:
    assert _value("spare_a", " ") is None


def test_an_optional_entry_that_is_filled_is_held_to_its_bounds() -> None:
    assert "from 0.1 to 5\u00a0A" in _problem("spare_a", "6").sentence


def test_a_very_long_text_is_sent_back_unread() -> None:
    assert "too long" in _problem("current_a", "9" * 201).sentence


@pytest.mark.parametrize(
    "name, text, bounds",
    [
        ("current_a", "0", "from 0.1 to 50 A"),
        ("current_a", "-1", "from 0.1 to 50 A"),
        ("current_a", "50.1", "from 0.1 to 50 A"),
        ("current_a", "9" * 200, "from 0.1 to 50 A"),
        ("capacity_mah", "0", "from 20 to 60000 mAh"),
        ("capacity_mah", "-2650", "from 20 to 60000 mAh"),
        ("capacity_mah", "1000000", "from 20 to 60000 mAh"),
        ("cells", "15", "from 1 to 14 cells"),
        ("pack_degc", "101", "from -40 to 100 °C"),
        ("pack_degc", "300 F", "from -40 to 100 °C"),
        ("resting_v", "3.8 71", "from 0 to 70 V"),
        ("resting_v", "-3.8", "from 0 to 70 V"),
    ],
)
def test_an_entry_out_of_bounds_is_told_its_bounds(name: str, text: str, bounds: str) -> None:
    assert _problem(name, text).sentence.replace("\u00a0", " ").endswith(f"must be {bounds}.")


@pytest.mark.parametrize("name, text, value", [("current_a", "0.1", 0.1), ("current_a", "50", 50), ("capacity_mah", "20", 20)])
def test_a_bound_itself_is_accepted(name: str, text: str, value: float) -> None:
    assert _value(name, text) == value


def test_half_a_cell_is_sent_back() -> None:
    assert _problem("cells", "3.5").sentence == "Cells in series must be a whole number, such as 4."


def test_a_choice_is_read_as_its_key() -> None:
    assert _value("supply", "mains") == "mains"


def test_a_choice_that_is_not_in_the_list_is_sent_back() -> None:
    assert _problem("supply", "solar").sentence.startswith("Choose the supply: take one that is")


def test_a_choice_that_is_not_made_is_asked_for() -> None:
    assert _problem("supply", "").sentence == "Choose the supply."


def test_what_belongs_to_another_choice_is_not_asked() -> None:
    assert read(_Inputs, _SOUND | {"battery_ah": "nonsense"}).battery_ah is None


def test_what_belongs_to_a_choice_that_is_not_asked_is_not_asked_either() -> None:
    assert read(_Inputs, _SOUND | {"bolt_mm2": "nonsense"}).bolt_mm2 is None
    assert read(_Inputs, _SOUND | {"supply": "battery", "battery_ah": "70", "bolt_mm2": "8 mm²"}).bolt_mm2 == 8


def test_what_belongs_to_the_choice_is_asked() -> None:
    assert _problem("battery_ah", "", supply="battery").sentence == "Enter the capacity of the battery."


def test_a_choice_that_is_still_empty_counts_as_what_the_form_shows_at_first() -> None:
    asked = entries_of(_Inputs)
    assert not is_asked(asked["battery_ah"], asked, {})


def test_a_name_that_is_not_asked_is_passed_over() -> None:
    assert read(_Inputs, _SOUND | {"colour": "red"}) == read(_Inputs, _SOUND)


def test_every_problem_is_found_at_once_in_the_order_of_the_form() -> None:
    with pytest.raises(Refused) as refused:
        read(_Inputs, _SOUND | {"supply": "solar", "capacity_mah": "", "resting_v": "?"})
    assert [problem.field for problem in refused.value.problems] == ["capacity_mah", "resting_v", "supply"]


@dataclass(frozen=True, kw_only=True)
class _Flight:
    flown_min: float = number("Minutes flown", MINUTES, group=_GROUP, least=0.5, most=240)


@pytest.mark.parametrize(
    "text, flown_min", [("6:30", 6.5), ("6.5", 6.5), ("6,5 min", 6.5), ("6 minutes", 6.0), ("10:00", 10.0), ("0:45", 0.75)]
)
def test_minutes_are_read_as_a_stopwatch_or_a_pilot_writes_them(text: str, flown_min: float) -> None:
    assert read(_Flight, {"flown_min": text}).flown_min == flown_min


@pytest.mark.parametrize("text", ["6:60", "6:3", "6:", ":30", "1:06:30", "6:30:00", "0:10"])
def test_no_stopwatch_shows_this(text: str) -> None:
    with pytest.raises(Refused):
        read(_Flight, {"flown_min": text})


def test_a_clock_is_for_minutes_alone() -> None:
    with pytest.raises(Refused):
        read(_Inputs, _SOUND | {"current_a": "2:30"})


@dataclass(frozen=True, kw_only=True)
class _Look:
    look: str = choice("What you see, smell or know", {"sound": "Nothing"}, group=_GROUP)


def test_an_entry_that_asks_a_question_is_asked_for_without_an_article() -> None:
    with pytest.raises(Refused) as refused:
        read(_Look, {})
    assert [problem.sentence for problem in refused.value.problems] == ["Choose what you see, smell or know."]


def _all_entries() -> dict[str, Entry]:
    """What any calculator asks, by field name; those of rows alike once."""
    return {name: entry for key in calculator_keys() for name, entry in entries_of(calculator(key).Inputs).items()}


@pytest.mark.parametrize(
    ("name", "asked_for"),
    [
        ("goal", "Choose what to bring it to."),
        ("read_when", "Choose when you read the voltages."),
        ("balance_plugs_into", "Choose what the balance plugs go into."),
        ("main_leads_into", "Choose what the main leads go into."),
        ("other_rate_c", "Enter the rate to compare with."),
        ("emptying_rate_c", "Enter the rate for emptying it."),
        ("stop_after_min", "Enter the minutes after which you stop."),
        ("wanted_percent", "Enter the charge to wait for."),
        ("flights_1_put_back_mah", "Enter the charge put back afterwards."),
        ("first_load_a", "Enter the current of the small load."),
        ("capacity_mah", "Enter the capacity on the label."),
    ],
)
def test_what_is_missing_is_asked_for_in_a_sentence_that_can_be_read_aloud(name: str, asked_for: str) -> None:
    entry = _all_entries()[name]
    assert f"{'Choose' if entry.kind is Kind.CHOICE else 'Enter'} {entry.within}." == asked_for


def test_no_entry_is_asked_for_by_words_that_name_nothing() -> None:
    # A label may be a verb, a question or the beginning of a sentence; what is asked for is a thing.
    begin_no_name = ("the the ", "the if ", "the when ", "the what ", "the bring ", "the compare ", "the empty ", "the put ", "the on ")
    assert [entry.within for entry in _all_entries().values() if entry.within.startswith(begin_no_name)] == []


def test_a_number_that_is_sent_back_is_named_as_it_is_asked_for() -> None:
    sent_back = [
        problem.sentence
        for problem in answer("charge_course", {"other_rate_c": "fast", "stop_after_min": "5000"}).problems
        if problem.field in ("other_rate_c", "stop_after_min")
    ]
    assert sent_back == [
        "The minutes after which you stop must be from 1 to 1000\N{NO-BREAK SPACE}min.",
        "The rate to compare with must be a number, such as 2 C.",
    ]


def test_a_choice_of_endless_words_is_no_number() -> None:
    assert _problem("supply", "x" * 300).sentence == "Choose the supply: take one that is on the list."


def test_a_sample_is_a_usual_number_and_not_the_highest_that_is_read() -> None:
    assert _problem("pack_degc", "warm").sentence == "Temperature of the pack must be a number, such as 10 °C."


# Words that only a form would say: a count "asked in cells", a verb that does not fit its noun, half of a label.
_OF_A_FORM = re.compile(
    r"is asked in (?!mAh, and)|Enter the (?:cells|most cells on|lead|charges)\b|\b(?:1|4) (?:cell|port|pack|charge)s?\.$|one way must|down must| of it must"
)


@pytest.mark.parametrize("key", calculator_keys())
@pytest.mark.parametrize("text", ["", "abc", "5 kg", "1e9", "999999", "-99", "3.5", "9" * 210])
def test_whatever_is_typed_by_mistake_is_answered_in_words_that_a_pilot_would_say(key: str, text: str) -> None:
    typed = {name: entry.starts_as if entry.kind is Kind.CHOICE else text for name, entry in entries_of(calculator(key).Inputs).items()}
    told = [problem.sentence for problem in getattr(answer(key, typed), "problems", ())]
    # What may all stay empty is answered.
    assert told or not text
    assert not [sentence for sentence in told if _OF_A_FORM.search(sentence)]
    assert all(sentence[0].isupper() and sentence.endswith(".") for sentence in told)


def test_every_number_may_be_typed_with_its_unit() -> None:
    asked = {
        (key, name): one.quantity for key in calculator_keys() for name, one in entries_of(calculator(key).Inputs).items() if one.quantity
    }
    refused = [where for where, quantity in asked.items() if quantity.sign.lower() not in quantity.typed and quantity.reads is None]
    assert not refused, f"{refused}: give each unit its `typed` in calc/figures/quantities.py"


@dataclass(frozen=True, kw_only=True)
class _Spared:
    supply: str = choice("Supply", {"mains": "Mains", "battery": "Battery"}, group=_GROUP, starts_as="mains")
    current_a: float | None = same_as(_Inputs, "current_a", unless=("supply", ("battery",)))


def test_an_entry_that_an_option_rules_out_is_asked_until_that_is_chosen() -> None:
    assert read(_Spared, {"supply": "battery", "current_a": "2.6"}).current_a is None
    with pytest.raises(Refused):
        read(_Spared, {"supply": "mains"})


@pytest.mark.parametrize(
    ("key", "field", "text", "says"),
    [
        ("day_plan", "start_clock", "noon", "The hour at which you begin must be written as 12:00."),
        ("day_plan", "start_clock", "25:00", "The hour at which you begin must be from 0:00 to 23:59."),
        ("ageing", "lines_1_day", "yesterday", "Line 1: the day of this line must be written as 2026-05-03."),
        ("ageing", "lines_1_day", "2023-02-29", "Line 1: the day of this line: 2023 has no 29 February."),
        ("ageing", "lines_1_day", "1900-2-29", "Line 1: the day of this line: 1900 has no 29 February."),
        ("ageing", "lines_1_day", "2024-02-29", ""),
        ("ageing", "lines_1_day", "1999-12-31", "Line 1: the day of this line must be from 2000-01-01 to 2099-12-31."),
    ],
)
def test_an_hour_and_a_day_are_shown_as_they_are_written_and_no_unit_stands_behind(key: str, field: str, text: str, says: str) -> None:
    sentences = [problem.sentence for problem in answer(key, {field: text}).problems if problem.field == field]
    assert sentences == ([says] if says else [])


@pytest.mark.parametrize(
    ("field", "entries", "example"),
    [
        ("resting_v", {"chemistry": "lipo", "cells": "6", "resting_v": "full"}, "22.92"),
        ("resting_v", {"chemistry": "life", "cells": "4", "resting_v": "full"}, "13.04"),
        ("resting_v", {"chemistry": "lipo", "resting_v": "full"}, "3.82"),
        ("resting_v", {"chemistry": "lipo", "cells": "3", "resting_v": "3.8 full 3.8"}, "3.82"),
        ("first_load_v", {"chemistry": "lipo", "cells": "6", "first_load_v": "full"}, "22.92"),
    ],
)
def test_an_example_of_a_voltage_fits_the_cells_that_are_asked(field: str, entries: dict[str, str], example: str) -> None:
    [sentence] = [one.sentence for one in answer("end_of_life", {"look": "sound"} | entries).problems if one.field == field]
    assert sentence.endswith(f"must be a number, such as {example}\u00a0V.")


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("22.0", "Capacity on the label: 22.0 can be read in two ways. Enter 22.0 Ah, or 22.0 mAh."),
        ("22,5", "Capacity on the label: 22,5 can be read in two ways. Enter 22,5 Ah, or 22,5 mAh."),
        ("22", None),
        ("22.0 mAh", None),
        ("22.0 Ah", None),
        ("2200.0", None),
    ],
)
def test_a_capacity_with_a_point_that_may_be_ampere_hours_is_asked_about(text: str, asks: str | None) -> None:
    problems = answer("charge_settings", {"chemistry": "lipo", "cells": "6", "capacity_mah": text})
    said = [one.sentence for one in getattr(problems, "problems", ()) if one.field == "capacity_mah"]
    assert said == ([asks] if asks else [])


def test_a_step_of_one_milliampere_hour_is_no_step_of_one_ampere_hour() -> None:
    problems = answer("charge_settings", {"chemistry": "lipo", "capacity_step_mah": "1.0"}).problems
    assert "capacity_step_mah" not in {one.field for one in problems}
