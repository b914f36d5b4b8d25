"""The warmth of a pack in a word: each limit counts from the stricter end of its span, and a cold pack is measured."""

from __future__ import annotations

import pytest

from calc.answering import PartialAnswer, answer, calculator, calculator_keys
from calc.facts.warmth import WARMTHS
from calc.inputs.equipment import PackEntries
from calc.inputs.fields import Entry, entries_of
from calc.inputs.refusals import Refusal
from calc.inputs.stored_packs import StoredPackEntries
from calc.rules.charge.charge_heat import never_above_degc
from tests.units.calc.calculators.test_end_of_life import ENTRIES as RETIRED
from tests.units.calc.calculators.test_flight_timer import STEADY
from tests.units.calc.calculators.test_model_fit import TUG
from tests.units.calc.joined_charge import joined
from tests.units.calc.joined_charge import problems as joined_problems
from tests.units.calc.sound_charge import ENTRIES, settings

WORDS = {"cool": (10, 18), "normal": (18, 28), "warm": (28, 38)}


def _asked(key: str) -> dict[str, Entry]:
    return entries_of(calculator(key).Inputs)


def _felt(word: str, **changes: str) -> dict[str, str]:
    return {name: text for name, text in ENTRIES.items() if name != "pack_degc"} | {"pack_warmth": word} | changes


def test_the_words_stand_for_spans_that_meet() -> None:
    assert {key: (one.coolest_degc.value, one.warmest_degc.value) for key, one in WARMTHS.items()} == WORDS


def test_a_pack_that_feels_cool_is_charged_as_at_10_degrees() -> None:
    found = answer("charge_settings", _felt("cool"))
    assert found.charge_current.figure == settings(pack_degc="10").charge_current.figure
    assert found.charge_current.set_by.startswith("the cold pack")


def test_a_pack_that_feels_normal_is_charged_as_one_that_was_measured() -> None:
    found = answer("charge_settings", _felt("normal"))
    assert found.charge_current.figure == settings(pack_degc="18").charge_current.figure
    cool, warm = (settings(pack_degc=degc).charge_time for degc in ("18", "28"))
    assert (found.charge_time.least, found.charge_time.likely, found.charge_time.most) == (warm.least, cool.likely, cool.most)


def test_the_stop_by_time_counts_from_the_warm_end_and_says_that_it_may_come_early() -> None:
    fast = {"capacity_mah": "850", "label_charge_rate_c": "3", "requested_rate_c": "3", "balance_current_a": "1"}
    felt, cool, warm = (
        answer("charge_settings", entries | fast).time_cutout
        for entries in (_felt("normal"), ENTRIES | {"pack_degc": "18"}, ENTRIES | {"pack_degc": "28"})
    )
    assert felt.figure == warm.figure
    assert warm.figure.value < cool.figure.value
    assert "a cooler pack takes longer" in felt.note
    assert "a cooler pack" not in warm.note + cool.note


def test_a_charge_by_a_word_is_put_in_as_at_its_cool_end() -> None:
    assert answer("charge_settings", _felt("warm")).capacity_cutout.figure == settings(pack_degc="28").capacity_cutout.figure


@pytest.mark.parametrize("key", [key for key in calculator_keys() if any(name.endswith("pack_degc") for name in _asked(key))])
def test_every_page_that_asks_how_warm_a_pack_is_takes_a_word_in_place_of_the_number(key: str) -> None:
    names = [name for name in _asked(key) if name.endswith("pack_degc")]
    for name in names:
        warmth = _asked(key)[name.replace("pack_degc", "pack_warmth")]
        assert set(warmth.options) == {"cold", *WORDS}
        assert _asked(key)[name].only_with == (name.replace("pack_degc", "pack_warmth"), ("", "cold"))
        assert warmth.group == _asked(key)[name].group


def test_a_timer_by_a_word_counts_from_its_cool_end() -> None:
    felt = {name: text for name, text in STEADY.items() if name != "pack_degc"} | {"pack_warmth": "cool"}
    assert answer("flight_timer", felt) == answer("flight_timer", STEADY | {"pack_degc": "10"})


def test_a_model_by_a_word_sags_as_at_the_cool_end_and_warms_from_the_warm_one() -> None:
    still = {name: text for name, text in TUG.items() if name not in ("pack_degc", "air_degc")}
    felt, cool, warm = (
        answer("model_fit", still | {name: text}) for name, text in (("pack_warmth", "normal"), ("pack_degc", "18"), ("pack_degc", "28"))
    )
    assert felt.sag.most == cool.sag.most and felt.start_cell.least == cool.start_cell.least
    assert felt.end_temperature.most == warm.end_temperature.most and felt.honest_rate.least == warm.honest_rate.least
    assert cool.sag.most.value > warm.sag.most.value


def test_a_load_by_a_word_gets_as_hot_as_at_the_warm_end_and_empties_as_slowly_as_at_the_cool_one() -> None:
    still = {name: text for name, text in RETIRED.items() if name != "pack_degc"}
    felt, cool, warm = (
        answer("end_of_life", still | {name: text}) for name, text in (("pack_warmth", "normal"), ("pack_degc", "18"), ("pack_degc", "28"))
    )
    assert felt.load_temperature == warm.load_temperature != cool.load_temperature
    assert felt.time_to_empty.most == cool.time_to_empty.most != warm.time_to_empty.most


def test_the_packs_of_an_evening_and_of_a_day_are_as_warm_as_the_word_says() -> None:
    stored = StoredPackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), label_charge_rate_c=1)
    assert stored.as_pack(None, "cool").ends_degc == WORDS["cool"]
    assert stored.as_pack(21.0, None).ends_degc == (21.0,)


def test_a_pack_that_feels_warm_may_get_as_hot_as_one_of_38_degrees() -> None:
    felt, measured, cooler = (
        PackEntries(chemistry="lipo", cells=3, capacity_mah=2650, resting_v=(11.4,), label_charge_rate_c=1, **known)
        for known in ({"pack_warmth": "warm"}, {"pack_degc": 38}, {"pack_degc": 28})
    )
    hottest = [never_above_degc(pack, longest_min=60, current_a=2.6) for pack in (felt, measured, cooler)]
    assert hottest[0] >= hottest[1] > hottest[2]


@pytest.mark.parametrize("word", ["cold", ""])
def test_a_cold_pack_is_measured(word: str) -> None:
    found = answer("charge_settings", _felt(word))
    assert isinstance(found, PartialAnswer) and not found.may_start
    assert [problem.field for problem in found.begun] == ["pack_degc"]
    measured = answer("charge_settings", _felt(word, pack_degc="5"))
    assert measured == settings(pack_degc="5")


def test_with_a_word_the_number_is_not_asked() -> None:
    assert answer("charge_settings", _felt("normal", pack_degc="99")) == answer("charge_settings", _felt("normal"))


def test_a_word_that_is_none_of_them_is_sent_back() -> None:
    found = answer("charge_settings", _felt("tepid"))
    assert isinstance(found, Refusal)
    assert [(problem.field, problem.sentence) for problem in found.problems] == [
        ("pack_warmth", "Choose the word for how warm it feels: take one that is on the list.")
    ]


def test_packs_that_feel_alike_are_joined_and_a_cool_one_waits_for_a_warm_one() -> None:
    normal, cool, warm = ({"pack_degc": "", "pack_warmth": word} for word in ("normal", "cool", "warm"))
    assert joined("packs_in_series", normal, normal).join.figure.startswith("Yes")
    assert [one.field for one in joined_problems("packs_in_series", cool, warm)] == ["packs_2_pack_degc"]
