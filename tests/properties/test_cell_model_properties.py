"""What holds of every charge, whatever the pack, the charger and the supply."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.limits import Limit, lowest
from calc.figures.spans import Span
from calc.physics.cell.cells import Cell, cell_on_charge, state_of_charge, voltage_and_slope
from calc.physics.cell.charging import Charge, charge
from calc.physics.cell.discharging import discharge
from calc.physics.cell.forecasting import forecast

_FULL_V = {key: one.full_cell_v.value for key, one in CHEMISTRIES.items()}
_KEYS = st.sampled_from(sorted(CHEMISTRIES))
_STATES = st.floats(0.0, 1.0)
_RESISTANCES = st.floats(0.003, 0.5)
_RATES = st.floats(0.1, 5.0)
_TAPERS = st.floats(0.02, 0.2)
_POWERS = st.none() | st.floats(0.3, 20.0)
_FACTORS = st.floats(0.1, 20.0)


def _charge(
    key: str,
    state: float,
    resistance: float,
    rate: float,
    taper: float,
    power: float | None,
    size: float = 1.0,
    until_state: float | None = None,
) -> Charge:
    return charge(
        cell_on_charge(key, CHEMISTRIES[key].resting.likely.cell_v, capacity_ah=size, resistance_ohm_ah=resistance),
        start_state=state,
        full_cell_v=_FULL_V[key],
        current_a=rate * size,
        taper_rate_c=taper,
        power_w_per_cell=None if power is None else power * size,
        until_state=until_state,
    )


def _stored_v(curve: tuple[float, ...], start: float, end: float) -> float:
    """The area under a resting curve, summed finely: Wh per Ah."""
    count = 4000
    width = (end - start) / count
    return sum(voltage_and_slope(curve, start + (place + 0.5) * width)[0] for place in range(count)) * width


@given(_KEYS, _STATES, _RESISTANCES, _RATES, _FACTORS, _TAPERS, _POWERS)
def test_more_current_is_never_slower(key, state, resistance, rate, factor, taper, power) -> None:
    slow, fast = sorted((rate, rate * factor))
    one, other = (_charge(key, state, resistance, current, taper, power).time_min for current in (slow, fast))
    assert other <= one * 1.0005 + 1e-6


@given(_KEYS, _STATES, _RESISTANCES, st.floats(1.0, 10.0), _RATES)
def test_a_higher_resistance_never_gives_more_at_the_end_of_constant_current(key, state, resistance, factor, rate) -> None:
    low, high = (_charge(key, state, ohm_ah, rate, 0.05, None) for ohm_ah in (resistance, resistance * factor))
    assert high.constant_current_min <= low.constant_current_min + 1e-6


@given(_KEYS, _STATES, _RESISTANCES, st.floats(1.0, 10.0), _RATES, _POWERS)
def test_a_higher_resistance_never_comes_to_a_state_of_charge_sooner(key, state, resistance, factor, rate, power) -> None:
    high = _charge(key, state, resistance * factor, rate, 0.02, power)
    low = _charge(key, state, resistance, rate, 0.02, power, until_state=high.end_state)
    assert low.time_min <= high.time_min * 1.0005 + 1e-6


@given(_KEYS, _STATES, _RESISTANCES, _RATES, _TAPERS, _POWERS, st.floats(0.05, 50.0))
def test_a_pack_of_another_size_at_the_same_rate_takes_the_same_minutes(key, state, resistance, rate, taper, power, size) -> None:
    one, other = (_charge(key, state, resistance, rate, taper, power, size=ah) for ah in (1.0, size))
    assert other.time_min == pytest.approx(one.time_min, rel=1e-9, abs=1e-9)
    assert other.energy_in_wh == pytest.approx(one.energy_in_wh * size, rel=1e-9, abs=1e-9 * size)


@given(_KEYS, st.floats(0.0, 0.95), _RESISTANCES, _RATES, _TAPERS, _POWERS)
def test_the_energy_put_in_is_the_energy_stored_and_the_heat(key, state, resistance, rate, taper, power) -> None:
    done = _charge(key, state, resistance, rate, taper, power)
    stored_wh = _stored_v(CHEMISTRIES[key].resting.likely.cell_v, state, done.end_state)
    assert done.energy_in_wh == pytest.approx(stored_wh + done.heat_wh, rel=0.001, abs=1e-6)


@given(_KEYS, st.floats(0.3, 1.0), _RESISTANCES, st.floats(0.1, 3.0), _POWERS)
def test_the_energy_taken_out_is_the_energy_lost_less_the_heat(key, state, resistance, rate, power) -> None:
    curve = CHEMISTRIES[key].resting.likely.cell_v
    cell = Cell(curve=curve, capacity_ah=1.0, resistance_ohm_ah=resistance)
    done = discharge(cell, start_state=state, current_a=rate, cutoff_cell_v=2.9, power_w_per_cell=power)
    lost_wh = _stored_v(curve, done.end_state, state)
    assert done.energy_out_wh + done.heat_wh == pytest.approx(lost_wh, rel=0.001, abs=1e-6)


@given(_KEYS, _STATES, _RESISTANCES, _RATES, _POWERS)
def test_at_every_minute_no_limit_is_passed_and_one_binds(key, state, resistance, rate, power) -> None:
    done = _charge(key, state, resistance, rate, 0.05, power)
    ceiling_w = float("inf") if power is None else power
    for moment in done.trace[:-1]:
        shares = (moment.current_a / rate, moment.current_a * moment.cell_v / ceiling_w, moment.cell_v / _FULL_V[key])
        assert max(shares) == pytest.approx(1.0, abs=1e-6) or moment.current_a == 0


@given(_STATES, _RESISTANCES, st.tuples(_RATES, _RATES, _RATES), st.tuples(st.floats(0.3, 20.0), st.floats(0.3, 20.0)))
def test_any_order_of_limits_gives_the_same_charge(state, resistance, rates, powers) -> None:
    charges = [
        _charge(
            "lipo",
            state,
            resistance,
            lowest([Limit(rate, "") for rate in current_order]).ceiling,
            0.05,
            lowest([Limit(power, "") for power in power_order]).ceiling,
        )
        for current_order in permutations(rates)
        for power_order in permutations(powers)
    ]
    assert all(done == charges[0] for done in charges)


@given(
    _KEYS,
    st.lists(_STATES, min_size=3, max_size=3).map(sorted),
    st.lists(_RESISTANCES, min_size=3, max_size=3).map(sorted),
    st.floats(0.2, 3.0),
    _POWERS,
    st.floats(0.0, 1.0),
    st.floats(0.0, 1.0),
    _TAPERS,
    st.integers(0, 10),
)
@example("life", [0.0, 0.0, 0.49999999999999994], [0.5, 0.5, 0.5], 1.0, 1.0, 0.0, 0.0, 0.0625, 0)
@example("liion", [0.0, 0.0, 0.0], [0.5, 0.5, 0.5], 1.0, None, 0.0, 0.0, 0.09375, 1)
def test_a_forecast_holds_every_pack_that_it_may_be(key, states, resistances, rate, power, at_state, at_resistance, taper, place) -> None:
    coming = forecast(
        key,
        start_state=Span(*states),
        full_cell_v=_FULL_V[key],
        capacity_ah=1.0,
        current_a=rate,
        resistance_ohm_ah=Span(*resistances),
        power_w_per_cell=power,
    )
    curves = CHEMISTRIES[key].resting.curves
    resistance = resistances[0] + (resistances[2] - resistances[0]) * at_resistance
    true = charge(
        cell_on_charge(key, curves[place % len(curves)].cell_v, capacity_ah=1.0, resistance_ohm_ah=resistance),
        start_state=states[0] + (states[2] - states[0]) * at_state,
        full_cell_v=_FULL_V[key],
        current_a=rate,
        taper_rate_c=taper * min(1.0, rate),
        power_w_per_cell=power,
    )
    # The corners take half of the steps: a tenth of a per cent.
    slack_min = 0.001 * coming.time_min.most + 1e-6
    for span, value in (
        (coming.time_min, true.time_min),
        (coming.constant_current_min, true.constant_current_min),
        (coming.constant_power_min, true.constant_power_min),
        (coming.constant_voltage_min, true.constant_voltage_min),
    ):
        assert span.least - slack_min <= value <= span.most + slack_min
        assert span.least - slack_min <= span.likely <= span.most + slack_min
    assert coming.capacity_in_ah.least - 1e-3 <= true.capacity_in_ah <= coming.capacity_in_ah.most + 1e-3
    # Energy and heat have no bounds of their own; between the corners they pass them by two in a hundred at most.
    for span, value in ((coming.energy_in_wh, true.energy_in_wh), (coming.heat_wh, true.heat_wh)):
        assert span.least * 0.98 - 2e-3 <= value <= span.most * 1.02 + 2e-3


@given(_KEYS, st.floats(0.0, 1.0))
def test_the_band_of_a_resting_voltage_is_in_order_and_holds_each_curve(key, share) -> None:
    table = CHEMISTRIES[key].resting
    cell_v = 3.0 + share * (_FULL_V[key] - 3.0)
    band = state_of_charge(key, cell_v)
    assert 0.0 <= band.least <= band.likely <= band.most <= 1.0
    for curve in table.curves:
        assert voltage_and_slope(curve.cell_v, band.least)[0] <= cell_v + 1e-9 or band.least == 0.0
        assert voltage_and_slope(curve.cell_v, band.most)[0] >= cell_v - 1e-9 or band.most == 1.0
