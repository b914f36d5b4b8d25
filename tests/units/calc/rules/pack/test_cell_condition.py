"""What the cells say: at their limits, apart from each other, and with more resistance than their mates."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.equipment import FLOWN, LOADED, RESTED
from calc.rules.pack.cell_condition import findings_of_resistances, findings_of_voltages, problems_of_resistances
from calc.rules.pack.findings import Finding, Verdict, verdict_of
from calc.rules.pack.readings import Reading
from tests.units.calc.sound_charge import given


def _findings(*cell_v: float, chemistry: str = "lipo", read_when: str = RESTED, each_cell: bool = True) -> list[Finding]:
    reading = Reading(pack_v=sum(cell_v), cell_v=cell_v, each_cell=each_cell)
    return findings_of_voltages(reading, CHEMISTRIES[chemistry], chemistry_key=chemistry, read_when=read_when)


def _verdict(*cell_v: float, **how: str) -> Verdict:
    return verdict_of(_findings(*cell_v, **how))


@pytest.mark.parametrize(
    "cell_v, verdict",
    [
        ((3.85, 3.86, 3.85), Verdict.FLY),
        ((4.20, 4.20, 4.20), Verdict.FLY),
        ((3.70, 3.71, 3.70), Verdict.CHARGE),
        ((3.85, 3.89, 3.85), Verdict.BALANCE),
        ((3.85, 3.86, 3.71), Verdict.CHARGE_SLOWLY),
        ((3.15, 3.16, 3.15), Verdict.CHARGE_SLOWLY),
        ((3.85, 3.86, 2.95), Verdict.RETIRE),
        ((4.20, 4.26, 4.20), Verdict.RETIRE),
        ((4.18, 4.17, 3.70), Verdict.RETIRE),
    ],
)
def test_rested_cells_have_one_verdict(cell_v: tuple[float, ...], verdict: Verdict) -> None:
    assert _verdict(*cell_v) is verdict


@pytest.mark.parametrize(
    "apart_v, verdict", [(0.03, Verdict.FLY), (0.031, Verdict.BALANCE), (0.10, Verdict.BALANCE), (0.101, Verdict.CHARGE_SLOWLY)]
)
def test_a_spread_at_a_band_s_end_still_belongs_to_it(apart_v: float, verdict: Verdict) -> None:
    assert _verdict(4.0, 4.0 + apart_v, 4.0) is verdict


def test_cells_that_part_near_empty_have_not_dropped_away() -> None:
    assert _verdict(3.60, 3.30, 3.55) is Verdict.CHARGE_SLOWLY


def test_the_cell_at_fault_is_named() -> None:
    assert _findings(3.85, 2.95, 3.86)[0].found.startswith("Cell 2 rests at 2.950\N{NO-BREAK SPACE}V, below its floor")


@pytest.mark.parametrize(
    ("cell_v", "worst"),
    [
        ((3.19, 3.05, 3.01, 3.12), "Cell 3 rests at 3.010 V, below the careful cutoff"),
        ((2.99, 2.60, 2.98), "Cell 2 rests at 2.600 V, below its floor"),
        ((4.23, 4.24, 4.40), "Cell 3 rests at 4.400 V, above its full voltage"),
        ((3.70, 3.68, 3.69), "Cell 2 rests at 3.680 V, no more than the 3.70 V"),
    ],
)
def test_of_several_cells_at_fault_the_worst_is_named_first(cell_v: tuple[float, ...], worst: str) -> None:
    assert _findings(*cell_v)[0].found.replace("\N{NO-BREAK SPACE}", " ").startswith(worst)


def test_of_several_cells_with_too_much_resistance_the_highest_is_named_first() -> None:
    assert [finding.found[:6] for finding in findings_of_resistances((5, 8, 5, 5, 9.5, 5))] == ["Cell 5", "Cell 2"]


@pytest.mark.parametrize("key, low_v", [("lipo", 2.99), ("lihv", 2.99), ("liion", 2.49), ("life", 2.49)])
def test_a_cell_below_the_floor_of_its_chemistry_ends_the_pack(key: str, low_v: float) -> None:
    assert _verdict(3.3, low_v, chemistry=key) is Verdict.RETIRE


@pytest.mark.parametrize("read_when", [FLOWN, LOADED])
@pytest.mark.parametrize("cell_v", [(3.85, 3.86, 3.85), (3.85, 3.86, 3.40), (3.4, 2.9, 3.4)])
def test_cells_that_have_not_rested_are_read_again_whatever_they_show(read_when: str, cell_v: tuple[float, ...]) -> None:
    assert _verdict(*cell_v, read_when=read_when) is Verdict.READ_AGAIN


def test_a_cell_above_full_under_load_is_above_full() -> None:
    assert _verdict(4.20, 4.30, 4.20, read_when=LOADED) is Verdict.RETIRE


def test_a_pack_that_was_read_as_a_whole_is_not_called_fit_to_fly() -> None:
    assert _verdict(3.85, each_cell=False) is Verdict.READ_CELLS


def test_one_cell_of_four_that_is_58_per_cent_above_the_others_is_watched() -> None:
    [finding] = findings_of_resistances((12.0, 12.0, 12.0, 19.0))
    assert finding.verdict is Verdict.CHARGE_SLOWLY
    assert "58\N{NO-BREAK SPACE}% more" in finding.found


@pytest.mark.parametrize(
    "last_mohm, verdicts", [(17.9, []), (18.0, [Verdict.CHARGE_SLOWLY]), (23.9, [Verdict.CHARGE_SLOWLY]), (24.0, [Verdict.RETIRE])]
)
def test_half_as_much_again_is_watched_and_twice_as_much_is_the_end(last_mohm: float, verdicts: list[Verdict]) -> None:
    assert [finding.verdict for finding in findings_of_resistances((12.0, 12.0, last_mohm))] == verdicts


def test_exactly_half_as_much_again_counts_however_a_quotient_is_rounded() -> None:
    assert [finding.verdict for finding in findings_of_resistances((4.2, 4.2, 6.3))] == [Verdict.CHARGE_SLOWLY]
    assert [finding.verdict for finding in findings_of_resistances((2.6, 2.6, 3.9))] == [Verdict.CHARGE_SLOWLY]


def test_of_two_cells_each_is_held_against_the_other() -> None:
    [finding] = findings_of_resistances((5.0, 10.0))
    assert finding.verdict is Verdict.RETIRE


def test_a_single_cell_has_no_mates_to_be_held_against() -> None:
    assert findings_of_resistances((90.0,)) == []


def test_resistances_that_were_not_read_say_nothing() -> None:
    assert findings_of_resistances(()) == []


def test_too_few_resistances_are_counted() -> None:
    [problem] = problems_of_resistances((5.0, 5.0), cells=given().cells)
    assert problem.sentence == "You entered 2 resistances for 3 cells: enter each cell's, or none."
    [too_many], [too_few] = problems_of_resistances((9, 9), cells=1), problems_of_resistances((9,), cells=2)
    assert too_many.sentence == "You entered 2 resistances for 1 cell: enter each cell's, or none."
    assert too_few.sentence == "You entered 1 resistance for 2 cells: enter each cell's, or none."


_TROUBLE = "pack-in-trouble"


@pytest.mark.parametrize(
    ("cell_v", "read_when", "found", "go_to"),
    [
        (
            (4.25, 4.20), RESTED,
            "Cell 1 rests at 4.250 V, above its full voltage of 4.20 V. Check the kind of pack; if it is right, this cell was charged too far.",
            f"{_TROUBLE}#charged-too-far",
        ),
        (
            (4.20, 4.25), LOADED,
            "Cell 2 shows 4.250 V, above its full voltage of 4.20 V. Check the kind of pack; if it is right, this cell was charged too far.",
            f"{_TROUBLE}#charged-too-far",
        ),
        ((2.95, 2.98), RESTED, "Cell 1 rests at 2.950 V, below its floor of 3.00 V: it may be harmed inside.", f"{_TROUBLE}#run-too-flat"),
        (
            (2.95, 3.00), LOADED,
            "Cell 1 shows 2.950 V, below its floor of 3.00 V: if it is still below after half an hour, the pack is done.",
            f"{_TROUBLE}#run-too-flat",
        ),
        ((3.15, 3.16), RESTED, "Cell 1 rests at 3.150 V, below the careful cutoff of 3.20 V: it was run nearly flat.", ""),
        ((3.70, 3.71), RESTED, "Cell 1 rests at 3.700 V, no more than the 3.70 V at which a flight ends.", ""),
        ((3.85, 3.89), RESTED, "The cells rest 0.040 V apart, more than 0.03 V: cell 1 is the lowest.", ""),
        ((3.95, 3.84), RESTED, "The cells rest 0.110 V apart, more than 0.10 V: cell 2 is the one to watch.", ""),
    ],
)  # fmt: skip
def test_a_finding_says_which_cell_what_it_shows_and_against_what(
    cell_v: tuple[float, ...], read_when: str, found: str, go_to: str
) -> None:
    first = _findings(*cell_v, read_when=read_when)[0]
    assert (first.found.replace("\N{NO-BREAK SPACE}", " "), first.field, first.go_to) == (found, "resting_v", go_to)


def test_a_finding_carries_the_rule_that_it_follows() -> None:
    lipo = CHEMISTRIES["lipo"]
    rules = [_findings(*cell_v)[0].rule for cell_v in ((4.25, 4.20), (2.95, 2.98), (3.15, 3.16), (3.70, 3.71))]
    assert rules == [lipo.full_cell_v, lipo.never_below_cell_v, lipo.careful_cutoff_cell_v, lipo.end_of_flight_resting_cell_v]
    assert [_findings(3.85, 3.85 + apart_v)[0].rule.value for apart_v in (0.04, 0.11)] == [0.03, 0.10]


def test_a_cell_that_dropped_away_is_told_by_what_it_lacks() -> None:
    *_, finding = _findings(4.18, 3.75)
    assert finding.found.startswith("Cell 2 has dropped away: it holds at least ")
    assert finding.found.endswith("\N{NO-BREAK SPACE}% of a charge less than the highest.")
    assert (finding.verdict, finding.field, finding.go_to) == (Verdict.RETIRE, "resting_v", f"{_TROUBLE}#afterwards")


def test_a_pack_that_has_not_rested_and_one_that_was_read_as_a_whole_are_sent_back_to_the_meter() -> None:
    (unrested,) = _findings(3.85, 3.86, read_when=FLOWN)
    assert (unrested.verdict, unrested.field) == (Verdict.READ_AGAIN, "read_when")
    assert unrested.found == "A pack that has not rested shows a voltage that will still change. Nothing more can be told from it."
    (whole,) = _findings(3.85, each_cell=False)
    assert (whole.verdict, whole.field) == (Verdict.READ_CELLS, "resting_v")
    assert whole.found == "Only the whole pack was read, and its sum hides a weak cell. Read every cell at the balance plug."
    # Half an hour of rest, and the 0.03 V that only cells can show.
    assert (unrested.rule.value, whole.rule.value) == (30, 0.03)


@pytest.mark.parametrize(
    ("cell_v", "verdict"), [(3.20, Verdict.CHARGE), (3.199, Verdict.CHARGE_SLOWLY), (3.70, Verdict.CHARGE), (3.701, Verdict.FLY)]
)
def test_a_cell_at_a_bound_is_not_yet_below_it(cell_v: float, verdict: Verdict) -> None:
    assert _verdict(cell_v, cell_v) is verdict


@pytest.mark.parametrize(
    ("mohm", "found"),
    [
        ((10.0, 10.0, 16.0), "Cell 3 has 16.0 mΩ, 60 % more than the middle of the others: it ages faster than they do."),
        ((25.0, 10.0, 10.0), "Cell 1 has 25.0 mΩ, 150 % more than the middle of the others: it gives half of their power."),
    ],
)
def test_a_cell_of_more_resistance_is_told_with_how_much_more(mohm: tuple[float, ...], found: str) -> None:
    (finding,) = findings_of_resistances(mohm)
    assert (finding.found.replace("\N{NO-BREAK SPACE}", " "), finding.field) == (found, "cell_resistances_mohm")


def test_the_middle_of_an_even_number_of_others_is_the_mean_of_the_middle_two() -> None:
    # The others of the last cell are 10, 11, 13 and 30 mΩ: 12 mΩ in the middle, and half as much again is 18. The one of 30 is twice its others'.
    first, second = findings_of_resistances((10.0, 11.0, 13.0, 30.0, 18.0))
    assert (first.found[:6], first.verdict) == ("Cell 4", Verdict.RETIRE)
    assert (second.found[:6], second.verdict) == ("Cell 5", Verdict.CHARGE_SLOWLY)
    assert [one.found[:6] for one in findings_of_resistances((10.0, 11.0, 13.0, 30.0, 17.9))] == ["Cell 4"]


def test_the_middle_of_an_odd_number_of_others_is_the_middle_one() -> None:
    # The others of the last cell are 10, 12 and 14 mΩ, and half as much again as 12 is 18.
    assert findings_of_resistances((10.0, 12.0, 14.0, 17.9)) == []
    assert len(findings_of_resistances((14.0, 12.0, 10.0, 18.0))) == 1
