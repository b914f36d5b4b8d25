"""What holds of every landing: it is a range the right way round, and no pack that the entries allow lands outside of it."""

from __future__ import annotations

from math import exp

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.facts.cell_parameters import CHARGE_OVER_READING, RESISTANCE_TEMPERATURE_K
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.pack_heat import HEAT_TRANSFER_W_PER_M2_K, SPECIFIC_HEAT_J_PER_KG_K
from calc.figures.spans import Span
from calc.physics.pack.flight import Flight, flight, highest_rate_c
from calc.physics.pack.flight_packs import FlightPack, flight_pack
from tests.properties.typed_entries import CHEMISTRY_KEYS

# Forty steps of a flight against eight hundred: a pack that goes from the ice into the sun is off by a part of its rise.
_SHARE_OF_RISE, _LEAST_K = 0.01, 0.02
_MOST_DEGC = 79.9

_SHARES = st.floats(0, 1)
_DEGC = st.floats(-20, 49)


def _pack(chemistry: str, start_degc: float, air_degc: float, mohm: float, weighed_kg: float | None = None) -> FlightPack:
    return flight_pack(
        chemistry, cells=3, capacity_mah=2200, effective_capacity_mah=2200, cell_resistance_mohm=mohm, label_discharge_rate_c=None,
        mass_kg=weighed_kg, start_degc=start_degc, air_degc=air_degc,
    )  # fmt: skip


def _between(least: float, most: float, share: float) -> float:
    return least + (most - least) * share


def _lands_at_degc(
    *, start_degc: float, air_degc: float, heat_at_25_w: float, b_k: float, mass_kg: float, holds: float, cooling: float, time_min: float
) -> float:
    """One pack of the many, in eight hundred small steps: a brick of 2 kg a litre, 7.3 times its volume to the two thirds."""
    steps = 800
    step_s = time_min * 60 / steps
    lost_w_per_k = cooling * 7.3 * (mass_kg / 2000) ** (2 / 3)
    degc = start_degc
    for _ in range(steps):
        heat_w = heat_at_25_w * exp(b_k * (1 / (degc + 273.15) - 1 / 298.15))
        degc += step_s * (heat_w - lost_w_per_k * (degc - air_degc)) / (mass_kg * holds)
    return degc


def _is_in_order(span: Span) -> bool:
    return span.least <= span.likely <= span.most


def _flown(pack: FlightPack, mean_a: float, peak: float, minutes: float) -> Flight:
    return flight(pack, highest_current_a=mean_a * peak, mean_current_a=mean_a, time_min=minutes)


@given(
    st.sampled_from(CHEMISTRY_KEYS), _DEGC, _DEGC, st.floats(1, 12), st.floats(0.2, 40), st.floats(1, 4), st.floats(0.5, 90),
    st.tuples(_SHARES, _SHARES, _SHARES, _SHARES, _SHARES, _SHARES),
)  # fmt: skip
# Air that is warmer than the pack warms it through a thin case, and hardly through a thick one.
@example("lipo", 10, 45, 5, 2, 1, 20, (1, 0, 0, 0, 1, 0))
@example("lipo", 10, 45, 5, 2, 1, 20, (0, 1, 1, 1, 0, 0))
@example("lipo", 10, 45, 5, 15, 1, 8, (1, 0, 0, 0, 0.3, 1))
# A warm pack that hardly works in cold air cools, the lighter the faster.
@example("lipo", 45, -20, 2, 1, 1, 40, (0, 1, 0.3, 0, 1, 0))
def test_no_pack_that_the_entries_allow_lands_outside_the_range(
    chemistry, start_degc, air_degc, mohm, mean_a, peak, minutes, shares
) -> None:
    pack = _pack(chemistry, start_degc, air_degc, mohm)
    flown = _flown(pack, mean_a, peak, minutes)
    resistance, square, mass, holds, cooling, steep = shares
    per_mass = CHEMISTRIES[chemistry].energy_per_mass_wh_per_kg
    # From the tables: whatever one cell loses over a reading, however the current comes, and whatever the pack is made of.
    energy_wh = pack.mass_kg.most * per_mass.least.value
    lands_degc = _lands_at_degc(
        start_degc=start_degc,
        air_degc=air_degc,
        heat_at_25_w=3
        * (mohm / 1000)
        * _between(CHARGE_OVER_READING.least.value, CHARGE_OVER_READING.most.value, resistance)
        * mean_a**2
        * _between(1, peak, square),
        b_k=_between(RESISTANCE_TEMPERATURE_K.least.value, RESISTANCE_TEMPERATURE_K.most.value, steep),
        mass_kg=energy_wh / _between(per_mass.least.value, per_mass.most.value, mass),
        holds=_between(SPECIFIC_HEAT_J_PER_KG_K.least.value, SPECIFIC_HEAT_J_PER_KG_K.most.value, holds),
        cooling=_between(HEAT_TRANSFER_W_PER_M2_K.least.value, HEAT_TRANSFER_W_PER_M2_K.most.value, cooling),
        time_min=minutes,
    )
    assume(lands_degc < _MOST_DEGC)
    slack_k = _LEAST_K + _SHARE_OF_RISE * (abs(lands_degc - start_degc) + abs(air_degc - start_degc))
    assert flown.end_degc.least - slack_k <= lands_degc <= flown.end_degc.most + slack_k


@given(
    st.sampled_from(CHEMISTRY_KEYS), _DEGC, _DEGC, st.floats(0.1, 30), st.none() | st.floats(0.01, 1), st.floats(0.1, 200), st.floats(1, 20),
    st.floats(0.2, 600),
)  # fmt: skip
@example("lipo", 10, 45, 5, None, 2, 1, 20)
@example("lipo", 25, 24, 5, None, 30, 1, 6)
@example("lipo", 25, 25, 0.1, None, 0.1, 1, 0.2)
def test_every_range_of_a_flight_is_in_order(chemistry, start_degc, air_degc, mohm, weighed_kg, mean_a, peak, minutes) -> None:
    flown = _flown(_pack(chemistry, start_degc, air_degc, mohm, weighed_kg), mean_a, peak, minutes)
    spans = (flown.end_degc, flown.mean_heat_w, flown.peak_heat_w, flown.sag_cell_v, flown.start_cell_v, flown.end_cell_v)
    assert all(map(_is_in_order, spans))


@given(st.sampled_from(CHEMISTRY_KEYS), _DEGC, _DEGC, st.floats(1, 30), st.sampled_from((50.0, 60.0)), st.floats(0.05, 1))
@example("lipo", -15, 48, 10, 50.0, 0.5)
def test_no_rate_below_the_one_that_it_stands_lands_hotter(chemistry, start_degc, air_degc, mohm, limit_degc, share) -> None:
    pack = _pack(chemistry, start_degc, air_degc, mohm)
    stands = highest_rate_c(pack, limit_degc=limit_degc, left_share=0.2)
    assert _is_in_order(stands)
    slower_a = stands.least * share * pack.effective_ah
    flown = _flown(pack, slower_a, 1, 0.8 * pack.effective_ah * 60 / slower_a)
    # The rate is looked for in steps twice as long.
    assert flown.end_degc.most <= limit_degc + 2 * _SHARE_OF_RISE * abs(limit_degc - start_degc)
