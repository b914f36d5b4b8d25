"""Every ceiling is made to bind once, with the current that follows from it and the words that name it."""

from __future__ import annotations

import pytest

from calc.calculators.charge_settings import Inputs
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.limits import Limit, lowest
from calc.inputs.refusals import Problem, Refused
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.charge.charging_limits import (
    current_limits,
    hard_current_limits,
    power_into_pack_w,
    power_limits,
    source_resistance_ohm,
    source_v,
    supply_limits,
)
from tests.units.calc.sound_charge import BATTERY, SIX_CELLS, given

# Next to no resistance: what the supply gives arrives.
_STIFF = {"lead_length_m": "0.05", "lead_area_mm2": "70 mm²"}


def _limits(charge: Inputs) -> list[Limit]:
    chemistry = CHEMISTRIES[charge.chemistry]
    return current_limits(pack=charge, charger=charge, supply=charge, chemistry=chemistry, requested_rate_c=charge.requested_rate_c)


def _binding(**changes: str) -> Limit:
    return lowest(_limits(given(**changes)))


def _no_setting(**changes: str) -> Problem:
    charge = given(**changes)
    limits = _limits(charge)
    with pytest.raises(Refused) as refused:
        charge_setting_a(pack=charge, current_step_a=charge.current_step_a, limits=limits)
    (problem,) = refused.value.problems
    return problem


def test_the_label_binds_a_sound_charge() -> None:
    assert _binding() == Limit(pytest.approx(2.65), "the charge rate on the label")


def test_the_label_binds_whatever_rate_is_asked_for() -> None:
    assert _binding(requested_rate_c="5") == Limit(pytest.approx(2.65), "the charge rate on the label")


def test_the_rate_asked_for_binds_below_the_label() -> None:
    assert _binding(label_charge_rate_c="5", requested_rate_c="0.5") == Limit(pytest.approx(1.325), "the rate you asked for")


def test_the_charger_s_current_binds() -> None:
    assert _binding(charger_current_a="2") == Limit(2.0, "the charger's highest current")


def test_the_charger_s_power_binds_at_the_full_voltage() -> None:
    # 3 x 4.20 V is 12.6 V, and 25.2 W are twice that.
    assert _binding(charger_power_w="25.2") == Limit(pytest.approx(2.0), "the charger's highest power")


def test_a_high_voltage_pack_gets_less_current_from_the_same_power() -> None:
    # 3 x 4.35 V is 13.05 V.
    assert _binding(chemistry="lihv", charger_power_w="26.1").ceiling == pytest.approx(2.0)


def test_the_supply_s_current_binds() -> None:
    # 12 V x 3 A x 85 % is 30.6 W, over 12.6 V.
    binding = _binding(supply_v="12", supply_current_a="3", **_STIFF)
    assert binding == Limit(pytest.approx(30.6 / 12.6, rel=0.001), "the supply's highest current")


def test_a_battery_gives_half_its_capacity_in_an_hour_at_most() -> None:
    # 4 Ah: 2 A through its own 125 mΩ leave 12.4 V of 12.65 V; 24.8 W x 85 % over 12.6 V.
    binding = _binding(**BATTERY | _STIFF | {"battery_ah": "4"})
    assert binding.because == "the battery: half its capacity in an hour at most"
    assert binding.ceiling == pytest.approx(24.8 * 0.85 / 12.6, rel=0.001)


def test_a_thin_lead_binds_by_the_fuse_that_protects_it() -> None:
    # 0.5 mm² may carry 6 A: a fuse of 5 A protects it and carries 4 A for hours. 13.8 V x 4 A x 85 % over 25.2 V, less half a per cent.
    binding = _binding(**SIX_CELLS, lead_area_mm2="0.5", lead_length_m="0.1")
    assert binding.because == "the supply lead: four fifths of the largest fuse that protects it"
    assert binding.ceiling == pytest.approx(13.8 * 4 * 0.85 / 25.2, rel=0.005)


def test_a_fuse_that_is_too_large_for_the_lead_raises_nothing() -> None:
    thin = {"lead_area_mm2": "0.5", "lead_length_m": "0.1"}
    assert _binding(**SIX_CELLS, **thin, lead_fuse_a="30") == _binding(**SIX_CELLS, **thin)


def test_a_thick_lead_is_held_to_the_largest_blade_fuse_until_a_larger_one_is_in_it() -> None:
    # 70 mm² may carry 80 A. The largest blade fuse is 40 A and carries 32; one of 60 A of another kind carries 48.
    strong = SIX_CELLS | _STIFF | {"capacity_mah": "60000", "charger_current_a": "60", "charger_power_w": "3000", "supply_current_a": "200"}
    assert _binding(**strong).ceiling == pytest.approx(13.8 * 32 * 0.85 / 25.2, rel=0.005)
    assert _binding(**strong, lead_fuse_a="60").ceiling == pytest.approx(13.8 * 48 * 0.85 / 25.2, rel=0.005)


def test_a_long_lead_binds_by_what_it_would_lose() -> None:
    # 10 m of 1.5 mm² are 267 mΩ: a tenth of 13.8 V is lost at 5.17 A, and nine tenths arrive.
    binding = _binding(**SIX_CELLS, lead_area_mm2="1.5", lead_length_m="10")
    assert binding.because == "the supply lead: it would lose more than 10 % of the voltage"
    assert binding.ceiling == pytest.approx(12.42 * 5.17 * 0.85 / 25.2, rel=0.005)


def test_a_supply_only_just_above_the_charger_s_lowest_input_binds() -> None:
    # 5 m of 2.5 mm² are 80 mΩ: half a volt is lost at 6.25 A, and 11 V arrive.
    binding = _binding(**SIX_CELLS, supply_v="11.5", charger_input_least_v="11", lead_area_mm2="2.5", lead_length_m="5")
    assert binding.because == "the charger's lowest input voltage, behind this supply and lead"
    assert binding.ceiling == pytest.approx(11 * 6.25 * 0.85 / 25.2, rel=0.001)


def test_the_fuse_in_the_lead_binds_at_four_fifths_of_its_rating() -> None:
    # A fuse of 7.5 A carries 6 A for hours: 13.8 V x 6 A x 85 % over 25.2 V.
    binding = _binding(**SIX_CELLS | _STIFF, lead_fuse_a="7.5")
    assert binding.because == "the fuse in the supply lead: four fifths of its rating, hour after hour"
    assert binding.ceiling == pytest.approx(13.8 * 6 * 0.85 / 25.2, rel=0.005)


def test_connectors_lose_voltage_like_more_lead() -> None:
    # 60 mΩ on next to no lead: half a volt is lost at 8.3 A, and 11 V arrive.
    binding = _binding(**SIX_CELLS | _STIFF, supply_v="11.5", charger_input_least_v="11", connector_mohm="60")
    assert binding.because == "the charger's lowest input voltage, behind this supply and lead"
    assert binding.ceiling == pytest.approx(11 * 0.5 / 0.06 * 0.85 / 25.2, rel=0.002)


@pytest.mark.parametrize("pack_degc", ["1", "5", "10"])
def test_a_cold_pack_gets_half_the_current(pack_degc: str) -> None:
    binding = _binding(pack_degc=pack_degc)
    assert binding.because == "the cold pack: half the current up to 10\u00a0°C"
    assert binding.ceiling == pytest.approx(1.325)


def test_a_pack_above_10_degrees_gets_all_of_it() -> None:
    assert _binding(pack_degc="11").ceiling == pytest.approx(2.65)


def test_a_cold_pack_with_a_low_label_gets_half_of_the_label() -> None:
    # Half of 0.8C, and not half of 1C.
    assert _binding(pack_degc="5", label_charge_rate_c="0.8").ceiling == pytest.approx(0.4 * 2.65)


def test_a_cold_pack_with_a_high_label_gets_half_of_1c() -> None:
    assert _binding(pack_degc="5", label_charge_rate_c="5", requested_rate_c="5").ceiling == pytest.approx(0.5 * 2.65)


def test_every_ceiling_is_named_once() -> None:
    charge = given(pack_degc="5")
    limits = current_limits(pack=charge, charger=charge, supply=charge, chemistry=CHEMISTRIES["lipo"], requested_rate_c=1)
    assert len({limit.because for limit in limits}) == len(limits) == 9


def test_a_battery_rests_at_its_voltage_and_a_mains_supply_holds_its_own() -> None:
    assert source_v(given(**BATTERY)) == 12.65
    assert source_v(given()) == 13.8


def test_a_battery_adds_its_own_resistance_to_the_lead_s() -> None:
    # 0.5 ohm Ah over 50 Ah.
    lead_ohm = source_resistance_ohm(given())
    assert source_resistance_ohm(given(**BATTERY | {"battery_ah": "50"})) == pytest.approx(lead_ohm + 0.01)


def test_the_power_into_a_pack_is_what_efficiency_and_lead_leave() -> None:
    # 12 V x 10 A x 85 %.
    assert power_into_pack_w(given(supply_v="12", **_STIFF), supply_current_a=10, efficiency_percent=85) == pytest.approx(102, rel=0.001)


def test_a_lead_of_high_resistance_never_counts_past_its_peak_of_power() -> None:
    # 30 m of 0.1 mm² are 12 Ω: 12 V bring at most 3 W, however much current the supply could give.
    assert power_into_pack_w(
        given(supply_v="12", lead_length_m="30", lead_area_mm2="0.1"), supply_current_a=40, efficiency_percent=99
    ) == pytest.approx(2.97, rel=0.01)


def test_a_supply_has_four_ceilings_and_the_charger_s_power_comes_first() -> None:
    charge = given()
    assert len(supply_limits(charge, 10)) == 4
    assert power_limits(charger=charge, supply=charge)[0] == Limit(300, "the charger's highest power")


def test_label_charger_and_cold_hold_whatever_the_power() -> None:
    charge = given(pack_degc="5", charger_power_w="1")
    ceilings = [limit.ceiling for limit in hard_current_limits(pack=charge, charger=charge, chemistry=CHEMISTRIES["lipo"])]
    assert ceilings == pytest.approx([2.65, 10, 1.325])


@pytest.mark.parametrize("ceiling_a, step_a, setting_a", [(2.65, "0.1", 2.6), (2.65, "0.25", 2.5), (2.65, "1", 2.0), (0.1, "0.1", 0.1)])
def test_the_setting_is_the_lowest_ceiling_rounded_down_to_the_charger_s_step(ceiling_a: float, step_a: str, setting_a: float) -> None:
    charge = given(current_step_a=step_a)
    label = Limit(ceiling_a, "the label")
    assert charge_setting_a(pack=charge, current_step_a=charge.current_step_a, limits=[Limit(5.0, "the charger"), label]) == (
        setting_a,
        label,
    )


def test_a_pack_below_the_charger_s_smallest_step_needs_a_finer_charger() -> None:
    problem = _no_setting(capacity_mah="90")
    assert problem.field == "capacity_mah"
    assert "too small for the charger's smallest step of current: use a charger with a finer one" in problem.sentence


def test_a_rate_that_leaves_no_step_is_to_be_raised_and_the_pack_not_blamed() -> None:
    problem = _no_setting(capacity_mah="1000", requested_rate_c="0.05")
    assert problem.field == ""
    assert "ask for a higher one" in problem.sentence


def test_a_supply_that_leaves_less_than_a_step_is_named() -> None:
    # 10.001 V against 10 V, behind 267 mΩ.
    problem = _no_setting(supply_v="10.001", lead_area_mm2="1.5", lead_length_m="10")
    assert problem.field == ""
    assert problem.sentence == (
        "No current can be dialled in: the limit is below the charger's smallest step (the charger's lowest input voltage, "
        "behind this supply and lead). Use a shorter or thicker lead, or a supply of a higher voltage."
    )


@pytest.mark.parametrize(
    ("changes", "act"),
    [
        ({"charger_power_w": "1"}, "Use a charger with more power"),
        ({"charger_current_a": "0.5"}, "Use a charger with a finer step"),
        ({"supply_current_a": "0.5"}, "Use a supply that gives more current"),
        (BATTERY | {"battery_ah": "1"}, "Use a larger battery"),
        ({"lead_length_m": "30", "lead_area_mm2": "0.2"}, "Use a shorter or thicker lead"),
        ({"lead_length_m": "0.05", "lead_area_mm2": "0.1"}, "Use a thicker lead"),
        ({"lead_fuse_a": "1"}, "Use a thicker lead with a larger fuse"),
        ({"pack_degc": "5", "capacity_mah": "1500"}, "Warm the pack through first"),
    ],
)
def test_where_not_even_a_step_is_left_the_sentence_names_the_act(changes: dict[str, str], act: str) -> None:
    problem = _no_setting(**SIX_CELLS | {"current_step_a": "1"} | changes)
    assert str(problem.sentence).endswith(f". {act}.")


def test_a_rate_that_leaves_no_step_is_told_apart_from_a_pack_that_has_none() -> None:
    # At 1C 100 mAh would be charged with exactly one step of 0.1 A.
    asked = _no_setting(capacity_mah="100", requested_rate_c="0.5")
    assert (asked.field, asked.sentence) == (
        "",
        "The rate you asked for is less than the charger's smallest step of current: ask for a higher one.",
    )
    small = _no_setting(capacity_mah="99", requested_rate_c="0.5")
    assert (small.field, small.sentence) == (
        "capacity_mah",
        "This pack is too small for the charger's smallest step of current: use a charger with a finer one.",
    )


def test_a_ceiling_of_no_known_kind_asks_for_a_finer_step() -> None:
    charge = given()
    with pytest.raises(Refused) as refused:
        charge_setting_a(pack=charge, current_step_a=charge.current_step_a, limits=[Limit(0.05, "the tide")])
    (problem,) = refused.value.problems
    assert problem.sentence.endswith("below the charger's smallest step (the tide). Use a charger with a finer step.")
