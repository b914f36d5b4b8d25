"""A cell from its label and from the voltmeter."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.physics.cell.cell_resistance import cell_resistance_ohm, temperature_factor
from calc.physics.cell.cells import (
    cell_on_charge,
    edge_curves,
    share_between,
    state_at,
    state_of_charge,
    stored_wh_per_ah,
    voltage_and_slope,
)

_KEYS = sorted(CHEMISTRIES)


def _resistance(**given: object) -> Span:
    """The resistance of a cell of 2 Ah, Ω."""
    label = {"capacity_mah": 2000, "effective_capacity_mah": 2000, "cell_resistance_mohm": None, "label_discharge_rate_c": None, "degc": 25}
    return cell_resistance_ohm(**(label | given))


def _in_order(span: Span) -> bool:
    return span.least <= span.likely <= span.most


@pytest.mark.parametrize("known", [{"cell_resistance_mohm": 5}, {"label_discharge_rate_c": 30}, {}])
@pytest.mark.parametrize("degc", [10, 40])
def test_whatever_is_known_of_it_a_resistance_follows_the_temperature(known: dict[str, float], degc: float) -> None:
    factor, at_25, now = temperature_factor(degc), _resistance(**known), _resistance(**known, degc=degc)
    assert (now.least, now.likely, now.most) == pytest.approx(
        (at_25.least * factor.least, at_25.likely * factor.likely, at_25.most * factor.most)
    )


@pytest.mark.parametrize("key", _KEYS)
def test_the_state_comes_back_from_its_own_resting_voltage(key: str) -> None:
    curve = CHEMISTRIES[key].resting.likely.cell_v
    for percent in range(101):
        assert state_at(curve, voltage_and_slope(curve, percent / 100)[0]) == pytest.approx(percent / 100, abs=1e-9)


def test_past_its_ends_the_curve_goes_on_in_a_straight_line() -> None:
    assert voltage_and_slope((3.0, 3.5, 4.5), 1.1) == pytest.approx((4.7, 2.0))
    assert voltage_and_slope((3.0, 3.5, 4.5), -0.1) == pytest.approx((2.9, 1.0))


def test_seven_tenths_of_what_a_lithium_ion_cell_shows_on_charge_is_the_lead_of_its_surface() -> None:
    cell = cell_on_charge("liion", (3.0, 4.2), capacity_ah=2.0, resistance_ohm_ah=0.4)
    assert cell.resistance_ohm_ah == pytest.approx(0.12)
    # 0.28 V at 1 C, where the resting voltage rises by 0.8 V for the whole capacity.
    assert cell.lead_h == pytest.approx(0.35)


@pytest.mark.parametrize("key", ["lipo", "lihv", "life"])
def test_a_pouch_pack_and_iron_phosphate_have_a_resistance_and_no_lead(key: str) -> None:
    cell = cell_on_charge(key, (3.0, 4.2), capacity_ah=2.0, resistance_ohm_ah=0.4)
    assert (cell.resistance_ohm_ah, cell.lead_h) == (0.4, 0.0)


@pytest.mark.parametrize("start, end, area", [(0.25, 0.75, 1.78125), (0.5, 1.0, 2.0), (0.6, 0.7, 0.38), (0.9, 1.1, 0.9), (0.4, 0.4, 0.0)])
def test_the_energy_between_two_states_is_the_area_under_the_curve(start: float, end: float, area: float) -> None:
    assert stored_wh_per_ah((3.0, 3.5, 4.5), start, end) == pytest.approx(area)


@pytest.mark.parametrize("key", _KEYS)
def test_all_curves_lie_between_the_edges(key: str) -> None:
    low, high = edge_curves(key)
    for curve in CHEMISTRIES[key].resting.curves:
        assert all(lowest <= cell_v <= highest for lowest, cell_v, highest in zip(low, curve.cell_v, high, strict=True))


def test_a_voltage_in_the_middle_says_little_and_near_full_says_much() -> None:
    middle, near_full = state_of_charge("lipo", 3.75), state_of_charge("lipo", 4.10)
    assert middle.most - middle.least > 0.30
    assert near_full.most - near_full.least < 0.06


def test_a_flat_iron_phosphate_cell_says_almost_nothing() -> None:
    band = state_of_charge("life", 3.27)
    assert band.most - band.least > 0.30


@pytest.mark.parametrize("cell_v", [2.99, 4.26])
def test_a_cell_below_its_floor_or_above_its_upper_limit_has_no_state_of_charge(cell_v: float) -> None:
    with pytest.raises(ValueError, match="no resting voltage of a sound lipo cell"):
        state_of_charge("lipo", cell_v)


def test_a_full_cell_read_a_little_high_is_full() -> None:
    assert state_of_charge("lipo", 4.22).likely == 1.0


@pytest.mark.parametrize("key", _KEYS)
def test_a_cell_at_its_target_has_nothing_to_move_at_least(key: str) -> None:
    rested_v = CHEMISTRIES[key].storage_low_cell_v.value
    share = share_between(key, rested_v, rested_v)
    assert share.likely == share.least == 0.0
    assert _in_order(share)


def test_a_reading_of_5_milliohm_counts_once_to_four_times() -> None:
    span = _resistance(cell_resistance_mohm=5)
    assert (span.least, span.likely, span.most) == pytest.approx((0.0050, 0.0100, 0.0200))


def test_a_measured_resistance_stays_whatever_the_pack_still_holds() -> None:
    assert _resistance(cell_resistance_mohm=5, effective_capacity_mah=1000) == _resistance(cell_resistance_mohm=5)


@pytest.mark.parametrize("rate_c", [1, 5, 20, 40, 80])
def test_a_modest_label_may_stand_on_the_best_of_cells_and_a_bold_one_on_the_worst(rate_c: float) -> None:
    # From memory, no source: 2 Ah of the best new packs have 0.004 Ω Ah. A full run of a published cobalt-oxide pouch has 0.21.
    span = _resistance(label_discharge_rate_c=rate_c)
    assert span.least <= 0.004 / 2 * (1 + 1e-9)
    assert span.most >= 0.21 / 2 * (1 - 1e-9)


def test_a_guessed_resistance_rises_as_the_pack_fades_but_not_at_its_least() -> None:
    sound, aged = _resistance(label_discharge_rate_c=20), _resistance(label_discharge_rate_c=20, effective_capacity_mah=1000)
    assert (aged.least, aged.likely, aged.most) == pytest.approx((sound.least, 2 * sound.likely, 2 * sound.most))


def test_a_reading_goes_before_the_label() -> None:
    assert _resistance(cell_resistance_mohm=5, label_discharge_rate_c=10) == _resistance(cell_resistance_mohm=5)


def test_a_label_of_20_c_loses_four_tenths_of_a_volt_there() -> None:
    # 40 A through a cell of 10 mΩ.
    assert _resistance(label_discharge_rate_c=20).likely == pytest.approx(0.01)


def test_a_label_that_promises_the_moon_is_not_believed() -> None:
    one, other = _resistance(label_discharge_rate_c=150), _resistance(label_discharge_rate_c=40)
    assert (one.likely, one.most) == (other.likely, other.most)


# An energy-type pouch has 0.2 ohm Ah over a charge, whatever stands on its label; a round cell 0.3.
@pytest.mark.parametrize("key, energy_ohm_ah", [("lipo", 0.20), ("lihv", 0.20), ("liion", 0.30), ("life", 0.15)])
@pytest.mark.parametrize("label_c", [10, 40, 100])
def test_whatever_rate_a_label_promises_the_pack_may_be_an_energy_cell(key: str, energy_ohm_ah: float, label_c: float) -> None:
    assert _resistance(label_discharge_rate_c=label_c, chemistry_key=key).most * 2 >= energy_ohm_ah - 1e-9


def test_a_label_that_promises_little_is_believed() -> None:
    assert _resistance(label_discharge_rate_c=2).most * 2 == pytest.approx(0.8)


# At most what the published energy cell of its kind has over a charge; a doubled class would make every joint and every minute
# wrong, and stay in order.
@pytest.mark.parametrize("key, energy_ohm_ah", [("lipo", 0.201), ("lihv", 0.201), ("liion", 0.307), ("life", 0.152)])
def test_a_pack_of_which_nothing_is_known_is_at_worst_the_published_energy_cell(key: str, energy_ohm_ah: float) -> None:
    assert _resistance(chemistry_key=key).most * 2 == pytest.approx(energy_ohm_ah, rel=0.2)


# 2200 mAh of a model pack in use: 10 to 20 mΩ over a charge, from memory, no source. Iron phosphate by pulse, 0.071 ohm Ah.
@pytest.mark.parametrize(
    "key, least_ohm_ah, most_ohm_ah", [("lipo", 0.022, 0.044), ("lihv", 0.022, 0.044), ("liion", 0.06, 0.15), ("life", 0.06, 0.08)]
)
def test_a_pack_of_which_nothing_is_known_is_most_likely_one_in_use(key: str, least_ohm_ah: float, most_ohm_ah: float) -> None:
    assert least_ohm_ah < _resistance(chemistry_key=key).likely * 2 < most_ohm_ah


# 2 to 6 mΩ in packs of 2200 mAh that were made for high rates: from memory, no source.
@pytest.mark.parametrize("key", ["lipo", "lihv"])
def test_a_pack_of_which_nothing_is_known_may_be_the_best_high_rate_pack(key: str) -> None:
    assert _resistance(chemistry_key=key).least * 2 == pytest.approx(0.002 * 2.2, rel=0.1)


@pytest.mark.parametrize("key", _KEYS)
def test_every_chemistry_has_a_class_where_nothing_is_known(key: str) -> None:
    span = _resistance(chemistry_key=key)
    assert span.least > 0
    assert _in_order(span)


# Published effective values of two pouch sets: 1.29 and 1.44 at 10 degC, 0.83 and 0.61 at 40 degC.
@pytest.mark.parametrize("degc, published", [(10, (1.29, 1.44)), (40, (0.83, 0.61))])
def test_the_temperature_factor_holds_the_published_ones(degc: float, published: tuple[float, float]) -> None:
    factor = temperature_factor(degc)
    assert all(factor.least - 0.01 < value < factor.most + 0.01 for value in published)


@pytest.mark.parametrize("degc", [-20, 0, 24, 25, 26, 60])
def test_the_temperature_factor_is_in_order_on_both_sides_of_25_degrees(degc: float) -> None:
    assert _in_order(temperature_factor(degc))
