"""What a charge will take, told with what its width comes from."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.physics.cell.cells import state_of_charge
from calc.rules.charge.charge_outlook import Outlook, outlook_of
from calc.rules.pack.readings import clear_reading
from tests.units.calc.sound_charge import given


def _outlook(current_a: float = 2.6, **changes: str) -> Outlook:
    charge = given(**changes)
    chemistry = CHEMISTRIES[charge.chemistry]
    return outlook_of(
        pack=charge,
        balance_current_a=charge.balance_current_a,
        chemistry=chemistry,
        reading=clear_reading(charge, chemistry),
        current_a=current_a,
    )


def test_the_likely_time_lies_between_its_ends() -> None:
    minutes = _outlook().charge_min
    assert minutes.least <= minutes.likely <= minutes.most


def test_an_emptier_pack_takes_longer_and_takes_more() -> None:
    empty, half = _outlook(resting_v="10.8"), _outlook(resting_v="11.4")
    assert empty.charge_min.likely > half.charge_min.likely
    assert empty.charge_in_ah.likely > half.charge_in_ah.likely


def test_cells_that_differ_widen_the_range_both_ways() -> None:
    # The charger stops for the fullest cell and works for the emptiest.
    level, uneven = _outlook(resting_v="3.80 3.80 3.80"), _outlook(resting_v="3.70 3.80 3.90")
    assert uneven.charge_in_ah.least < level.charge_in_ah.least
    assert uneven.charge_in_ah.most > level.charge_in_ah.most


def test_a_pack_never_takes_more_than_its_label() -> None:
    assert _outlook(resting_v="9.0").charge_in_ah.most <= 2.65 * 1.0001


def test_without_a_balance_current_nothing_is_said_of_balancing() -> None:
    outlook = _outlook()
    assert outlook.balancing is None
    assert outlook.whole_min == outlook.charge_min


def test_balancing_brings_up_to_a_twentieth_of_the_capacity_level() -> None:
    # 5 % of 2.65 Ah at 0.265 A is half an hour.
    balancing = _outlook(balance_current_a="0.265").balancing
    assert (balancing.least, balancing.likely, balancing.most) == pytest.approx((0, 15, 30))


def test_balancing_comes_on_top_of_the_charge() -> None:
    outlook = _outlook(balance_current_a="0.265")
    assert outlook.whole_min.most == pytest.approx(outlook.charge_min.most + 30)


@pytest.mark.parametrize(
    "entries, words",
    [
        ({"cell_resistance_mohm": "4"}, "the resistance that you measured"),
        ({"label_discharge_rate_c": "35"}, "guessed from the label's discharge rate"),
        ({}, "the resistance is not known"),
    ],
)
def test_the_width_is_laid_to_what_is_not_known(entries: dict[str, str], words: str) -> None:
    assert words in _outlook(**entries).wide_because


@pytest.mark.parametrize("current_a, words", [(1.3, "the current is below 1C"), (2.6, "the balancing may be slow")])
def test_a_slow_charge_says_why(current_a: float, words: str) -> None:
    assert words in _outlook(current_a).slow_because


def test_a_full_pack_takes_next_to_nothing() -> None:
    assert _outlook(resting_v="12.6").charge_in_ah.likely < 0.01


def test_a_measured_resistance_counts_the_same_in_a_pack_that_holds_half_of_its_label() -> None:
    # What is left of it is a pack of 1325 mAh with 30 mΩ in each cell.
    aged = _outlook(1.3, measured_capacity_mah="1325", cell_resistance_mohm="30").charge_min
    small = _outlook(1.3, capacity_mah="1325", cell_resistance_mohm="30").charge_min
    assert (aged.least, aged.likely, aged.most) == pytest.approx((small.least, small.likely, small.most))


STATE = "a resting voltage shows the state of charge only roughly"
LABEL = "the resistance is guessed from the label's discharge rate, which not every pack lives up to"


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ({"cell_resistance_mohm": "4"}, "over a whole charge a pack acts as if it had one to four times the resistance that you measured"),
        ({"label_discharge_rate_c": "35"}, LABEL),
        ({}, "the resistance is not known, only what kind of pack it is"),
    ],
)
def test_what_makes_a_range_wide_is_told_in_whole_words(entries: dict[str, str], words: str) -> None:
    assert _outlook(**entries).wide_because == f"{STATE}, and {words}"


# 2000 mAh: within a twentieth of 1C a current is not called slow. 1.9 A are 0.95C, and times 1.05 just below 1.
@pytest.mark.parametrize(
    ("current_a", "words"),
    [
        (1.9, "the current is below 1C"),
        (1.91, "the end of the charge and the balancing may be slow"),
        (2.0, "the end of the charge and the balancing may be slow"),
    ],
)
def test_what_makes_a_charge_slow_is_told_in_whole_words(current_a: float, words: str) -> None:
    assert _outlook(current_a, capacity_mah="2000").slow_because == words


def test_an_aged_pack_takes_what_was_measured_and_its_slowness_counts_from_that() -> None:
    aged = _outlook(1.2, capacity_mah="2650", measured_capacity_mah="1200", resting_v="9.3")
    assert aged.charge_in_ah.most <= 1.2 * 1.0001
    assert aged.slow_because == "the end of the charge and the balancing may be slow"


def test_power_holds_a_charge_down_only_where_the_current_asks_for_more() -> None:
    charge = given(cell_resistance_mohm="4")
    lipo = CHEMISTRIES["lipo"]
    # 2.5 A at 12.6 V are 31.5 W.
    reading = clear_reading(charge, lipo)
    at, above, none = (
        outlook_of(
            pack=charge, balance_current_a=charge.balance_current_a, chemistry=lipo, reading=reading, current_a=2.5, power_w=power_w
        ).coming
        for power_w in (31.5, 31.0, None)
    )
    assert at == none
    assert above.constant_power_min.likely > 0
    assert above.likely.peak_power_w == pytest.approx(31.0)


def test_what_a_charge_starts_with_and_puts_in_is_that_of_the_whole_pack() -> None:
    outlook = _outlook(2.65, cell_resistance_mohm="4", resting_v="11.4")
    # 11.4 V and 2.65 A through three cells of 8 mΩ.
    assert outlook.start_power_w.likely == pytest.approx(2.65 * (11.4 + 2.65 * 0.024), rel=0.01)
    assert 11.4 < outlook.energy_in_wh.likely / outlook.charge_in_ah.likely < 12.6


def test_a_label_that_promises_less_stands_for_more_resistance_and_a_longer_charge() -> None:
    poor, good = _outlook(label_discharge_rate_c="5").coming, _outlook(label_discharge_rate_c="40").coming
    assert poor.constant_voltage_min.likely > good.constant_voltage_min.likely
    assert poor.energy_in_wh.likely > good.energy_in_wh.likely


def test_what_the_pack_has_room_for_is_what_its_emptiest_cell_lacks_of_full() -> None:
    least = state_of_charge("lipo", 3.80).least
    assert _outlook(resting_v="3.80 3.80 3.80").room_ah == pytest.approx((1 - least) * 2.65)


def test_iron_phosphate_that_is_held_at_its_full_voltage_takes_a_little_more_than_what_counts_as_full() -> None:
    flat = _outlook(chemistry="life", resting_v="3.20 3.20 3.20")
    least = state_of_charge("life", 3.20).least
    assert (1 - least) * 2.65 < flat.room_ah < 1.1 * (1 - least) * 2.65


def test_of_packs_that_are_charged_as_one_the_warm_end_counts_too() -> None:
    charge = given(pack_degc="12")
    lipo = CHEMISTRIES["lipo"]
    cold, both = (
        outlook_of(
            pack=charge,
            balance_current_a=None,
            chemistry=lipo,
            reading=clear_reading(charge, lipo),
            current_a=2.6,
            warmest_degc=warmest_degc,
        )
        for warmest_degc in (None, 35)
    )
    # A warm pack resists less and is charged sooner: the stop counts from the sooner of the two, the range holds both.
    assert both.stop_charge_min < cold.stop_charge_min
    assert (both.charge_min.most, both.charge_min.likely) == (cold.charge_min.most, cold.charge_min.likely)
    assert both.charge_min.least <= cold.charge_min.least
