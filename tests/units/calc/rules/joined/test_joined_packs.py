"""Several packs as the entries of one: as careful as the most delicate of them, in the cold and in the heat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from calc.figures.limits import Limit
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.inputs.equipment import PackEntries
from calc.inputs.joined_packs import JoinedPackEntries, LabelledPacksEntries, LabelledPluggedPack
from calc.inputs.refusals import Problem, Refused
from calc.rules.charge.charging_limits import CHARGER_POWER
from calc.rules.joined.joined_packs import (
    SoundPack,
    as_one,
    at_its_warmest,
    joint_reading,
    joint_setting_a,
    known_of_all,
    packs_so_far,
    refuse_unlike,
    sound_packs,
    unlike_chemistry,
    unlike_temperature,
)
from calc.rules.pack.pack_limits import LABEL, pack_current_limits
from calc.rules.pack.readings import Reading
from tests.units.calc.sound_charge import given


def _packs(*degc: tuple[float, float | None]):
    entries = [
        PackEntries(
            chemistry="lipo", cells=1, capacity_mah=5000, resting_v=(3.8,), pack_degc=pack_degc, air_degc=air_degc, label_charge_rate_c=1
        )
        for pack_degc, air_degc in degc
    ]
    return sound_packs(JoinedPackEntries(packs=tuple(entries), requested_rate_c=1))


def _as_one(packs: Sequence[SoundPack]) -> PackEntries:
    return as_one(packs, cells=1, resting_v=3.8, capacity_mah=5000, measured_capacity_mah=None, cell_resistance_mohm=None)


def test_the_coldest_pack_and_the_coldest_air_count_for_the_cold_and_the_warmest_for_the_heat() -> None:
    packs = _packs((22, 14), (20, None), (24, 11))
    one_pack = _as_one(packs)
    assert (one_pack.pack_degc, one_pack.air_degc) == (20, 11)
    warmest = at_its_warmest(one_pack, packs)
    assert (warmest.pack_degc, warmest.air_degc) == (24, 14)


def test_air_that_nobody_measured_stays_unknown() -> None:
    packs = _packs((22, None), (20, None))
    assert _as_one(packs).air_degc is at_its_warmest(_as_one(packs), packs).air_degc is None


def _pack(**changes: object) -> PackEntries:
    entries = {"chemistry": "lipo", "cells": 1, "capacity_mah": 5000, "resting_v": (3.8,), "pack_degc": 20, "label_charge_rate_c": 1}
    return PackEntries(**(entries | changes))


def _given(*packs: PackEntries) -> JoinedPackEntries:
    return JoinedPackEntries(packs=packs, requested_rate_c=1)


def test_each_pack_of_another_kind_than_the_first_is_named() -> None:
    packs = sound_packs(_given(_pack(), _pack(chemistry="life", resting_v=(3.3,)), _pack()))
    sentence = (
        "This is another kind of pack than Pack 1. Charge them one by one: there is no mode and no full voltage that is right for both."
    )
    assert unlike_chemistry(packs) == [(2, Problem("chemistry", sentence))]


def test_each_pack_that_is_over_ten_degrees_warmer_than_the_coldest_is_named_with_both_temperatures() -> None:
    packs = sound_packs(_given(_pack(pack_degc=30), _pack(pack_degc=20), _pack(pack_degc=31)))
    ((number, problem),) = unlike_temperature(packs)
    assert (number, problem.field) == (3, "pack_degc")
    assert problem.sentence.replace("\N{NO-BREAK SPACE}", " ") == (
        "This pack is at 31 °C and Pack 2 at 20 °C: over 10 °C apart (common practice, no source). The warmer one takes more than its share. "
        "Wait until they are equally warm."
    )
    # Shown in another unit, the two temperatures change and the span, which is no temperature, does not.
    assert problem.sentence.figures == (Figure(31, DEGREES_CELSIUS), Figure(20, DEGREES_CELSIUS))


def test_a_pack_that_was_read_as_a_whole_counts_its_mean_as_often_as_it_has_cells() -> None:
    whole, each = sound_packs(_given(_pack(cells=3, resting_v=(11.4,)), _pack(cells=3, resting_v=(3.80, 3.81, 3.79))))
    assert whole.each_cell_v == pytest.approx((3.8, 3.8, 3.8))
    assert each.each_cell_v == (3.80, 3.81, 3.79)
    assert (whole.title, whole.number, each.title, each.cells) == ("Pack 1", 1, "Pack 2", 3)
    assert joint_reading((whole, each), 22.8) == Reading(pack_v=22.8, cell_v=(*whole.each_cell_v, *each.each_cell_v), each_cell=False)
    assert joint_reading((each, each), 22.8).each_cell


def test_what_speaks_against_the_charge_is_told_with_what_speaks_against_its_packs() -> None:
    other = Problem("supply_v", "The supply is off.")
    with pytest.raises(Refused) as both:
        sound_packs(_given(_pack(resting_v=(2.5,)), _pack()), also=[other])
    assert [problem.field for problem in both.value.problems] == ["packs_1_resting_v", "supply_v"]
    with pytest.raises(Refused) as alone:
        sound_packs(_given(_pack(), _pack()), also=[other])
    assert alone.value.problems == (other,)


def test_a_problem_of_one_pack_is_told_at_its_entry_and_one_of_all_as_it_is() -> None:
    given_packs = _given(_pack(), _pack())
    with pytest.raises(Refused) as refused:
        refuse_unlike(given_packs, [(2, Problem("cells", "It has too many cells."))], also=[Problem("supply_v", "The supply is off.")])
    assert refused.value.problems == (Problem("packs_2_cells", "Pack 2: it has too many cells."), Problem("supply_v", "The supply is off."))
    assert refuse_unlike(given_packs, []) is None


def test_a_value_is_known_of_all_only_where_it_is_known_of_each() -> None:
    packs = sound_packs(_given(_pack(cell_resistance_mohm=5), _pack(cell_resistance_mohm=8)))
    assert known_of_all(packs, lambda entries: entries.cell_resistance_mohm, max) == 8
    assert known_of_all(packs, lambda entries: entries.label_discharge_rate_c, max) is None


def test_less_than_a_step_for_all_is_told_at_the_smallest_pack_or_of_the_whole() -> None:
    packs = sound_packs(_given(_pack(), _pack(capacity_mah=2000)))
    bench = given(current_step_a="0.5")

    def setting(limit: Limit) -> tuple[float, Limit]:
        joined = _given(*(one.entries for one in packs))
        return joint_setting_a(joined=joined, charger=bench, one_pack=_as_one(packs), limits=[limit], smallest=packs[1])

    for because, field in ((LABEL, "packs_2_capacity_mah"), (CHARGER_POWER, "")):
        with pytest.raises(Refused) as refused:
            setting(Limit(0.4, because))
        assert [problem.field for problem in refused.value.problems] == [field]
    assert setting(Limit(1.7, LABEL)) == (1.5, Limit(1.7, LABEL))


def test_what_speaks_against_a_pack_by_its_label_is_told_with_what_speaks_against_the_charge() -> None:
    sound = LabelledPluggedPack(chemistry="lipo", cells=3, capacity_mah=2200, label_charge_rate_c=1)
    unknown = LabelledPluggedPack(chemistry="unknown", cells=3, capacity_mah=2200, label_charge_rate_c=1)
    also = (Problem("supply_v", "Too weak."),)
    for packs, fields in (((sound, unknown), ["packs_2_chemistry", "supply_v"]), ((sound, sound), ["supply_v"])):
        with pytest.raises(Refused) as refused:
            packs_so_far(LabelledPacksEntries(packs=packs, requested_rate_c=1), also)
        assert [problem.field for problem in refused.value.problems] == fields
    assert [one.number for one in packs_so_far(LabelledPacksEntries(packs=(sound, sound), requested_rate_c=1))] == [1, 2]


@pytest.mark.parametrize(
    ("readings", "ceilings_a"),
    [({}, [2.2]), ({"resting_v": (3.8, 3.8, 3.8)}, [2.2]), ({"pack_degc": 5}, [2.2, 1.1]), ({"resting_v": (3.8, 3.8, 3.8), "pack_degc": 5}, [2.2, 1.1])],
    ids=["by its label", "without its temperature", "without its voltages", "read in the cold"],
)  # fmt: skip
def test_a_pack_is_known_to_be_cold_once_its_temperature_is_whether_or_not_its_voltages_are(
    readings: dict[str, Any], ceilings_a: list[float]
) -> None:
    pack = LabelledPluggedPack(chemistry="lipo", cells=3, capacity_mah=2200, label_charge_rate_c=1, **readings)
    for one in packs_so_far(LabelledPacksEntries(packs=(pack, pack), requested_rate_c=1)):
        assert [limit.ceiling for limit in pack_current_limits(one.entries, one.chemistry)] == ceilings_a


@pytest.mark.parametrize(
    ("limit", "field"), [(Limit(0.01, LABEL), "packs_2_capacity_mah"), (Limit(0.01, CHARGER_POWER), "")], ids=["the pack", "the charger"]
)
def test_a_current_below_a_step_is_told_of_the_smallest_pack_or_of_none(limit: Limit, field: str) -> None:
    first, second = _packs((20, None), (20, None))
    with pytest.raises(Refused) as refused:
        joint_setting_a(
            joined=JoinedPackEntries(packs=(first.entries, second.entries), requested_rate_c=1), charger=given(), one_pack=_as_one((first, second)),
            limits=[limit], smallest=second,
        )  # fmt: skip
    [problem] = refused.value.problems
    assert problem.field == field
    assert problem.sentence.startswith("Pack 2: ") == bool(field)


def test_the_coldest_pack_is_the_one_that_may_be_coldest_and_is_named() -> None:
    # As cool as a word says, 10 to 18 °C, is colder at its lowest than 15 °C, and warmer at its highest.
    by_word, by_number, warm = (_pack(pack_degc=None, pack_warmth="cool"), _pack(pack_degc=15), _pack(pack_degc=27))
    packs = sound_packs(JoinedPackEntries(packs=(by_number, by_word, warm), requested_rate_c=1))
    [(number, problem)] = unlike_temperature(packs)
    assert number == 3 and "Pack 2 at 10\u00a0°C" in str(problem.sentence)


def test_packs_whose_warmth_was_told_in_a_word_are_as_one_at_a_temperature() -> None:
    packs = sound_packs(JoinedPackEntries(packs=(_pack(pack_degc=None, pack_warmth="warm"), _pack(pack_degc=30)), requested_rate_c=1))
    one_pack = _as_one(packs)
    assert (one_pack.coolest_degc, one_pack.warmest_degc) == (28, 28)
