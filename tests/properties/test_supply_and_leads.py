"""A supply and its lead, whatever they are: a better lead is never worse, and nothing asks more than it may give."""

from __future__ import annotations

import re
from typing import Any

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer, calculator
from calc.figures.quantities import Figure
from calc.inputs.fields import entries_of
from calc.inputs.refusals import Refusal
from tests.properties.own_ceilings import area_mm2_of, lead_allows_a, lead_ohm, source_ohm, source_v, supply_side_ceilings_a
from tests.properties.test_charge_current import BOOT_BATTERY, CLUB_CHARGE
from tests.properties.typed_entries import KEYS, Entries, charges, numbers

BOOT = CLUB_CHARGE | BOOT_BATTERY
# Binary fractions, and ceilings that count as met within a billionth of a step.
TOLERANCE = 1e-6


def shown(entries: Entries) -> Any:
    found = answer("supply_and_leads", entries)
    assume(not isinstance(found, Refusal))
    return found


def counted_a(found: Any) -> float:
    """The current that the losses are counted at: watts over volts lost."""
    return found.lost_power.likely.value / found.drop.likely.value


def fuse_a(found: Any) -> float:
    return float(found.fuse.figure.split("\N{NO-BREAK SPACE}")[0])


def areas(found: Any, column: int) -> list[float]:
    """The cross-sections down a column of the table; a length that no lead bridges counts as needing an endless one."""
    cells = [row.cells[column] for row in found.leads.rows]
    return [float(match.group()) if (match := re.match(r"[\d.]+", cell)) else float("inf") for cell in cells]


@given(charges())
@example(BOOT)
@example(BOOT | {"charger_power_w": "3000", "lead_fuse_a": "10"})
@example(BOOT | {"supply_kind": "vehicle", "charger_power_w": "500", "connector_mohm": "150"})
def test_the_current_counted_is_never_above_any_limit_of_supply_and_lead(entries: Entries) -> None:
    current_a = counted_a(shown(entries))
    assert {because: most for because, most in supply_side_ceilings_a(entries).items() if current_a > most * (1 + TOLERANCE)} == {}


@given(charges())
@example(BOOT | {"charger_power_w": "3000"})
def test_the_power_to_set_is_never_above_the_charger_s_own(entries: Entries) -> None:
    figure = shown(entries).power_to_set.figure
    assert not isinstance(figure, Figure) or figure.value <= float(entries["charger_power_w"])


@given(charges(), st.floats(1, 10))
@example(BOOT, 2.0)
@example(BOOT | {"charger_power_w": "50", "lead_length_m": "10"}, 4.0)
def test_a_thicker_lead_never_drops_more_at_one_current(entries: Entries, factor: float) -> None:
    area_mm2 = min(70.0, area_mm2_of(entries) * factor)
    thin, thick = shown(entries), shown(entries | {"lead_area_mm2": f"{area_mm2:.4f}"})
    # Ohms are compared: a thicker lead may let more current flow, which is what it is for.
    assert thick.drop.likely.value / counted_a(thick) <= thin.drop.likely.value / counted_a(thin) * (1 + TOLERANCE)


@given(charges(), st.floats(1, 10))
@example(BOOT, 2.0)
@example(BOOT | {"lead_length_m": "10"}, 4.0)
def test_a_thicker_lead_never_lowers_the_power_to_set(entries: Entries, factor: float) -> None:
    def power_w(area: str) -> float:
        figure = shown(entries | {"lead_area_mm2": area}).power_to_set.figure
        return figure.value if isinstance(figure, Figure) else 0.0

    area_mm2 = min(70.0, area_mm2_of(entries) * factor)
    assert power_w(f"{area_mm2:.4f}") >= power_w(entries["lead_area_mm2"])


@given(charges())
@example(BOOT)
@example(BOOT | {"connector_mohm": "40"})
def test_a_longer_lead_never_gets_a_smaller_cross_section(entries: Entries) -> None:
    found = shown(entries)
    for column in (0, 1):
        assert areas(found, column) == sorted(areas(found, column))


@given(charges())
@example(BOOT)
def test_a_smaller_loss_never_gets_a_smaller_cross_section(entries: Entries) -> None:
    found = shown(entries)
    assert all(good >= any_lead for good, any_lead in zip(areas(found, 0), areas(found, 1), strict=True))


@given(charges())
@example(BOOT)
@example(BOOT | {"charger_power_w": "3000"})
@example(BOOT | {"lead_area_mm2": "0.5"})
def test_the_fuse_is_never_above_what_the_lead_may_carry(entries: Entries) -> None:
    assert fuse_a(shown(entries)) <= lead_allows_a(entries)


@given(charges())
@example(BOOT | {"charger_power_w": "170"})
@example(BOOT | {"charger_power_w": "3000", "lead_fuse_a": "30"})
def test_the_fuse_carries_what_is_counted_hour_after_hour(entries: Entries) -> None:
    found = shown(entries)
    assert counted_a(found) <= fuse_a(found) / 1.25 * (1 + TOLERANCE)


@given(charges(), st.floats(0.3, 1))
@example(BOOT, 0.5)
@example(BOOT | {"supply_kind": "vehicle"}, 0.5)
def test_a_smaller_battery_never_gives_more(entries: Entries, factor: float) -> None:
    assume("battery_ah" in entries and float(entries["battery_ah"]) * factor >= 1)
    small = shown(entries | {"battery_ah": f"{float(entries['battery_ah']) * factor:.4f}"})
    # A smaller battery may be asked for less; compared is what it gives at no more than half of its capacity in an hour.
    assume(abs(counted_a(small) - counted_a(shown(entries))) < 1e-9)
    assert small.usable.figure.value <= shown(entries).usable.figure.value


@given(charges())
@example(BOOT | {"battery_resting_v": "12.6"})
def test_a_vehicle_never_gives_more_than_a_battery_of_its_own(entries: Entries) -> None:
    assume(entries["supply_kind"] != "mains")
    vehicle, battery = (shown(entries | {"supply_kind": kind}) for kind in ("vehicle", "battery"))
    assert vehicle.usable.figure.value <= battery.usable.figure.value
    assert vehicle.packs.most.value <= battery.packs.most.value


@given(charges())
@example(BOOT)
@example(CLUB_CHARGE | {"connector_mohm": "40", "lead_length_m": "4"})
def test_what_the_lead_loses_is_current_times_the_resistance_of_copper_there_and_back(entries: Entries) -> None:
    found = shown(entries)
    # 2 x length x resistivity x strands / area, at 20 °C (IEC 60028, IEC 60228 class 5), and the connectors.
    assert abs(found.drop.likely.value - counted_a(found) * lead_ohm(entries)) <= TOLERANCE * found.drop.likely.value


@given(charges())
@example(BOOT)
@example(CLUB_CHARGE | {"charger_power_w": "3000"})
def test_the_power_to_set_is_what_arrives_at_the_current_that_is_counted(entries: Entries) -> None:
    found = shown(entries)
    figure = found.power_to_set.figure
    assume(isinstance(figure, Figure) and figure.value < float(entries["charger_power_w"]))
    supply_side = min(supply_side_ceilings_a(entries).values())
    arrives_w = (source_v(entries) - supply_side * source_ohm(entries)) * supply_side * float(entries["efficiency_percent"]) / 100
    # Past half of the voltage lost the power falls again: no more is ever set than passes at the peak.
    peak_w = source_v(entries) ** 2 / (4 * source_ohm(entries)) * float(entries["efficiency_percent"]) / 100
    assert figure.value <= (peak_w if supply_side > source_v(entries) / (2 * source_ohm(entries)) else arrives_w) * (1 + TOLERANCE)


# The pages that feed a charger, whatever else they ask.
FED = tuple(key for key in KEYS if "supply_kind" in entries_of(calculator(key).Inputs))


@given(st.sampled_from(FED), charges(), st.floats(0.2, 50))
@example("supply_and_leads", CLUB_CHARGE, 6.0)
@example("going_home", CLUB_CHARGE, 6.0)
def test_no_page_answers_for_a_supply_above_the_charger_s_highest_input(key: str, entries: Entries, above_v: float) -> None:
    most_v = round(max(10.0, float(entries["charger_input_least_v"]) + 0.1), 1)
    supply_v = round(most_v + above_v, 1)
    assume(supply_v <= 60)
    too_high = {"supply_kind": "mains", "supply_v": str(supply_v), "supply_current_a": "20", "charger_input_most_v": str(most_v)}
    assert isinstance(answer(key, entries | too_high), Refusal)


@given(st.sampled_from(FED), charges(), st.sampled_from(("flooded", "agm")), numbers(13.0, 16.0))
@example("supply_day", BOOT, "agm", "13.0")
def test_no_page_answers_for_a_battery_that_still_has_its_charge_on_the_plates(key: str, entries: Entries, kind: str, volts: str) -> None:
    unrested = {"supply_kind": "battery", "battery_kind": kind, "battery_ah": "70", "battery_resting_v": volts}
    assert isinstance(answer(key, entries | unrested), Refusal)


@given(st.sampled_from(FED), charges(), st.sampled_from(("2", "4", "6", "8", "10", "12", "14", "16", "18", "20")))
@example("charge_settings", CLUB_CHARGE, "14")
def test_no_page_takes_a_bare_gauge_for_a_cross_section(key: str, entries: Entries, bare: str) -> None:
    found = answer(key, entries | {"lead_area_mm2": bare})
    assert isinstance(found, Refusal)
    assert any(f"Enter {bare} AWG, or {bare} mm²" in str(problem.sentence) for problem in found.problems)
