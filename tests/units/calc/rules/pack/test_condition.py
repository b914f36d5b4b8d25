"""What becomes of a pack by its look, its warmth and its wear: the gravest finding counts."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.looks import LOOKS, SOUND
from calc.inputs.inspection import READABLE
from calc.rules.pack.condition import condition_of, findings_of_look, findings_of_temperature, findings_of_wear
from calc.rules.pack.findings import Act, Finding, Verdict, verdict_of, worst_first
from calc.rules.pack.readings import clear_reading
from tests.units.calc.sound_charge import given

LIPO = CHEMISTRIES["lipo"]


def _of_temperature(pack_degc: float) -> list[Verdict]:
    return [finding.verdict for finding in findings_of_temperature(pack_degc=pack_degc, air_degc=20, chemistry=LIPO)]


def _of_wear(**known: object) -> list[Finding]:
    return findings_of_wear(given(**{"capacity_mah": "5000"} | {name: str(value) for name, value in known.items()}))


def test_a_pack_that_nothing_was_found_on_is_fit_to_fly() -> None:
    assert findings_of_look(SOUND) == []
    assert verdict_of([]) is Verdict.FLY


@pytest.mark.parametrize("look", ["swollen", "leaking", "bent", "soaked", "overcharged", "was-hot"])
def test_a_pack_that_is_harmed_is_done(look: str) -> None:
    assert verdict_of(findings_of_look(look)) is Verdict.RETIRE


def test_a_pack_that_smokes_is_left_alone() -> None:
    assert verdict_of(findings_of_look("smoking")) is Verdict.GET_AWAY


def test_a_crash_of_today_must_show_itself_before_the_pack_is_used() -> None:
    assert verdict_of(findings_of_look("crashed")) is Verdict.READ_AGAIN
    assert verdict_of(findings_of_look("watched")) is Verdict.CHARGE_SLOWLY


def test_the_list_of_looks_runs_from_the_worst_to_the_mildest() -> None:
    verdicts = [verdict_of(findings_of_look(look)) for look in LOOKS]
    assert verdicts == sorted(verdicts, reverse=True)


def test_a_pack_whose_look_says_that_it_is_done_is_not_read() -> None:
    assert {look for look in LOOKS if verdict_of(findings_of_look(look)) < Verdict.RETIRE} | {SOUND} == set(READABLE)


@pytest.mark.parametrize(
    "pack_degc, verdicts", [(-1, [Verdict.READ_AGAIN]), (20, []), (47, [Verdict.READ_AGAIN]), (60, [Verdict.GET_AWAY])]
)
def test_a_pack_that_is_too_cold_or_too_warm_waits_and_a_hot_one_is_left_alone(pack_degc: float, verdicts: list[Verdict]) -> None:
    assert _of_temperature(pack_degc) == verdicts


@pytest.mark.parametrize("measured_mah, ends", [(4001, 0), (4000, 1), (3000, 1)])
def test_four_of_five_ampere_hours_are_the_end(measured_mah: float, ends: int) -> None:
    assert len(_of_wear(measured_capacity_mah=measured_mah)) == ends


@pytest.mark.parametrize("now_mohm, ends", [(9.9, 0), (10.0, 1)])
def test_twice_the_resistance_of_the_new_pack_is_the_end(now_mohm: float, ends: int) -> None:
    assert len(_of_wear(cell_resistance_mohm=now_mohm, new_resistance_mohm=5.0)) == ends


@pytest.mark.parametrize("label_mah, held_mah", [(2650, 2120), (350, 280), (1150, 920), (3300, 2640), (70, 56), (1.1e4, 8800)])
def test_exactly_four_fifths_are_the_end_however_a_quotient_is_rounded(label_mah: float, held_mah: float) -> None:
    assert len(_of_wear(capacity_mah=label_mah, measured_capacity_mah=held_mah)) == 1


def test_the_worst_cell_counts_where_each_resistance_was_read() -> None:
    assert len(_of_wear(cells=3, cell_resistances_mohm="9 9.5 10", cell_resistance_mohm=9, new_resistance_mohm=5)) == 1


def test_a_resistance_alone_says_nothing_of_its_age() -> None:
    assert _of_wear(cell_resistance_mohm=90.0) == []


def test_findings_stand_from_the_gravest_to_the_mildest() -> None:
    mild, grave = findings_of_look("watched") + findings_of_look("bent")
    assert worst_first([mild, grave]) == (grave, mild)


_TROUBLE = "pack-in-trouble"


@pytest.mark.parametrize("look", [look for look in LOOKS if look != SOUND])
def test_a_look_is_told_in_the_words_of_the_list_and_leads_to_its_section(look: str) -> None:
    (finding,) = findings_of_look(look)
    seen = LOOKS[look]
    assert (finding.found, finding.rule, finding.field) == (f"{seen.means}.", seen, "look")
    assert finding.go_to == (f"{_TROUBLE}#{seen.section}" if seen.section else "")


def test_whoever_has_a_leaking_pack_at_hand_is_led_past_what_is_done_once_it_lies_in_the_open() -> None:
    # "Afterwards" has tape put on the ends, and nothing of an eye that was hit.
    assert LOOKS["leaking"].section == "leaking-pack"


@pytest.mark.parametrize(
    ("pack_degc", "air_degc", "field", "found", "go_to"),
    [
        (
            0, 20, "pack_degc",
            "The pack is too cold: charging it at freezing point or below ruins the cells.", "",
        ),
        (45, 20, "pack_degc", "The pack is too warm to charge: the charge itself would warm it further.", ""),
        (60, 20, "pack_degc", "The pack is dangerously hot: do not touch it, and do not plug it in.", f"{_TROUBLE}#hot-pack"),
        (20, -1, "air_degc", "The air is below freezing point: charge in a warmer place.", ""),
        (20, 41, "air_degc", "It is too hot here to charge: go to a cooler place, and never charge in a hot vehicle.", ""),
        (
            41, None, "pack_degc",
            "The pack is warm, the charge would warm it further, and nobody has measured the air, which may be as hot.", "",
        ),
    ],
)  # fmt: skip
def test_warmth_is_told_with_what_to_do(pack_degc: float, air_degc: float | None, field: str, found: str, go_to: str) -> None:
    (finding,) = findings_of_temperature(pack_degc=pack_degc, air_degc=air_degc, chemistry=LIPO)
    assert (finding.field, finding.found, finding.go_to) == (field, found, go_to)


def test_each_temperature_is_held_against_its_own_rule() -> None:
    window = LIPO.temperatures
    rules = [findings_of_temperature(pack_degc=pack_degc, air_degc=20, chemistry=LIPO)[0].rule for pack_degc in (0, 45, 60)]
    assert rules == [window.charge_least_degc, window.charge_most_degc, window.discharge_most_degc]
    assert [findings_of_temperature(pack_degc=20, air_degc=air_degc, chemistry=LIPO)[0].rule.value for air_degc in (-1, 41)] == [0, 40]
    assert (
        findings_of_temperature(pack_degc=20, air_degc=0, chemistry=LIPO)
        == findings_of_temperature(pack_degc=20, air_degc=40, chemistry=LIPO)
        == []
    )


def test_wear_is_told_in_numbers_beside_the_entry_that_shows_it() -> None:
    (held,) = _of_wear(measured_capacity_mah=3500)
    assert held.found.replace("\N{NO-BREAK SPACE}", " ") == "It holds 70 % of the capacity on its label, and a pack is worn out at 80 %."
    assert held.field == "measured_capacity_mah"
    (resists,) = _of_wear(cell_resistance_mohm=12, new_resistance_mohm=5)
    assert resists.found.replace("\N{NO-BREAK SPACE}", " ") == "A cell has 12.0 mΩ, and had 5.0 mΩ when it was new."
    assert resists.field == "new_resistance_mohm"
    assert (held.rule.value, resists.rule.value) == (80, 2.0)
    assert held.verdict is resists.verdict is Verdict.RETIRE


def test_a_pack_of_which_nothing_was_said_has_no_reason_against_it_and_says_what_was_not_asked() -> None:
    quiet = condition_of(given(look=""), LIPO, None)
    assert quiet.reason == "nothing wrong was found"
    assert (quiet.verdict, quiet.each_cell, quiet.looked_over, quiet.doubts) == (Verdict.FLY, True, False, ())
    whole = given(resting_v="11.4")
    assert not condition_of(whole, LIPO, clear_reading(whole, LIPO)).each_cell


def test_the_reason_and_the_slow_ceiling_go_on_in_a_sentence() -> None:
    seen = given(look="watched", capacity_mah="2000")
    condition = condition_of(seen, LIPO, clear_reading(seen, LIPO))
    means = LOOKS["watched"].means
    assert condition.reason == means
    (limit,) = condition.charge_limits(2000)
    assert (limit.ceiling, limit.because) == (1.0, f"half of 1C, since {means[0].lower()}{means[1:]}")


def test_a_window_of_a_charge_forbids_no_discharge_and_no_flight() -> None:
    warm = given(pack_degc="45")
    condition = condition_of(warm, LIPO, clear_reading(warm, LIPO))
    assert [problem.field for problem in condition.problems_of(Act.CHARGE)] == ["pack_degc"]
    assert condition.problems_of(Act.DISCHARGE) == condition.problems_of(Act.FLY) == []


def test_a_pack_whose_chemistry_is_not_known_is_judged_by_its_look_and_its_wear_alone() -> None:
    known = given(look="swollen", pack_degc="60", measured_capacity_mah="1000")
    condition = condition_of(known, None, clear_reading(known, LIPO))
    assert [finding.field for finding in condition.findings] == ["look", "measured_capacity_mah"]
    assert condition.doubts == ()


@pytest.mark.parametrize(
    "changes, told",
    [
        (
            {"pack_degc": "0"},
            "ruins the cells. Warm it through first, indoors or in a pocket with its contacts covered: do not charge it until then.",
        ),
        ({"pack_degc": "50"}, "would warm it further. Leave it in the shade until it has cooled: do not charge it until then."),
        (
            {"pack_degc": "44.9", "air_degc": ""},
            "which may be as hot. Let it cool in the shade, or enter how warm the air is where that is asked: do not charge it until then.",
        ),
        ({"look": "rained-on"}, "Let it dry first: do not charge it until then."),
        ({"look": "shorted"}, "read it again tomorrow. Rest it, then read every cell: do not charge it until then."),
        ({"read_when": "loaded"}, "Nothing more can be told from it. Rest it, then read every cell: do not charge it until then."),
    ],
)
def test_what_stands_in_the_way_of_a_charge_names_the_act_that_mends_it(changes: dict[str, str], told: str) -> None:
    pack = given(**changes)
    problem, *others = condition_of(pack, LIPO, clear_reading(pack, LIPO)).problems_of(Act.CHARGE)
    assert problem.sentence.endswith(told)
    assert not others


@pytest.mark.parametrize(("pack_degc", "found"), [(40, []), (40.1, [Verdict.ELSEWHERE])])
def test_a_pack_at_forty_degrees_in_air_that_nobody_measured_is_charged_and_a_warmer_one_is_not(
    pack_degc: float, found: list[Verdict]
) -> None:
    assert [one.verdict for one in findings_of_temperature(pack_degc=pack_degc, air_degc=None, chemistry=LIPO)] == found
