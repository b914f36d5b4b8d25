"""The lithium chemistries, each one record from which forms, tables, the charge forecast and the checks of a pack follow.

A record has no default: a part that is left out is named as soon as this module is read. The long tables of resting voltage
stand in `facts.resting_voltages`, and a record names those it may have. All voltages are per cell. `resting` means at least half an hour after the last load; `under load` means while the motor
pulls. Where two sources differ the app uses the stricter, and the note says which.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, Estimate, Provenance, practice
from calc.facts.resting_voltages import (
    AI_2020,
    CHEN_2020,
    ECKER_2015,
    KIM_2011,
    MOHTAT_2020,
    PRADA_2013,
    RAMADASS_2004,
    RestingTable,
    high_voltage_table,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Temperatures:
    """The window of a cell's own temperature, °C, at which it may be charged or discharged."""

    charge_least_degc: Cited
    charge_slow_below_degc: Cited
    charge_most_degc: Cited
    discharge_least_degc: Cited
    discharge_most_degc: Cited


@dataclass(frozen=True, slots=True, kw_only=True)
class Plateau:
    """Where a cell with a flat curve rests at almost any charge, and the voltage below which it sinks soon after one.

    `called` is the chemistry in a sentence: "a pack of iron phosphate".
    """

    called: str
    plateau_least_cell_v: Cited
    plateau_most_cell_v: Cited
    settles_below_cell_v: Cited


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemistry:
    """A lithium chemistry.

    Cell voltages go from full down to the floor. `resistance_class_ohm_ah` is what a pack may have whose resistance nobody has
    read: ohms of a cell times its ampere-hours at 25 °C, at least in a pulse of seconds, since packs that are joined meet no more,
    else over a whole charge. Of what a whole charge shows as resistance, `lead_share` is the surface of the grains ahead of their
    whole. `energy_per_mass_wh_per_kg` counts the watt-hours of the label and the pack with its leads: the higher, the lighter the
    pack. `short_name` is what pilots say where there is no room for the whole name. `ages_as_modelled` says whether the ageing model
    of `facts.ageing` may stand for it, which was fitted to one kind of cell.
    """

    name: str
    short_name: str
    charger_mode: str
    nominal_cell_v: Cited
    highest_nominal_cell_v: Cited
    full_cell_v: Cited
    upper_limit_cell_v: Cited
    storage_low_cell_v: Cited
    storage_high_cell_v: Cited
    end_of_flight_resting_cell_v: Cited
    end_of_flight_load_cell_v: Cited
    careful_cutoff_cell_v: Cited
    maker_cutoff_cell_v: Cited
    never_below_cell_v: Cited
    temperatures: Temperatures
    resting: RestingTable
    plateau: Plateau | None
    resistance_class_ohm_ah: Estimate
    lead_share: Cited
    energy_per_mass_wh_per_kg: Estimate
    ages_as_modelled: bool

    @property
    def most_cells(self) -> int:
        """The most cells in series that stay below the touch limit when they are full."""
        return int(TOUCH_LIMIT_V.value / self.full_cell_v.value)


# Up to here bare contacts of direct voltage give no dangerous shock; above it they are for skilled hands and closed housings.
TOUCH_LIMIT_V = Cited(60, "iec-60598-1", Provenance.SECOND_HAND, "8.2.3: current-carrying parts may be bare up to 60 V d.c.")

_LITHIUM_TEMPERATURES = Temperatures(
    charge_least_degc=Cited(0, "jeita-2007", Provenance.SECOND_HAND, "no charge below 0 °C; at 0 °C the stricter side holds"),
    charge_slow_below_degc=Cited(10, "jeita-2007", Provenance.SECOND_HAND, "half of the current from 0 to 10 °C"),
    charge_most_degc=Cited(45, "jeita-2007", Provenance.SECOND_HAND, "10 to 45 °C, of the cell's surface"),
    discharge_least_degc=practice(0, "below it the voltage sags and the pack gives much less"),
    discharge_most_degc=Cited(60, "jeita-2007", Provenance.SECOND_HAND, "above 60 °C nothing is allowed; danger starts"),
)

_POUCH_ENERGY_PER_MASS_WH_PER_KG = Estimate(
    least=practice(110, "a small pack, or one made for very high rates"),
    likely=practice(140, "a model pack of some thousand milliampere-hours"),
    most=Cited(200, "prior-power", Provenance.READ, "150 to 200 Wh/kg: the lightest, which warms the most"),
)
_READING_ERROR_V = practice(0.02, "the charger's display and a rest that was too short, together")
_POUCH = RestingTable(likely=AI_2020, others=(RAMADASS_2004, ECKER_2015, MOHTAT_2020, KIM_2011), reading_error_v=_READING_ERROR_V)
_HIGH_VOLTAGE_FULL_CELL_V = Cited(4.35, "maleki-2014", Provenance.READ, "high-voltage pouch window 3.0 to 4.35 V")

CHEMISTRIES: dict[str, Chemistry] = {
    "lipo": Chemistry(
        name="Lithium-polymer, 4.20\u00a0V",
        short_name="LiPo",
        charger_mode="Lithium-polymer, 4.20\u00a0V per cell",
        nominal_cell_v=Cited(3.70, "tartu-batteries", Provenance.READ, "nominal voltage of a single cell"),
        highest_nominal_cell_v=Cited(3.70, "tartu-batteries", Provenance.READ, "nominal voltage of a single cell"),
        full_cell_v=Cited(4.20, "maleki-2014", Provenance.READ, "conventional pouch window 3.0 to 4.2 V"),
        upper_limit_cell_v=Cited(4.25, "jeita-2007", Provenance.SECOND_HAND, "4.25 V at most from 10 to 45 °C: a limit, not a setting"),
        storage_low_cell_v=Cited(3.80, "qub-lab", Provenance.READ, "storage charge: about 3.8 V per cell"),
        storage_high_cell_v=Cited(3.84, "ai-2020", Provenance.COMPUTED, "60 % charged: 3.837 V at rest"),
        end_of_flight_resting_cell_v=Cited(3.70, "ai-2020", Provenance.COMPUTED, "one fifth left: 3.695 V at rest"),
        end_of_flight_load_cell_v=Cited(3.50, "tartu-batteries", Provenance.READ, "below about 3.5 V per cell the pack counts as empty"),
        careful_cutoff_cell_v=Cited(
            3.20, "qub-lab", Provenance.READ, "below 3.2 V a cell can be harmed for good; the maker's 3.0 V leaves no margin"
        ),
        maker_cutoff_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "conventional pouch window 3.0 to 4.2 V"),
        never_below_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "below the window copper can dissolve"),
        temperatures=_LITHIUM_TEMPERATURES,
        resting=_POUCH,
        plateau=None,
        resistance_class_ohm_ah=Estimate(
            least=practice(0.004, "the best of new high-rate packs: 2200 mAh and 2 mΩ; most have 0.004 to 0.013"),
            likely=practice(0.03, "a model pack in use"),
            most=Cited(0.21, "ai-2020", Provenance.COMPUTED, "an energy-type pouch: 0.20 over a charge, 0.21 down to a fiftieth"),
        ),
        lead_share=Cited(0.0, "marquis-2019", Provenance.COMPUTED, "any share makes one of the two cobalt-oxide pouches worse"),
        energy_per_mass_wh_per_kg=_POUCH_ENERGY_PER_MASS_WH_PER_KG,
        ages_as_modelled=True,
    ),
    "lihv": Chemistry(
        name="High-voltage lithium-polymer, 4.35\u00a0V",
        short_name="LiHV",
        charger_mode="High-voltage lithium-polymer, 4.35\u00a0V per cell",
        nominal_cell_v=practice(3.80, "as printed on the labels"),
        highest_nominal_cell_v=practice(3.85, "as printed on some labels"),
        full_cell_v=_HIGH_VOLTAGE_FULL_CELL_V,
        upper_limit_cell_v=practice(4.40, "0.05 V above the setting, as for 4.20 V cells"),
        storage_low_cell_v=Cited(3.80, "qub-lab", Provenance.READ, "as for 4.20 V cells: about 3.8 V per cell"),
        storage_high_cell_v=Cited(3.84, "ai-2020", Provenance.COMPUTED, "as for 4.20 V cells: 60 % charged"),
        end_of_flight_resting_cell_v=practice(3.70, "as for 4.20 V cells; no table of this cell is published"),
        end_of_flight_load_cell_v=Cited(
            3.50, "tartu-batteries", Provenance.READ, "as for 4.20 V cells: below about 3.5 V the pack counts as empty"
        ),
        careful_cutoff_cell_v=Cited(
            3.20, "qub-lab", Provenance.READ, "below 3.2 V a cell can be harmed for good; the maker's 3.0 V leaves no margin"
        ),
        maker_cutoff_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "high-voltage pouch window 3.0 to 4.35 V"),
        never_below_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "below the window copper can dissolve"),
        temperatures=_LITHIUM_TEMPERATURES,
        resting=high_voltage_table(_POUCH, _HIGH_VOLTAGE_FULL_CELL_V.value),
        plateau=None,
        resistance_class_ohm_ah=Estimate(
            least=practice(0.004, "as for 4.20 V packs"),
            likely=practice(0.03, "as for 4.20 V packs"),
            most=Cited(0.21, "ai-2020", Provenance.COMPUTED, "as for 4.20 V packs"),
        ),
        lead_share=Cited(0.0, "marquis-2019", Provenance.COMPUTED, "as for 4.20 V packs"),
        energy_per_mass_wh_per_kg=_POUCH_ENERGY_PER_MASS_WH_PER_KG,
        ages_as_modelled=True,
    ),
    "liion": Chemistry(
        name="Lithium-ion round cell, 4.20\u00a0V",
        short_name="Li-ion",
        charger_mode="Lithium-ion, 4.20\u00a0V per cell",
        nominal_cell_v=Cited(3.60, "wikipedia-li-ion", Provenance.READ, "cells of nickel-manganese-cobalt oxide"),
        highest_nominal_cell_v=Cited(3.70, "wikipedia-li-ion", Provenance.READ, "cells of nickel-manganese-cobalt oxide, in another copy"),
        full_cell_v=Cited(4.20, "chen-2020", Provenance.READ, "window 2.5 to 4.2 V"),
        upper_limit_cell_v=Cited(4.25, "jeita-2007", Provenance.SECOND_HAND, "4.25 V at most from 10 to 45 °C: a limit, not a setting"),
        storage_low_cell_v=Cited(3.67, "chen-2020", Provenance.COMPUTED, "40 % charged: 3.667 V at rest"),
        storage_high_cell_v=Cited(3.84, "chen-2020", Provenance.COMPUTED, "60 % charged: 3.841 V at rest"),
        end_of_flight_resting_cell_v=Cited(3.50, "chen-2020", Provenance.COMPUTED, "one fifth left: 3.485 V at rest"),
        end_of_flight_load_cell_v=practice(3.20, "leaves a margin for the weakest cell"),
        careful_cutoff_cell_v=practice(3.00, "the maker's 2.5 V leaves no margin for the weakest cell"),
        maker_cutoff_cell_v=Cited(2.50, "chen-2020", Provenance.READ, "window 2.5 to 4.2 V"),
        never_below_cell_v=Cited(2.50, "chen-2020", Provenance.READ, "below the window copper can dissolve"),
        temperatures=_LITHIUM_TEMPERATURES,
        resting=RestingTable(likely=CHEN_2020, others=(MOHTAT_2020, KIM_2011), reading_error_v=_READING_ERROR_V),
        plateau=None,
        resistance_class_ohm_ah=Estimate(
            least=Cited(0.019, "kim-2011", Provenance.COMPUTED, "a power-type cell, in a pulse of 10 s: over a charge it shows 0.035"),
            likely=practice(0.10, "between a power-type and an energy-type cell"),
            most=Cited(0.31, "chen-2020", Provenance.COMPUTED, "an energy-type round cell, over a charge to any cut-off"),
        ),
        lead_share=Cited(
            0.7, "chen-2020", Provenance.COMPUTED, "the fit to every cut-off from a fifth to a fiftieth; two others hold with it"
        ),
        energy_per_mass_wh_per_kg=Estimate(
            least=practice(160, "round cells made for high rates"),
            likely=practice(210, "round cells, with their leads"),
            most=practice(260, "round cells made for capacity"),
        ),
        ages_as_modelled=True,
    ),
    "life": Chemistry(
        name="Lithium iron phosphate, 3.65\u00a0V",
        short_name="LiFe",
        charger_mode="Lithium iron phosphate, 3.65\u00a0V per cell",
        nominal_cell_v=Cited(3.20, "wikipedia-li-ion", Provenance.READ, "cells of iron phosphate"),
        highest_nominal_cell_v=practice(3.30, "as printed on some labels"),
        full_cell_v=Cited(3.65, "cell-data-sheet", Provenance.READ, "where it is held"),
        upper_limit_cell_v=practice(3.70, "0.05 V above the setting, as for 4.20 V cells"),
        storage_low_cell_v=Cited(3.25, "prada-2013", Provenance.COMPUTED, "40 % charged; the curve is nearly flat, count the charge"),
        storage_high_cell_v=Cited(3.27, "prada-2013", Provenance.COMPUTED, "60 % charged; the curve is nearly flat, count the charge"),
        end_of_flight_resting_cell_v=Cited(3.17, "prada-2013", Provenance.COMPUTED, "one fifth left: 3.168 V at rest"),
        end_of_flight_load_cell_v=practice(3.00, "leaves a margin for the weakest cell"),
        careful_cutoff_cell_v=practice(2.80, "the maker's 2.5 V leaves no margin for the weakest cell"),
        maker_cutoff_cell_v=Cited(2.50, "cell-data-sheet", Provenance.READ, "end of its discharges"),
        never_below_cell_v=Cited(2.50, "cell-data-sheet", Provenance.READ, "end of its discharges"),
        temperatures=_LITHIUM_TEMPERATURES,
        resting=RestingTable(likely=PRADA_2013, others=(), reading_error_v=_READING_ERROR_V),
        plateau=Plateau(
            called="iron phosphate",
            plateau_least_cell_v=Cited(3.17, "prada-2013", Provenance.COMPUTED, "one fifth charged"),
            plateau_most_cell_v=Cited(3.34, "prada-2013", Provenance.COMPUTED, "97.5 % charged"),
            settles_below_cell_v=practice(3.45, "half an hour after a charge to 3.65 V"),
        ),
        resistance_class_ohm_ah=Estimate(
            least=practice(0.02, "a high-rate cell"),
            likely=Cited(0.07, "prada-2013", Provenance.COMPUTED, "effective over a charge, and by pulse"),
            most=Cited(0.15, "prada-2013", Provenance.COMPUTED, "effective over a charge, with a finer resting table"),
        ),
        lead_share=Cited(0.0, "prada-2013", Provenance.COMPUTED, "any share makes it worse"),
        energy_per_mass_wh_per_kg=Estimate(
            least=practice(70, "round cells made for high rates"), likely=practice(90, "a model pack"), most=practice(120, "a light pack")
        ),
        ages_as_modelled=False,  # its cells rest far lower than those that the model was fitted to
    ),
}

MOST_CELLS = max(one.most_cells for one in CHEMISTRIES.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class NickelMetalHydride:
    """A nickel-metal hydride cell, for its row in the tables and for the warning of a wrong charger mode."""

    name: str
    nominal_cell_v: Cited
    on_charge_low_cell_v: Cited
    on_charge_high_cell_v: Cited
    cutoff_cell_v: Cited


NICKEL_METAL_HYDRIDE = NickelMetalHydride(
    name="Nickel-metal hydride",
    nominal_cell_v=Cited(1.20, "wikipedia-nimh", Provenance.READ, "nominal cell voltage"),
    on_charge_low_cell_v=Cited(1.40, "wikipedia-nimh", Provenance.READ, "full, with nothing plugged in"),
    on_charge_high_cell_v=Cited(1.50, "wikipedia-nimh", Provenance.READ, "almost this, just after the charge"),
    cutoff_cell_v=Cited(1.00, "wikipedia-nimh", Provenance.READ, "further discharge may harm it"),
)
