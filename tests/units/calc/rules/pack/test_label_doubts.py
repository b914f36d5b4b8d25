"""A label that the voltage speaks against: said wherever it is likely on every page, and never of a healthy pack."""

from __future__ import annotations

import pytest

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.refusals import Refusal
from calc.rules.pack.label_doubts import doubts_of, problems_of_measured_capacity
from calc.rules.pack.readings import Reading
from tests.units.calc.calculators.test_supply_and_leads import EVERY_PAGE
from tests.units.calc.sound_charge import given

# What is sold as one pack: common practice, no source.
SOLD = (1, 2, 3, 4, 5, 6, 8, 10, 12, 14)
PAGES = (
    "charge_settings", "charge_course", "charging_card", "supply_day", "storage", "going_home", "packs_in_parallel", "packs_in_series",
    "cell_check", "end_of_life", "day_plan",
)  # fmt: skip
REST = {
    "charger_cells": "14",
    "balance_ports": "2",
    "port_cells": "7",
    "look": "sound",
    "read_when": "rested",
    "load_kind": "resistor",
    "emptying_rate_c": "0.2",
    "planned_charges": "1",
    "charger_outputs": "1",
    "aim": "soonest",
    "change_min": "3",
    "watched_charges": "1",
    "day_begun": "new",
    "supply_kind": "battery",
    "battery_kind": "flooded",
    "battery_ah": "70",
    "battery_resting_v": "12.6",
}


def of_whole_pack(chemistry: str, cells: int, pack_v: float) -> list[str]:
    return [doubt.sentence for doubt in doubts_of(chemistry, cells, Reading(pack_v=pack_v, cell_v=(pack_v / cells,), each_cell=False))]


def said(page: str, chemistry: str, cells: str, resting_v: str) -> list[tuple[str, bool]]:
    pack = {"chemistry": chemistry, "cells": cells, "resting_v": resting_v}
    rows = {f"packs_{row}_{name}": text for row in (1, 2) for name, text in pack.items()}
    found = answer(page, EVERY_PAGE | REST | pack | rows)
    assert not isinstance(found, Refusal), found
    return [(str(caution.sentence), caution.grave) for caution in found.cautions]


def test_a_lower_count_is_likely_only_where_its_cells_would_be_no_emptier_than_after_a_flight() -> None:
    # Seven are sold by nobody. 21.5 V would be 3.58 V for each of six, and 22.2 V 3.70 V.
    assert of_whole_pack("lipo", 7, 21.5) == []
    assert "also fits 6 cells" in of_whole_pack("lipo", 7, 22.2)[0].replace("\u00a0", " ")


@pytest.mark.parametrize("page", PAGES)
def test_six_full_cells_that_were_entered_as_seven_are_warned_about_on_every_page(page: str) -> None:
    words = [sentence for sentence, grave in said(page, "lipo", "7", "25.2") if grave]
    assert any("25.2 V also fits 6 cells at 4.20 V each: count the balance plug's wires" in sentence for sentence in words)


@pytest.mark.parametrize("page", PAGES)
def test_iron_phosphate_that_was_entered_as_lithium_polymer_is_warned_about_on_every_page(page: str) -> None:
    words = [sentence for sentence, grave in said(page, "lipo", "4", "3.30 3.30 3.30 3.30") if grave]
    assert any("where lithium iron phosphate rests at almost any charge" in sentence for sentence in words)


@pytest.mark.parametrize(
    ("cells", "pack_v"),
    [(12, 45.0), (12, 45.6), (14, 52.5), (14, 53.2), (12, 46.2), (10, 38.0), (8, 29.6), (6, 22.2), (4, 15.2), (3, 11.1), (2, 7.4)],
)
def test_a_healthy_pack_that_was_flown_or_stored_is_not_doubted(cells: int, pack_v: float) -> None:
    assert of_whole_pack("lipo", cells, pack_v) == []


@pytest.mark.parametrize("chemistry", CHEMISTRIES)
@pytest.mark.parametrize("cells", SOLD)
def test_no_pack_that_rests_between_a_flight_and_full_is_doubted(chemistry: str, cells: int) -> None:
    facts = CHEMISTRIES[chemistry]
    full_mv, flown_mv = (round(1000 * one.value) for one in (facts.full_cell_v, facts.end_of_flight_resting_cell_v))
    # Iron phosphate sinks below 3.45 V after a charge: above it, it has not rested.
    for cell_mv in range(flown_mv, min(full_mv, 3450 if chemistry == "life" else full_mv) + 1, 5):
        assert of_whole_pack(chemistry, cells, cells * cell_mv / 1000) == [], (cells, cell_mv)


@pytest.mark.parametrize(("entered", "real"), [(4, 3), (5, 4), (6, 5), (7, 6), (12, 10), (14, 12), (9, 8)])
def test_a_full_pack_of_fewer_cells_is_doubted_wherever_its_voltage_fits(entered: int, real: int) -> None:
    assert f"{real} cells at 4.20 V each" in of_whole_pack("lipo", entered, round(4.2 * real, 2))[0]


def test_a_count_that_is_hardly_sold_is_doubted_even_where_it_would_be_a_usual_state() -> None:
    # Nine cells at 3.73 V are eight full ones.
    assert "8 cells at 4.20 V each" in of_whole_pack("lipo", 9, 33.6)[0]


def test_a_count_that_is_hardly_sold_is_not_offered() -> None:
    # Eight flown to 3.64 V are seven at 4.16 V: nobody sells those.
    assert of_whole_pack("lipo", 8, 29.1) == []


def test_cells_that_were_read_one_by_one_leave_no_doubt_of_their_count() -> None:
    assert doubts_of("lipo", 7, Reading(pack_v=25.2, cell_v=(3.6,) * 7, each_cell=True)) == ()


def one_by_one(chemistry: str, *cell_v: float) -> list[str]:
    return [doubt.sentence for doubt in doubts_of(chemistry, len(cell_v), Reading(pack_v=sum(cell_v), cell_v=cell_v, each_cell=True))]


@pytest.mark.parametrize(("chemistry", "full"), [("lipo", "4.20"), ("lihv", "4.35"), ("liion", "4.20")])
def test_cells_where_iron_phosphate_rests_are_doubted_with_what_the_mode_would_do(chemistry: str, full: str) -> None:
    (sentence,) = one_by_one(chemistry, 3.30, 3.31, 3.29)
    assert f"this mode goes on to {full}\N{NO-BREAK SPACE}V, and iron phosphate is full at 3.65\N{NO-BREAK SPACE}V" in sentence


@pytest.mark.parametrize("cell_v", [(3.16, 3.16, 3.16), (3.0, 3.0, 3.0), (3.46, 3.46, 3.46), (3.6, 3.6, 3.6), (3.8, 3.8, 3.8)])
def test_cells_outside_the_bounds_of_iron_phosphate_are_not_taken_for_it(cell_v: tuple[float, ...]) -> None:
    assert one_by_one("lipo", *cell_v) == []


# 3.45 V is where it sinks below within half an hour of a charge.
@pytest.mark.parametrize(
    ("cell_v", "when"),
    [
        ((3.16, 3.30, 3.30), "3.30 V a cell is where lithium iron phosphate rests at almost any charge"),
        ((3.30, 3.30, 3.55), "3.30 V a cell is where lithium iron phosphate rests at almost any charge"),
        ((3.32, 3.32, 3.38), "3.34 V a cell is where lithium iron phosphate rests at almost any charge"),
        (
            (3.38, 3.38, 3.38),
            "3.38 V a cell is where lithium iron phosphate rests when it is full, and a pack of the kind that you entered only when it was flown too far. Read",
        ),
        ((3.45, 3.45, 3.45), "3.45 V a cell is where lithium iron phosphate rests when it is full"),
    ],
)
def test_neither_an_uneven_nor_a_full_pack_of_iron_phosphate_goes_undoubted(cell_v: tuple[float, ...], when: str) -> None:
    (sentence,) = one_by_one("lipo", *cell_v)
    assert sentence.replace("\u00a0", " ").startswith(when)


def test_iron_phosphate_that_rests_too_high_may_be_another_kind() -> None:
    (sentence,) = one_by_one("life", 3.60, 3.60)
    assert "Let it rest, and read the label again" in sentence
    assert one_by_one("life", 3.30, 3.30) == one_by_one("life", 3.45, 3.45) == []


def test_a_pack_that_has_not_rested_says_nothing_of_its_label() -> None:
    words = said_unrested()
    assert not any("iron phosphate" in sentence or "also fits" in sentence for sentence in words)


def said_unrested() -> list[str]:
    entries = EVERY_PAGE | REST | {"cells": "4", "resting_v": "3.30 3.30 3.30 3.30", "read_when": "loaded"}
    found = answer("cell_check", entries)
    assert not isinstance(found, Refusal), found
    return [str(caution.sentence) for caution in found.cautions]


def test_a_doubt_is_told_in_whole_sentences_and_is_grave_where_the_charge_would_go_past_full() -> None:
    (count,) = doubts_of("lipo", 7, Reading(pack_v=25.2, cell_v=(3.6,), each_cell=False))
    assert count.grave is True
    assert count.sentence == (
        "25.2 V also fits 6 cells at 4.20 V each: count the balance plug's wires, less one, before you believe the label. Too high a count burns "
        "the pack."
    )
    (too_high,) = doubts_of("life", 2, Reading(pack_v=7.2, cell_v=(3.6, 3.6), each_cell=True))
    assert too_high.grave is False
    assert too_high.sentence.replace("\N{NO-BREAK SPACE}", " ") == (
        "3.60 V a cell is more than iron phosphate shows after a rest: within half an hour of a charge it sinks below 3.45 V. Let it rest, and "
        "read the label again: it may be a pack of another kind."
    )
    (iron,) = doubts_of("lipo", 3, Reading(pack_v=9.9, cell_v=(3.3,) * 3, each_cell=True))
    assert iron.grave is True
    assert iron.sentence.replace("\N{NO-BREAK SPACE}", " ") == (
        "3.30 V a cell is where lithium iron phosphate rests at almost any charge, and a pack of the kind that you entered only when it is all but "
        "empty. Read the label again before you charge it: this mode goes on to 4.20 V, and iron phosphate is full at 3.65 V."
    )


@pytest.mark.parametrize(("cell_v", "doubted"), [((3.17, 3.0), True), ((3.169, 3.0), False), ((3.6, 3.45), True), ((3.6, 3.451), False)])
def test_cells_at_the_bounds_of_iron_phosphate_may_be_it(cell_v: tuple[float, ...], doubted: bool) -> None:
    assert bool(one_by_one("lipo", *cell_v)) is doubted


def test_iron_phosphate_that_rests_where_it_settles_is_not_doubted() -> None:
    assert one_by_one("life", 3.45, 3.45) == []
    assert len(one_by_one("life", 3.46, 3.46)) == 1


@pytest.mark.parametrize(("measured_mah", "fields"), [(2200, []), (2201, ["measured_capacity_mah"])])
def test_a_pack_takes_in_a_tenth_over_its_label_at_most(measured_mah: float, fields: list[str]) -> None:
    found = problems_of_measured_capacity(given(capacity_mah="2000", measured_capacity_mah=str(measured_mah)))
    assert [problem.field for problem in found] == fields
    sentence = "The capacity last measured is more than a tenth above the label, which no sound pack takes in: check both numbers."
    assert all(problem.sentence == sentence for problem in found)


def test_a_pack_that_nobody_measured_has_no_wrong_measurement() -> None:
    assert problems_of_measured_capacity(given()) == []


@pytest.mark.parametrize(("chemistry", "pack_v", "doubts"), [("liion", 55.2, 0), ("liion", 55.1, 1)])
def test_a_pack_that_was_flown_exactly_as_far_as_is_usual_is_not_doubted(chemistry: str, pack_v: float, doubts: int) -> None:
    # Sixteen cells at 3.45 V, 0.05 V below where a flight ends; fourteen would rest at 3.94 V.
    assert len([sentence for sentence in of_whole_pack(chemistry, 16, pack_v) if "also fits" in sentence]) == doubts
    assert bool(of_whole_pack(chemistry, 16, pack_v)) is bool(doubts)
