"""A meter's readings, cell by cell, as a keypad of digits and a point can type them: what is clear is taken, what is not is asked about."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.inputs.entries import cells_as_read, read
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.inputs.refusals import Problem, Refused

_PACK = {"chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "pack_degc": "20", "label_charge_rate_c": "1"}


def _read(text: str, **others: str) -> tuple[float, ...]:
    return read(PackEntries, _PACK | others | {"resting_v": text}).resting_v


def _problem(text: str, **others: str) -> Problem:
    with pytest.raises(Refused) as refused:
        _read(text, **others)
    (problem,) = refused.value.problems
    assert problem.field == "resting_v"
    return problem


@pytest.mark.parametrize("text", ["371 372 370 368", "371 3.72 370 3,68", "371, 372, 370, 368", "3710 3720 3700 3680"])
def test_three_digits_for_each_cell_are_hundredths_of_a_volt(text: str) -> None:
    assert _read(text) == pytest.approx((3.71, 3.72, 3.70, 3.68))


@pytest.mark.parametrize(
    "text",
    [
        "C4 3.68 C3 3.70 C2 3.72 C1 3.71",
        "Cell 4: 3.68 V, Cell 3: 3.70 V, Cell 2: 3.72 V, Cell 1: 3.71 V",
        "c2=3,72; c1=3,71; c4=3,68; c3=3,70",
        "3: 370 4: 368 1: 371 2: 372",
        "C2 3720 C1 3710 C3 3700 C4 3680",
    ],
)
def test_a_cell_that_is_named_comes_to_its_own_place_in_whatever_order_they_are_typed(text: str) -> None:
    assert _read(text) == pytest.approx((3.71, 3.72, 3.70, 3.68))


# The second plug of a pack counts from one again.
@pytest.mark.parametrize("text", ["C1 3.71 C2 3.72 C1 3.70 C2 3.68", "C0 3.71 C1 3.72 C2 3.70 C3 3.68"])
def test_names_that_are_not_each_cell_s_own_leave_the_order_as_it_was_typed(text: str) -> None:
    assert _read(text) == (3.71, 3.72, 3.70, 3.68)


def test_one_cell_alone_is_read_from_three_digits_too() -> None:
    assert _read("371", cells="1") == (3.71,)


# LiPo: 3.00 V is the floor, 4.20 V full and 4.25 V the upper limit; iron phosphate: 3.65 V full.
@pytest.mark.parametrize(
    "kind, within, without",
    [("lipo", ("300", "425"), ("299", "426")), ("lihv", ("300", "440"), ("299", "441")), ("life", ("250", "370"), ("249", "371"))],
)
def test_three_digits_are_a_reading_only_where_a_sound_cell_of_the_kind_may_rest(kind, within, without) -> None:
    for text in within:
        assert _read(text, chemistry=kind, cells="1") == (float(text) / 100,)
    for text in without:
        assert f"If the meter shows {text[0]}.{text[1:]} V, enter it with its point." in _problem(text, chemistry=kind, cells="1").sentence


def test_with_its_point_any_voltage_goes_in() -> None:
    assert _read("2.90 3.72 3.70 3.68") == (2.90, 3.72, 3.70, 3.68)


@pytest.mark.parametrize("digits", ["0", "3", "37", "3712", "03712"])
def test_any_other_number_of_digits_is_asked_about_and_the_cell_is_named(digits: str) -> None:
    sentence = _problem(f"371 {digits} 370 368").sentence
    assert sentence == "Cell 2: enter its voltage as the meter shows it, with the point, or as three digits: 371 is 3.71 V."


def test_digits_that_are_not_clear_are_asked_about_before_all_cells_are_read() -> None:
    assert "Cell 2: a sound cell rests from" in _problem("371 571 - -").sentence


def test_three_digits_alone_are_no_reading_of_a_whole_pack() -> None:
    assert "from 0 to 70" in _problem("168").sentence


@pytest.mark.parametrize(
    "text, words",
    [
        ("3.71 - 3.70 3.68", "cell 2 has not been read"),
        ("371 - - -", "cells 2, 3 and 4 have not been read"),
        ("- \u2212 3.7 3.7", "cells 1 and 2 have not been read"),
    ],
)
def test_a_cell_that_was_not_read_is_still_needed_and_never_taken_as_the_mean(text: str, words: str) -> None:
    problem = _problem(text)
    assert problem.sentence == f"Resting voltage: {words}."
    assert problem.missing


def test_a_pack_with_a_cell_that_was_not_read_gets_no_setting() -> None:
    whole = _PACK | {
        "requested_rate_c": "1", "charger_current_a": "10", "charger_power_w": "200", "charger_cells": "6", "port_cells": "6",
        "supply_kind": "mains", "supply_v": "24", "supply_current_a": "20", "lead_length_m": "1", "lead_area_mm2": "2.5",
        "balance_ports": "1", "current_step_a": "0.1", "capacity_step_mah": "100", "charger_input_least_v": "11", "efficiency_percent": "85",
    }  # fmt: skip
    assert hasattr(answer("charge_settings", whole | {"resting_v": "371 372 370 368"}), "charge_current")
    found = answer("charge_settings", whole | {"resting_v": "371 372 - 368"})
    assert not found.may_start and not hasattr(found.known, "time_cutout")
    assert [problem.sentence for problem in found.begun] == ["Resting voltage: cell 3 has not been read."]


def test_a_resistance_that_was_not_read_is_asked_for_too() -> None:
    with pytest.raises(Refused, match="Resistance of each cell: cell 3 has not been read"):
        read(PackEntries, _PACK | {"resting_v": "15", "cell_resistances_mohm": "5.1 4.9 - 5.0"})


def test_three_digits_are_no_hundredths_of_a_milliohm() -> None:
    found = read(PackEntries, _PACK | {"resting_v": "15", "cell_resistances_mohm": "371 372 370 368"})
    assert found.cell_resistances_mohm == (371, 372, 370, 368)


@pytest.mark.parametrize(
    "text, shown",
    [
        ("371 372 370 368", "3.71 3.72 3.70 3.68"),
        ("C1: 3.71V C2: 3,72 V C3: 3.70V C4: 3.68V", "3.71 3.72 3.70 3.68"),
        ("3712 3720 3701 3680", "3.712 3.720 3.701 3.680"),
        ("571 372 37 -", "571 3.72 37 -"),
        ("3.71 3.72 3.70 3.68", "3.71 3.72 3.70 3.68"),
    ],
)
def test_what_was_read_is_shown_cell_by_cell_with_its_point(text: str, shown: str) -> None:
    assert cells_as_read(PackEntries, _PACK | {"resting_v": text}) == {"resting_v": shown}
    assert cells_as_read(PackEntries, _PACK | {"resting_v": shown}) == {"resting_v": shown}


@pytest.mark.parametrize("text", ["", "14.8", "3.71 3.72 3.70", "371 372 370 368 371", "9" * 300])
def test_what_has_no_place_for_each_cell_is_not_shown_cell_by_cell(text: str) -> None:
    assert cells_as_read(PackEntries, _PACK | {"resting_v": text}) == {}


def test_the_cells_of_each_row_are_those_of_its_own_pack() -> None:
    rows = {"packs_1_cells": "2", "packs_1_chemistry": "lipo", "packs_2_cells": "1", "packs_2_chemistry": "life"}
    typed = rows | {"packs_1_resting_v": "371 372", "packs_2_resting_v": "331", "packs_3_resting_v": "371"}
    assert cells_as_read(JoinedPackEntries, typed) == {"packs_1_resting_v": "3.71 3.72", "packs_2_resting_v": "3.31"}


def test_the_cells_of_a_pack_that_is_alike_are_those_of_the_first_label() -> None:
    typed = {"alike_packs": "2", "packs_1_cells": "2", "packs_1_chemistry": "life", "packs_2_resting_v": "331 332"}
    assert cells_as_read(JoinedPackEntries, typed) == {"packs_2_resting_v": "3.31 3.32"}
