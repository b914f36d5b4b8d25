"""A supply lead in words: what it loses, the fuse that protects it, and which lead would do for which length."""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.copper import (
    ALLOWED_IN_AIR_DEGC,
    GOOD_DROP_PERCENT,
    HOT_LEAD_DEGC,
    LARGEST_DROP_PERCENT,
    STANDARD_AREAS_MM2,
    STANDARD_GAUGES,
    TABLE_DEGC,
)
from calc.facts.fuses import FUSE_FROM_SOURCE_M, FUSE_OVER_LOAD, BladeFuse
from calc.figures.gauges import area_mm2_of_gauge
from calc.figures.quantities import AMPERES, DEGREES_CELSIUS, METRES, PERCENT, SQUARE_MILLIMETRES, SUPPLY_VOLTS, WATTS, Figure
from calc.figures.rounding import down_to_step
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Range, Row, Setting, Table
from calc.figures.units import fraction_from_percent, ohm_from_mohm, percent_from_fraction
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.fuses import fuse_carries_a, fuse_for
from calc.physics.supply.lead_losses import Losses
from calc.physics.supply.lead_sizing import thinnest_area_mm2
from calc.physics.supply.leads import allowed_current_a
from calc.physics.supply.source import source_v
from calc.presenting.ranges import range_of

_LENGTHS_M = (0.5, 1.0, 1.5, 2.0, 3.0, 5.0, 8.0)
_LAW = "33 CFR 183.425 table 5, lowest column"


@dataclass(frozen=True, slots=True, kw_only=True)
class LossesShown:
    """What a lead loses, and what is left of the supply's voltage at the charger."""

    drop: Range
    drop_share: Range
    lost_power: Range
    at_charger: Range
    to_spare: Setting


def losses_shown(losses: Losses, current_a: float, least_v: float) -> LossesShown:
    """Return what a lead loses at a current."""
    cool, hot = (Figure(degc.value, DEGREES_CELSIUS) for degc in (TABLE_DEGC, HOT_LEAD_DEGC))
    because = worded("a wire at {} or as hot as {}, and how it is made", cool, hot)
    fine = SUPPLY_VOLTS.to_step(0.01)
    spare_v = down_to_step(max(0.0, losses.at_charger_v.least - least_v), 0.1)
    return LossesShown(
        drop=range_of(losses.drop_v, fine, because, f"At {Figure(current_a, AMPERES)}, there and back, connectors included."),
        drop_share=range_of(
            losses.drop_percent,
            PERCENT.to_step(0.1),
            because,
            f"A good lead loses {Figure(GOOD_DROP_PERCENT.value, PERCENT)} at most, any lead {Figure(LARGEST_DROP_PERCENT.value, PERCENT)} (ABYC E-11).",
        ),
        lost_power=range_of(losses.lost_w, WATTS.to_step(0.1), because, "A coiled lead cannot shed it: lay the lead out straight."),
        at_charger=range_of(losses.at_charger_v, fine, because),
        to_spare=Setting(
            figure=Figure(spare_v, SUPPLY_VOLTS) if spare_v else "nothing",
            set_by=f"the charger's lowest input, {Figure(least_v, SUPPLY_VOLTS)}, with the wire hot",
            note="A battery sinks further as it empties."
            if spare_v
            else "The charger may stop for low input: use a shorter or thicker lead.",
        ),
    )


def loss_cautions(losses: Losses, least_v: float) -> tuple[Caution, ...]:
    """Return the warning where the charger may see too low a voltage behind this lead."""
    if losses.at_charger_v.least >= least_v:
        return ()
    sentence = "Once the lead is warm the charger may see too low a voltage and stop: use a shorter or thicker lead, or less power."
    return (Caution(sentence=sentence),)


def lead_rating(supply: SupplyEntries) -> Setting:
    """Return the current that a supply lead may carry, by the column for 60 °C insulation."""
    return Setting(
        figure=Figure(allowed_current_a(supply.lead_area_mm2), AMPERES, "down"),
        set_by=worded(f"{{}} of copper ({_LAW})", Figure(supply.lead_area_mm2, SQUARE_MILLIMETRES, "down")),
        note=worded(
            "The lowest column, since the insulation of a lead at the field is seldom known. One wire in air, at {}.",
            Figure(ALLOWED_IN_AIR_DEGC.value, DEGREES_CELSIUS),
        ),
    )


def _named(fuse: BladeFuse) -> str:
    amperes = AMPERES.to_step(0.1) if fuse.rating_a.value % 1 else AMPERES.to_step(1)
    return f"{Figure(fuse.rating_a.value, amperes)}, {fuse.colour}"


def fuse_setting(supply: SupplyEntries, current_a: float) -> Setting:
    """Return the fuse for a supply lead: the one that is in it, or the smallest blade fuse that lasts.

    1.25 x I <= rating <= what the wire may carry        NEC 210.20(A), 33 CFR 183.455, ISO 8820-3
    """
    wire_a, fitted_a = allowed_current_a(supply.lead_area_mm2), supply.lead_fuse_a
    place = f"within {Figure(FUSE_FROM_SOURCE_M.value, METRES.to_step(0.001))} of the supply's positive terminal (33 CFR 183.455)."
    over_load_percent = Figure(percent_from_fraction(FUSE_OVER_LOAD.value), PERCENT)
    set_by = f"at least {over_load_percent} of {Figure(current_a, AMPERES)} (NEC 210.20(A)), and no more than the lead may carry"
    if fitted_a is not None and fitted_a <= wire_a and current_a <= fuse_carries_a(fitted_a):
        return Setting(figure=f"{Figure(fitted_a, AMPERES.to_step(fitted_a))}, as fitted", set_by=set_by, note=f"It must sit {place}")
    fuse = fuse_for(current_a, wire_a)
    if fuse is None:
        raise ValueError(f"no fuse lasts {current_a} A on a lead for {wire_a} A: see supply_limits")
    return Setting(figure=_named(fuse), set_by=set_by, note=f"Fit it {place}")


def leads_by_length(supply: SupplyEntries, current_a: float) -> Table:
    """Return the thinnest lead that will do for each length, by both bounds on the voltage lost; the supply's own length gets a line too."""
    bounds = (GOOD_DROP_PERCENT.value, LARGEST_DROP_PERCENT.value)
    lengths = sorted({*_LENGTHS_M, supply.lead_length_m})
    return Table(
        caption=f"The thinnest lead that will do for {Figure(current_a, AMPERES)} from {Figure(source_v(supply), SUPPLY_VOLTS)}",
        columns=("Length, one way", *(f"{Figure(bound, PERCENT)} lost at most" for bound in bounds)),
        rows=tuple(
            Row(
                heading=f"{_length(length_m)}{', as yours' if length_m == supply.lead_length_m else ''}",
                cells=tuple(_thinnest(supply, length_m, current_a, bound) for bound in bounds),
            )
            for length_m in lengths
        ),
        notes=(
            f"{Figure(GOOD_DROP_PERCENT.value, PERCENT)} is a good lead, {Figure(LARGEST_DROP_PERCENT.value, PERCENT)} the most that any may lose (ABYC E-11).",
            worded(
                f"Each may carry the current and has a fuse that protects it ({_LAW}; NEC 210.20(A)). Flexible copper at {{}}.",
                Figure(TABLE_DEGC.value, DEGREES_CELSIUS),
            ),
        ),
    )


def _length(length_m: float) -> str:
    return str(Figure(length_m, METRES.to_step(0.01) if round(length_m, 1) != length_m else METRES))


def _thinnest(supply: SupplyEntries, length_m: float, current_a: float, bound_percent: float) -> str:
    def of(sizes_mm2: list[float]) -> float | None:
        return thinnest_area_mm2(
            sizes_mm2,
            length_m=length_m,
            current_a=current_a,
            most_drop_v=source_v(supply) * fraction_from_percent(bound_percent),
            connector_ohm=ohm_from_mohm(supply.connector_mohm or 0),
        )

    area_mm2 = of([size.value for size in STANDARD_AREAS_MM2])
    if area_mm2 is None:
        return "none: move the charger closer"
    by_area = {area_mm2_of_gauge(gauge.value): gauge.value for gauge in STANDARD_GAUGES}
    gauge_mm2 = of(list(by_area))
    words = str(Figure(area_mm2, SQUARE_MILLIMETRES.to_step(area_mm2)))
    return words if gauge_mm2 is None else f"{words}, {by_area[gauge_mm2]} gauge"
