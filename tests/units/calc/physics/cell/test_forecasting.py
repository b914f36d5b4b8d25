"""Ranges: what they hold, and the folk rule of 80 to 90 minutes taken apart."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.facts.cited import practice
from calc.figures.spans import Span
from calc.physics.cell.cells import edge_curves, state_at
from calc.physics.cell.forecasting import Forecast, balancing_minutes, forecast, over_both
from tests.units.calc.physics.cell.closed_form import constant_power_minutes


def _forecast(**given: object) -> Forecast:
    pack = {"start_state": Span(0.0, 0.0, 0.0), "full_cell_v": 4.2, "capacity_ah": 2.2, "current_a": 2.2}
    return forecast("lipo", **(pack | {"resistance_ohm_ah": Span(0.011, 0.022, 0.036)} | given))


def test_a_healthy_pack_is_charged_from_empty_at_1c_in_60_to_66_minutes() -> None:
    time = _forecast().time_min
    assert 60 <= time.least <= time.likely <= time.most <= 66


def test_an_energy_type_pack_takes_the_80_minutes_of_the_folk_rule() -> None:
    assert 75 <= _forecast(resistance_ohm_ah=Span(0.2, 0.2, 0.2)).time_min.likely <= 85


def test_twice_the_current_saves_much_less_than_half_on_an_energy_type_pack() -> None:
    energy = Span(0.2, 0.2, 0.2)
    slow, fast = (_forecast(resistance_ohm_ah=energy, current_a=current_a) for current_a in (2.2, 4.4))
    assert 15 < slow.time_min.likely - fast.time_min.likely < 25


def test_the_phases_of_the_likely_run_make_up_its_time() -> None:
    coming = _forecast(power_w_per_cell=8.5)
    phases = (coming.constant_current_min, coming.constant_power_min, coming.constant_voltage_min)
    assert sum(phase.likely for phase in phases) == pytest.approx(coming.time_min.likely)
    assert all(phase.likely > 0 for phase in phases)


def test_without_a_limit_on_power_there_is_no_time_at_it() -> None:
    assert _forecast().constant_power_min == Span(0.0, 0.0, 0.0)


def test_half_an_hour_at_1c_puts_in_half_and_then_the_range_is_narrow() -> None:
    state = _forecast().state_at(30.0)
    assert (state.least, state.likely, state.most) == pytest.approx((0.5, 0.5, 0.5), abs=0.001)


def test_80_percent_is_reached_at_48_minutes_and_never_where_the_charge_stops_before() -> None:
    assert _forecast().minutes_to(0.8).likely == pytest.approx(48.0, abs=0.01)
    assert _forecast(full_cell_v=3.9).minutes_to(0.8) is None


def test_a_pack_of_ten_times_the_capacity_at_ten_times_the_current_takes_as_long() -> None:
    small, large = (_forecast(capacity_ah=capacity_ah, current_a=0.3 * capacity_ah).time_min for capacity_ah in (0.5, 5.0))
    assert (small.least, small.likely, small.most) == pytest.approx((large.least, large.likely, large.most), rel=1e-9)


def test_a_slow_charge_is_cut_off_below_its_own_current() -> None:
    coming = _forecast(current_a=0.066)
    assert coming.likely.end_state > 0.99
    assert coming.likely.trace[-1].current_a < 0.066


def test_a_range_that_reaches_full_is_still_a_range() -> None:
    coming = _forecast(start_state=Span(0.9, 0.97, 1.0))
    assert coming.time_min.least == 0
    assert coming.time_min.likely > 0


# 3 % of 2200 mAh at 0.2 A is 20 minutes; 5 % is 33.
def test_balancing_is_a_line_of_its_own() -> None:
    minutes = balancing_minutes(Span(0.0, 0.066, 0.11), 0.2)
    assert (minutes.least, minutes.likely, minutes.most) == pytest.approx((0.0, 19.8, 33.0))


def test_the_time_at_power_is_bounded_by_the_curves_and_resistances_that_begin_it_and_end_it() -> None:
    # 4.4 A on 2.2 Ah are 2C, and 16.5 W for a cell are 7.5 W per Ah: it binds at 3.75 V, and 1.786C flow at 4.2 V.
    low, high = edge_curves("lipo")
    bounds = {}
    for name, (begins, begins_ohm_ah), (ends, ends_ohm_ah) in (
        ("least", (low, 0.02), (high, 0.06)), ("most", (high, 0.06), (low, 0.02)),
    ):  # fmt: skip
        begin, end = state_at(begins, 3.75 - 2 * begins_ohm_ah), state_at(ends, 4.2 - 7.5 / 4.2 * ends_ohm_ah)
        bounds[name] = constant_power_minutes(begins, from_state=begin, to_state=end, power_w_per_ah=7.5, resistance_ohm_ah=begins_ohm_ah)
    given = {"start_state": Span(0.0, 0.0, 0.0), "current_a": 4.4, "power_w_per_cell": 16.5, "resistance_ohm_ah": Span(0.02, 0.03, 0.06)}
    found = _forecast(**given).constant_power_min
    assert (found.least, found.most) == pytest.approx((max(bounds["least"], 0.0), bounds["most"]), rel=5e-4)
    assert found.least < found.likely < found.most


def test_a_pack_that_may_begin_past_the_power_has_no_time_at_it_at_least() -> None:
    # At 97 % the resting voltage lies past every place at which 16.5 W still bind.
    found = _forecast(start_state=Span(0.0, 0.5, 0.97), current_a=4.4, power_w_per_cell=16.5).constant_power_min
    assert found.least == 0
    assert found.likely > 10


# Iron phosphate follows one curve alone, so where all else is known the bounds close around the run; a lead must not part them.
@pytest.mark.parametrize("start_state", [0.0, 0.6])
@pytest.mark.parametrize("share", [0.0, 0.5])
def test_the_bounds_of_the_time_at_power_close_around_a_pack_of_which_all_is_known(
    monkeypatch: pytest.MonkeyPatch, share: float, start_state: float
) -> None:
    monkeypatch.setitem(CHEMISTRIES, "life", replace(CHEMISTRIES["life"], lead_share=practice(share, "as if")))
    found = forecast(
        "life",
        start_state=Span(start_state, start_state, start_state),
        full_cell_v=3.6,
        capacity_ah=2.0,
        current_a=4.0,
        resistance_ohm_ah=Span(0.1, 0.1, 0.1),
        power_w_per_cell=6.6,
    )
    minutes = found.likely.constant_power_min
    assert minutes > 5
    assert (found.constant_power_min.least, found.constant_power_min.most) == pytest.approx((minutes, minutes), rel=1e-6)


def test_of_two_forecasts_most_likely_the_first_comes_true_at_power_too() -> None:
    weak, strong = (_forecast(power_w_per_cell=power_w) for power_w in (8.4, 8.9))
    both = over_both(weak, strong).constant_power_min
    assert weak.constant_power_min.likely > strong.constant_power_min.likely > 0
    assert both.likely == weak.constant_power_min.likely
    assert both.least == min(weak.constant_power_min.least, strong.constant_power_min.least)
    assert both.most == max(weak.constant_power_min.most, strong.constant_power_min.most)


def test_most_likely_a_state_is_reached_when_the_likely_run_reaches_it() -> None:
    coming = _forecast(start_state=Span(0.1, 0.2, 0.4))
    # 1C from a fifth: three tenths are 18 minutes.
    reached = coming.minutes_to(0.5)
    assert (reached.least, reached.likely, reached.most) == pytest.approx((6.0, 18.0, 24.0), abs=0.05)
