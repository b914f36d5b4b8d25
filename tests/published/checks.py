"""What calc says for a row of a published file, under the names that the file uses."""

from __future__ import annotations

import re
from typing import Any

from calc import answering
from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE
from calc.facts.copper import GOOD_DROP_PERCENT
from calc.facts.lead_acid import CUTOFF_V, LEAD_ACID, NOMINAL_V
from calc.facts.student_t import T_UPPER_95
from calc.figures.counted import CountedPack
from calc.figures.gauges import area_mm2_of_gauge, diameter_mm_of_gauge, gauge_of_area_mm2
from calc.figures.quantities import RATE, Figure
from calc.figures.units import degc_from_degf, degf_from_degc, fraction_from_percent
from calc.inputs.equipment import PackEntries
from calc.inputs.refusals import Refusal
from calc.inputs.supply import SupplyEntries
from calc.physics.cell import ageing as physics_of_ageing
from calc.physics.cell.cells import Cell
from calc.physics.pack import flight_times
from calc.physics.pack.emptying import emptying
from calc.physics.pack.flight import flight
from calc.physics.pack.flight_packs import flight_pack
from calc.physics.pack.flight_times import prediction_margin
from calc.physics.pack.joining import Branch, currents_into_a, joint_v
from calc.physics.pack.loads import lamp_current_a, preferred_ohm, rating_w, resistance_of_two_loads_mohm, resistor_temperature_degc
from calc.physics.pack.pack_heat import Body, warming
from calc.physics.pack.packs import current_at_rate_a
from calc.physics.supply.battery_runtime import cold_share, refill_h
from calc.physics.supply.fuses import fuse_for, largest_fuse_for_wire
from calc.physics.supply.lead_acid import battery_state_percent, capacity_at_current_ah
from calc.physics.supply.lead_losses import losses_at
from calc.physics.supply.lead_sizing import thinnest_area_mm2
from calc.physics.supply.leads import (
    allowed_current_a,
    largest_drop_v,
    lead_resistance_ohm,
    lead_span_ohm,
    solid_wire_ohm_per_m,
    warm_resistance_ohm,
)
from calc.presenting.chosen_units import InUnits
from calc.rules.charge.charge_outlook import outlook_of
from calc.rules.charge.load_choice import resistor_for
from calc.rules.pack.cell_condition import findings_of_resistances
from calc.rules.pack.condition import findings_of_wear
from calc.rules.pack.readings import clear_reading
from calc.rules.supply.supply_demand import demand_of
from tests.units.calc.joined_charge import joined
from tests.units.calc.sound_charge import ENTRIES, given, settings

_M_PER_FT = 0.3048
_GAUGES = (18, 16, 14, 12, 10, 8, 6)


def cell_limits(chemistry: str, cells: int) -> dict[str, float]:
    """The voltages of a pack of so many cells."""
    limits = CHEMISTRIES[chemistry]
    return {
        "upper_limit_v": cells * limits.upper_limit_cell_v.value,
        "full_v": cells * limits.full_cell_v.value,
        "nominal_v": cells * limits.nominal_cell_v.value,
        "storage_high_v": cells * limits.storage_high_cell_v.value,
        "maker_cutoff_v": cells * limits.maker_cutoff_cell_v.value,
        "never_below_v": cells * limits.never_below_cell_v.value,
    }


def nickel_cell() -> dict[str, float]:
    """The voltages of a nickel-metal hydride cell."""
    nickel = NICKEL_METAL_HYDRIDE
    return {
        "nominal_v": nickel.nominal_cell_v.value,
        "on_charge_low_v": nickel.on_charge_low_cell_v.value,
        "on_charge_high_v": nickel.on_charge_high_cell_v.value,
        "cutoff_v": nickel.cutoff_cell_v.value,
    }


def charge_by_temperature(pack_degc: float, air_degc: float) -> dict[str, Any]:
    """The share of 1C that a pack of 5000 mAh is charged with, 0 if it is refused, and where the refusal leads."""
    entries = ENTRIES | {"capacity_mah": "5000", "pack_degc": str(pack_degc), "air_degc": str(air_degc)}
    answer = answering.answer("charge_settings", entries)
    if isinstance(answer, Refusal):
        (problem,) = answer.problems
        return {"share_of_1c": 0, "says": problem.sentence.split(":")[0], "leads_to": problem.go_to}
    return {"share_of_1c": answer.charge_current.figure.value / 5.0}


def degrees(degc: float | None = None, degf: float | None = None) -> dict[str, float]:
    """The same temperature on the other scale."""
    return {"degf": degf_from_degc(degc)} if degf is None else {"degc": degc_from_degf(degf)}


def pack_energy(chemistry: str, cells: int, capacity_mah: int) -> dict[str, float]:
    """The watt-hours of a pack by the nominal voltage of its chemistry."""
    resting_v = cells * CHEMISTRIES[chemistry].nominal_cell_v.value
    answer = settings(chemistry=chemistry, cells=str(cells), capacity_mah=str(capacity_mah), resting_v=f"{resting_v:.2f}")
    return {"watt_hours": answer.pack_energy.figure.value}


def solid_wire(gauge: int) -> dict[str, float]:
    """A solid copper wire at 20 °C."""
    area_mm2 = area_mm2_of_gauge(gauge)
    return {
        "diameter_mm": diameter_mm_of_gauge(gauge),
        "area_mm2": area_mm2,
        "ohm_per_km": solid_wire_ohm_per_m(area_mm2) * 1000,
        "ohm_per_1000_ft": solid_wire_ohm_per_m(area_mm2) * 1000 * _M_PER_FT,
    }


def solid_drop(gauge: int, length_m: float, current_a: float) -> dict[str, float]:
    """What solid copper loses there and back, and how much of 12 V that is."""
    drop_v = 2 * length_m * solid_wire_ohm_per_m(area_mm2_of_gauge(gauge)) * current_a
    return {"drop_v": drop_v, "percent_of_12_v": drop_v / 12 * 100}


def flexible_wire(area_mm2: float, class_5_ohm_per_km: float) -> dict[str, float]:
    """By how much a lead of ours falls short of the standard's resistance (never), and by how much it lies above."""
    ours = lead_resistance_ohm(length_m=500, area_mm2=area_mm2)
    return {"short_by_ohm_per_km": max(0.0, class_5_ohm_per_km - ours), "above_percent": (ours / class_5_ohm_per_km - 1) * 100}


def plain_wire(area_mm2: float, class_1_ohm_per_km: float) -> dict[str, float]:
    """By how much the least resistance of a lead of ours lies over the standard's solid wire (never), and by how much below."""
    ours = lead_span_ohm(length_m=500, area_mm2=area_mm2).least
    return {"over_ohm_per_km": max(0.0, ours - class_1_ohm_per_km), "below_percent": (1 - ours / class_1_ohm_per_km) * 100}


def allowed_current(gauge: int) -> dict[str, float]:
    """The current that a lead of this gauge may carry."""
    return {"allowed_a": allowed_current_a(area_mm2_of_gauge(gauge))}


def thinnest_gauge(current_a: float, loop_ft: float, circuit: str) -> dict[str, int]:
    """The thinnest gauge that loses no more of 12 V than this circuit may."""
    most_v = largest_drop_v(12) if circuit == "other" else 12 * fraction_from_percent(GOOD_DROP_PERCENT.value)
    by_area = {area_mm2_of_gauge(gauge): gauge for gauge in _GAUGES}
    area_mm2 = thinnest_area_mm2(list(by_area), length_m=loop_ft * _M_PER_FT / 2, current_a=current_a, most_drop_v=most_v, connector_ohm=0)
    return {"gauge": by_area[area_mm2]}


def _misses_by(value: float, least: float, most: float) -> float:
    """How far a value lies outside two ends; 0 between them."""
    return max(0.0, least - value, value - most)


def lead_drop(gauge: int, wire_ft: float, current_a: float, printed_v: float) -> dict[str, float]:
    """By how much a printed drop lies outside our range; the length is that of all the wire there is."""
    supply = SupplyEntries(
        supply_kind="mains", supply_v=28, supply_current_a=50, lead_length_m=wire_ft * _M_PER_FT / 2, lead_area_mm2=area_mm2_of_gauge(gauge)
    )
    drop_v = losses_at(supply, current_a).drop_v
    return {"outside_by_v": _misses_by(printed_v, drop_v.least, drop_v.most)}


def hot_length(cool_ft: float, hot_degc: float) -> dict[str, float]:
    """The length that loses as much once the wire is hot."""
    return {"hot_ft": cool_ft / warm_resistance_ohm(1.0, hot_degc)}


def blade_fuse(load_a: float, wire_a: float) -> dict[str, Any]:
    """The fuse for a load and a wire."""
    fuse = fuse_for(load_a, wire_a)
    return {"rating_a": fuse.rating_a.value, "colour": fuse.colour} if fuse else {"rating_a": 0, "colour": "none"}


def fuse_by_law(gauge: int, law_most_a: float) -> dict[str, float]:
    """By how much our largest fuse for a wire lies above what the law allows."""
    return {"above_by_a": max(0.0, largest_fuse_for_wire(allowed_current_a(area_mm2_of_gauge(gauge))).rating_a.value - law_most_a)}


def cold_battery(degf: float) -> dict[str, float]:
    """The share of its capacity that a cold battery gives."""
    return {"capacity_percent": cold_share(degc_from_degf(degf)) * 100}


def refill(from_percent: float, to_percent: float, charger_share: float, printed_h: float) -> dict[str, float]:
    """By how much a printed charging time lies outside our range for 100 Ah; the charger gives a share of the capacity."""
    charger_a = 100 * charger_share
    shortest_h, longest_h = (
        before - after for before, after in zip(refill_h(100, from_percent, charger_a), refill_h(100, to_percent, charger_a), strict=True)
    )
    return {"outside_by_h": _misses_by(printed_h, shortest_h, longest_h)}


def battery_state(kind: str, resting_v: float) -> dict[str, float]:
    """How full a rested 12 V battery is."""
    return {"charged_percent": battery_state_percent(LEAD_ACID[kind], resting_v)}


def battery_voltages() -> dict[str, float]:
    """What a 12 V battery is called, and where its discharge ends."""
    return {"nominal_v": NOMINAL_V.value, "cutoff_v": CUTOFF_V.value}


def peukert(battery_ah: float, exponent: float, current_a: float) -> dict[str, float]:
    """How long a full battery lasts, and what it gives."""
    given_ah = capacity_at_current_ah(battery_ah, current_a, exponent)
    return {"hours": given_ah / current_a, "minutes": given_ah / current_a * 60, "ampere_hours": given_ah}


def supply_current(cells: int, current_a: float, efficiency_percent: int, supply_v: float) -> dict[str, float]:
    """What a charge draws at its peak from a stiff supply on next to no lead."""
    charge = given(
        cells=str(cells), resting_v=str(3.8 * cells), efficiency_percent=str(efficiency_percent), supply_v=str(supply_v),
        lead_length_m="0.05", lead_area_mm2="70 mm²",
    )  # fmt: skip
    lipo = CHEMISTRIES["lipo"]
    outlook = outlook_of(
        pack=charge, balance_current_a=charge.balance_current_a, chemistry=lipo, reading=clear_reading(charge, lipo), current_a=current_a
    )
    peak_a = demand_of(pack=charge, charger=charge, supply=charge, chemistry=lipo, current_a=current_a, outlook=outlook).peak_current_a
    return {"source_a": peak_a, "source_w": peak_a * supply_v}


def full_charge(least_min: int, most_min: int) -> dict[str, float]:
    """By how many minutes our range for a pack at its careful cutoff, charged at 1C and balanced, misses the trade's.

    Below that cutoff no pack is charged at 1C.
    """
    answer = settings(capacity_mah="2200", resting_v="3.2 3.2 3.2", balance_current_a="0.3")
    ours_least = answer.charge_time.least.value + answer.balancing_time.least.value
    ours_most = answer.charge_time.most.value + answer.balancing_time.most.value
    return {"short_by_min": max(0, least_min - ours_most), "over_by_min": max(0, ours_least - most_min)}


def _travelling(**row: object) -> Any:
    entries = {"chemistry": "lipo", "alike_packs": 1, "condition": "sound"} | row
    return answering.answer("transport", {f"packs_1_{name}": str(value) for name, value in entries.items()})


def cabin(cells: int, capacity_mah: int, packs: int, condition: str = "sound") -> dict[str, float]:
    """How many packs of one kind a passenger may take: without asking, with approval, and how many stay."""
    answer = _travelling(cells=cells, capacity_mah=capacity_mah, alike_packs=packs, condition=condition)
    may_ask, stay = answer.by_approval, answer.left
    return {
        "free": answer.free.figure.value,
        "by_approval": may_ask.figure.value if may_ask else 0,
        "left": stay.figure.value if stay else 0,
    }


def road(cells: int, capacity_mah: int) -> dict[str, str]:
    """How a sound pack is sent by road."""
    return {"sent": _travelling(cells=cells, capacity_mah=capacity_mah).road_freight.figure}


def freight_charge(printed_cell_v: float) -> dict[str, float]:
    """By how much a printed resting voltage at 30 % lies outside what is shown for a pack."""
    between = _travelling(cells=1, capacity_mah=1000).charge.rows[0].cells[1]
    # The ends are shown to a hundredth of a volt.
    return {"outside_by_v": _misses_by(printed_cell_v, float(between.least.number) - 0.005, float(between.most.number) + 0.005)}


def end_of_life_by_capacity(capacity_mah: float, measured_capacity_mah: float) -> dict[str, bool]:
    """Whether the capacity alone ends a pack's life."""
    ends = findings_of_wear(given(capacity_mah=str(capacity_mah), measured_capacity_mah=str(measured_capacity_mah)))
    return {"ended": bool(ends)}


def resistance_above_the_others(resistances_mohm: list[float]) -> dict[str, int]:
    """The one cell that stands out by its resistance, and by how much, as the sentence says it."""
    [finding] = findings_of_resistances(tuple(resistances_mohm))
    cell, above = re.search(r"^Cell (\d+) .* (\d+)\s% more", finding.found).groups()
    return {"worst_cell": int(cell), "above_percent": int(above)}


def two_loads(first_v: float, first_a: float, second_v: float, second_a: float) -> dict[str, float]:
    """The resistance inside by two loads."""
    return {"resistance_mohm": resistance_of_two_loads_mohm(first_v=first_v, first_a=first_a, second_v=second_v, second_a=second_a)}


def next_resistor(asked_ohm: float) -> dict[str, float]:
    """The next resistor that is made."""
    return {"made_ohm": preferred_ohm(asked_ohm)}


def resistor_load(volts: float, ohm: float) -> dict[str, float]:
    """What a resistor draws, and what it turns into heat."""
    load = resistor_for(full_pack_v=volts, capacity_ah=100.0, rate_c=1.0, own_ohm=ohm)
    return {"current_a": load.draws(volts), "power_w": load.power_w(volts)}


def resistor_heat(air_degc: float, power_w: float, rated_w: float) -> dict[str, float]:
    """How hot a resistor gets, and the rating that we ask for at that power."""
    span = resistor_temperature_degc(air_degc, power_w, rated_w)
    return {"least_degc": span.least, "most_degc": span.most, "needed_w": rating_w(power_w)}


def lamp_at_share(share: float) -> dict[str, float]:
    """What a lamp draws at a share of its voltage, over what it draws at its own."""
    current_a = lamp_current_a(12.0 * share, lamps=1, lamp_v=12.0, lamp_w=12.0)
    return {"current_share": current_a, "power_share": current_a * share}


def capacitor_through_resistor(capacity_ah: float, high_v: float, low_v: float, ohm: float) -> dict[str, float]:
    """How long a cell with a straight resting curve takes through a resistor."""
    curve = tuple(low_v + (high_v - low_v) * place / 40 for place in range(41))
    cell = Cell(curve=curve, capacity_ah=capacity_ah, resistance_ohm_ah=0.0)
    done = emptying(cell, start_states=(1.0,), floor_cell_v=low_v, current_of=lambda v: v / ohm)
    return {"minutes": done.time_min, "energy_wh": done.energy_wh}


def side_by_side(sources_v: list[float], resistances_ohm: list[float]) -> dict[str, Any]:
    """Where sources behind resistances meet, and what flows into each."""
    branches = [Branch(volts, ohm) for volts, ohm in zip(sources_v, resistances_ohm, strict=True)]
    return {"joint_v": joint_v(branches), "into_a": [round(current_a, 9) for current_a in currents_into_a(branches)]}


def apart_in_series(capacity_mah: int, lower_cell_v: float, higher_cell_v: float) -> dict[str, float]:
    """The charge by which two packs of four cells are most likely apart."""
    packs = [{"capacity_mah": str(capacity_mah), "resting_v": f"{4 * cell_v:.2f}"} for cell_v in (lower_cell_v, higher_cell_v)]
    return {"apart_mah": joined("packs_in_series", *packs).to_burn_off.likely.value}


def ageing_compared(cell_v: float, degc: float, with_cell_v: float, with_degc: float) -> dict[str, float]:
    """How many times as fast a stored cell ages as at another voltage and temperature."""
    return {"times": physics_of_ageing.ageing_compared(cell_v, degc, with_cell_v=with_cell_v, with_degc=with_degc)}


def calendar_loss(cell_v: float, degc: float, days: float) -> dict[str, float]:
    """What the cell of a study loses in storage."""
    return {"percent": 100 * physics_of_ageing.calendar_loss(cell_v, degc, days)}


def cycle_loss(charges: float, depth: float) -> dict[str, float]:
    """What the cell of a study loses by being charged and emptied."""
    return {"percent": 100 * physics_of_ageing.cycle_loss(charges, depth)}


def student_t(degrees: int) -> dict[str, float]:
    """The upper critical value of Student's t, one-sided at 95 %."""
    return {"t": dict(T_UPPER_95)[degrees].value}


def next_one(mean: float, spread: float, count: int, t: float) -> dict[str, float]:
    """Between which ends the next one of a few may lie."""
    margin = prediction_margin(spread, count, t)
    return {"least": mean - margin, "most": mean + margin}


def share_in_the_cold(degc: float) -> dict[str, int]:
    """The share of its capacity that a pack is trusted to give, %."""
    return {"percent": round(flight_times.share_in_the_cold(degc) * 100)}


def lumped_heat(heat_w: float, heat_capacity_j_per_k: float, cooling_w_per_k: float, time_min: float) -> dict[str, float]:
    """By how much a lump that starts as warm as the air is warmer than it afterwards."""
    body = Body(heat_capacity_j_per_k=heat_capacity_j_per_k, cooling_w_per_k=cooling_w_per_k)
    course = warming((body,), start_degc=20, air_degc=20, time_min=time_min, heat_w=lambda _: heat_w)
    return {"rise_k": course[-1] - 20}


def heat_of_flight(cells: int, cell_resistance_mohm: float, current_a: float) -> dict[str, float]:
    """The heat in a pack at 25 °C whose resistance is as the meter shows it."""
    pack = flight_pack(
        "lipo", cells=cells, capacity_mah=5000, effective_capacity_mah=5000, cell_resistance_mohm=cell_resistance_mohm,
        label_discharge_rate_c=None, mass_kg=0.7, start_degc=25, air_degc=25,
    )  # fmt: skip
    return {"heat_w": flight(pack, highest_current_a=current_a, mean_current_a=current_a, time_min=1).peak_heat_w.least}


def gauge_of_area(area_mm2: float) -> dict[str, float]:
    """The gauge number of a cross-section."""
    return {"gauge": gauge_of_area_mm2(area_mm2)}


def rate_and_current(capacity_mah: float, rate_c: float) -> dict[str, float]:
    """A rate of this pack as a current: worked out, as it is shown for a ceiling, and typed again in amperes."""
    pack = {name: text for name, text in ENTRIES.items() if name != "label_charge_rate_c"} | {"capacity_mah": str(capacity_mah)}
    current_a = current_at_rate_a(capacity_mah, rate_c)
    shown = InUnits({"current": "a"}, CountedPack(capacity_ah=capacity_mah / 1000)).shown(Figure(rate_c, RATE, "down"))
    typed = answering.read(PackEntries, pack | {"label_charge_rate_c": f"{current_a:.4f} A"})
    return {"current_a": current_a, "shown_in_a": float(shown.number), "typed_back_c": typed.label_charge_rate_c}
