"""What each chemistry's cell may see: volts per cell and degrees, each with its source.

All voltages are per cell. `resting` means at least half an hour after the last load; `under load` means while the motor
pulls. Where two sources differ the app uses the stricter, and the note says which.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Cited, Provenance, practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Temperatures:
    """The window of a cell's own temperature, °C, at which it may be charged or discharged."""

    charge_least_degc: Cited
    charge_slow_below_degc: Cited
    charge_most_degc: Cited
    discharge_least_degc: Cited
    discharge_most_degc: Cited


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemistry:
    """A lithium chemistry: cell voltages, from full down to the floor, and the temperature windows."""

    name: str
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

    @property
    def most_cells(self) -> int:
        """The most cells in series that stay below the touch limit when they are full."""
        return int(TOUCH_LIMIT_V.value / self.full_cell_v.value)


# Up to here bare contacts of direct voltage give no dangerous shock; above it they are for skilled hands and closed housings.
TOUCH_LIMIT_V = Cited(60, "iec-62368-1", Provenance.MEMORY, "class ES1; IEC 60598-1 has it too, read second-hand")

_LITHIUM_TEMPERATURES = Temperatures(
    charge_least_degc=Cited(0, "jeita-2007", Provenance.SECOND_HAND, "no charge below 0 °C; at 0 °C the stricter side holds"),
    charge_slow_below_degc=Cited(10, "jeita-2007", Provenance.SECOND_HAND, "half of the current from 0 to 10 °C"),
    charge_most_degc=Cited(
        45, "iec-62133-2", Provenance.MEMORY, "annex A, of the cell surface; JEITA has it too, read second-hand"
    ),
    discharge_least_degc=practice(0, "below it the voltage sags and the pack gives much less"),
    discharge_most_degc=Cited(60, "jeita-2007", Provenance.SECOND_HAND, "above 60 °C nothing is allowed; danger starts"),
)

CHEMISTRIES: dict[str, Chemistry] = {
    "lipo": Chemistry(
        name="Lithium-polymer, 4.20 V",
        charger_mode="Lithium-polymer, 4.20 V per cell",
        nominal_cell_v=practice(3.70, "as printed on the labels"),
        highest_nominal_cell_v=practice(3.70, "as printed on the labels"),
        full_cell_v=Cited(4.20, "maleki-2014", Provenance.READ, "conventional pouch window 3.0 to 4.2 V"),
        upper_limit_cell_v=Cited(4.25, "jeita-2007", Provenance.SECOND_HAND, "4.25 V at most from 10 to 45 °C: a limit, not a setting"),
        storage_low_cell_v=practice(3.80, "about half charged"),
        storage_high_cell_v=practice(3.85, "about half charged"),
        end_of_flight_resting_cell_v=Cited(3.70, "ai-2020", Provenance.COMPUTED, "one fifth left: 3.695 V at rest"),
        end_of_flight_load_cell_v=practice(3.50, "the upper end of the 3.3 to 3.5 V that pilots use"),
        careful_cutoff_cell_v=practice(3.20, "the maker's 3.0 V leaves no margin for the weakest cell"),
        maker_cutoff_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "conventional pouch window 3.0 to 4.2 V"),
        never_below_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "below the window copper can dissolve"),
        temperatures=_LITHIUM_TEMPERATURES,
    ),
    "lihv": Chemistry(
        name="High-voltage lithium-polymer, 4.35 V",
        charger_mode="High-voltage lithium-polymer, 4.35 V per cell",
        nominal_cell_v=practice(3.80, "as printed on the labels"),
        highest_nominal_cell_v=practice(3.85, "as printed on some labels"),
        full_cell_v=Cited(4.35, "maleki-2014", Provenance.READ, "high-voltage pouch window 3.0 to 4.35 V"),
        upper_limit_cell_v=practice(4.40, "0.05 V above the setting, as for 4.20 V cells"),
        storage_low_cell_v=practice(3.80, "as for 4.20 V cells"),
        storage_high_cell_v=practice(3.85, "as for 4.20 V cells"),
        end_of_flight_resting_cell_v=practice(3.70, "as for 4.20 V cells; no table of this cell is published"),
        end_of_flight_load_cell_v=practice(3.50, "as for 4.20 V cells"),
        careful_cutoff_cell_v=practice(3.20, "the maker's 3.0 V leaves no margin for the weakest cell"),
        maker_cutoff_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "high-voltage pouch window 3.0 to 4.35 V"),
        never_below_cell_v=Cited(3.00, "maleki-2014", Provenance.READ, "below the window copper can dissolve"),
        temperatures=_LITHIUM_TEMPERATURES,
    ),
    "liion": Chemistry(
        name="Lithium-ion round cell, 4.20 V",
        charger_mode="Lithium-ion, 4.20 V per cell",
        nominal_cell_v=Cited(3.60, "wikipedia-li-ion", Provenance.READ, "cells of nickel-manganese-cobalt oxide"),
        highest_nominal_cell_v=practice(3.70, "as printed on some labels"),
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
    ),
    "life": Chemistry(
        name="Lithium iron phosphate, 3.65 V",
        charger_mode="Lithium iron phosphate, 3.65 V per cell",
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
