"""How warm a pack gets on charge: held against a balance of energy that can be followed by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.spans import Span
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.physics.pack.flight import flight
from calc.physics.pack.flight_packs import flight_pack
from calc.rules.charge.charge_heat import hottest_on_charge_degc, likely_never_above_degc, minutes_at_full_current, never_above_degc
from calc.rules.charge.charge_outlook import outlook_of
from calc.rules.pack.readings import clear_reading

_CHARGER = ChargerEntries(
    charger_current_a=30, charger_power_w=900, charger_cells=6, balance_ports=1, port_cells=6, current_step_a=0.1,
    capacity_step_mah=100, charger_input_least_v=11, efficiency_percent=85,
)  # fmt: skip
# Three cells of 2 Ah and 10 mΩ: 22.2 Wh on the label.
_PACK = PackEntries(
    chemistry="lipo", cells=3, capacity_mah=2000, resting_v=(10.5,), pack_degc=25, label_charge_rate_c=10, cell_resistance_mohm=10
)


def _minutes(pack: PackEntries, current_a: float) -> Span:
    lipo = CHEMISTRIES["lipo"]
    return minutes_at_full_current(
        outlook_of(
            pack=pack, balance_current_a=_CHARGER.balance_current_a, chemistry=lipo, reading=clear_reading(pack, lipo), current_a=current_a
        )
    )


def _hottest(current_a: float, **changes: float) -> Span:
    pack = replace(_PACK, **changes)
    return hottest_on_charge_degc(pack, minutes=_minutes(pack, current_a), current_a=current_a)


def test_no_pack_gets_warmer_than_all_of_the_heat_would_make_it() -> None:
    # A reading counts up to four times, but the cooling takes more than that: at 2 A for an hour, 3 cells of 35 mΩ make
    # 3 x 4 x 0.035 = 0.42 Wh, 1512 J. A light pack, 180 Wh/kg, weighs 123 g, and at 830 J/(kg K) takes 102 J for each kelvin.
    assert 25 < _hottest(2.0).most < 25 + 1512 / 102


def test_the_likely_rise_is_that_of_heat_against_cooling() -> None:
    # 20 mΩ, twice the reading, at 6 A: 3 x 36 x 0.020 = 2.2 W at 25 °C. 159 g with 0.0135 m² at 10 W/(m² K) loses 0.135 W
    # for each kelvin and needs 165 J for it. In the 14 to 16 minutes at full current: 16 K x (1 - exp(-0.70)) = 8 K, a little
    # less since a warm cell resists less.
    assert 25 + 5 < _hottest(6.0).likely < 25 + 8.5


@pytest.mark.parametrize("changes", [{"air_degc": 35.0}, {"cell_resistance_mohm": 20.0}, {"pack_degc": 30.0}])
def test_warmer_air_more_resistance_or_a_warmer_start_never_ends_cooler(changes: dict[str, float]) -> None:
    plain, more = _hottest(6.0, air_degc=25.0), _hottest(6.0, **({"air_degc": 25.0} | changes))
    assert more.likely >= plain.likely and more.most >= plain.most


def test_a_full_pack_has_no_time_at_full_current_and_stays_as_it_is() -> None:
    assert _hottest(2.0, resting_v=(12.6,)).least == 25


def test_the_start_counts_where_the_air_cools_the_pack() -> None:
    assert _hottest(0.2, pack_degc=44.0, air_degc=10.0).likely == 44.0


@pytest.mark.parametrize("current_a", [0.5, 2.0, 6.0, 12.0])
@pytest.mark.parametrize("air_degc", [5.0, 25.0, 40.0])
def test_no_course_passes_what_all_of_its_heat_could_do(current_a: float, air_degc: float) -> None:
    pack = replace(_PACK, air_degc=air_degc)
    # A little over, for a pack that cold air cools: its resistance rises.
    assert (
        _hottest(current_a, air_degc=air_degc).most
        <= never_above_degc(pack, longest_min=_minutes(pack, current_a).most, current_a=current_a) + 0.1
    )


@pytest.mark.parametrize("current_a", [0.5, 2.0, 6.0, 12.0])
@pytest.mark.parametrize("warmth", [(25, None), (5, 30), (40, 10), (30, 40), (12, 5)])
def test_the_quick_bound_of_the_likely_course_is_never_below_it(current_a: float, warmth: tuple[float, float | None]) -> None:
    pack = replace(_PACK, pack_degc=warmth[0], air_degc=warmth[1])
    minutes = _minutes(pack, current_a)
    likely_degc = hottest_on_charge_degc(pack, minutes=minutes, current_a=current_a).likely
    assert likely_degc <= likely_never_above_degc(pack, longest_min=minutes.most, current_a=current_a) + 1e-9


def test_the_quick_bound_is_all_of_the_likely_heat_in_the_likely_mass() -> None:
    # 20 mΩ, twice the reading, at 6 A: 3 x 36 x 0.020 = 2.16 W, for ten minutes 1296 J. 22.2 Wh at 140 Wh/kg are 159 g, 165 J for each kelvin.
    assert likely_never_above_degc(_PACK, longest_min=10, current_a=6.0) == pytest.approx(25 + 1296 / 165, rel=0.02)


def test_a_label_that_promises_less_stands_for_a_warmer_charge() -> None:
    poor, good = (
        likely_never_above_degc(replace(_PACK, cell_resistance_mohm=None, label_discharge_rate_c=rate_c), longest_min=20, current_a=6.0)
        for rate_c in (5.0, 40.0)
    )
    assert poor > good > 25


def test_no_minutes_at_full_current_leave_a_pack_as_warm_as_it_is() -> None:
    assert hottest_on_charge_degc(_PACK, minutes=Span(0.0, 0.0, 0.0), current_a=6.0) == Span(25, 25, 25)
    assert hottest_on_charge_degc(_PACK, minutes=Span(0.5, 0.5, 0.5), current_a=6.0).least > 25


def test_each_course_is_as_hot_as_a_flight_at_that_current_by_its_own_time() -> None:
    as_flown = flight_pack(
        "lipo", cells=3, capacity_mah=2000, effective_capacity_mah=2000, cell_resistance_mohm=10, label_discharge_rate_c=None, mass_kg=None,
        start_degc=25, air_degc=25,
    )  # fmt: skip
    courses = flight(as_flown, highest_current_a=6.0, mean_current_a=6.0, time_min=20.0).courses_degc
    whole = hottest_on_charge_degc(_PACK, minutes=Span(20.0, 20.0, 20.0), current_a=6.0)
    assert (whole.least, whole.likely, whole.most) == tuple(course[-1] for course in courses)
    # Half of its time ends with one of its steps, where the likely course is cooler than a step later.
    half = hottest_on_charge_degc(_PACK, minutes=Span(0.0, 10.0, 20.0), current_a=6.0)
    steps = len(courses[1]) - 1
    assert (steps % 2, half.least, half.likely, half.most) == (0, 25, courses[1][steps // 2], whole.most)
