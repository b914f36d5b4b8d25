"""The voltage of a rested cell against its state of charge. `facts.chemistries` names the curves that each chemistry may have.

Each curve has 41 points, from 0 to 100 % in steps of 2.5 %. It is computed from the parameters that the paper gives: the
difference of the two electrodes' potentials at 25 °C, between the set's own 0 % and 100 % voltages, read out with the
general-purpose library pybamm 26.10.1.1. A straight line joins the points.

A pack's label says "lithium-polymer, 4.20 V" and not which oxide is inside, so all five pouch-type curves belong to it:
between 3.6 and 3.85 V they part by 13 to 34 points of charge. The curve of the cobalt oxide pouch is the likely one.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from calc.facts.cited import Cited, Estimate, Provenance, practice

_STEPS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class RestingCurve:
    """Resting voltages of a cell, V, evenly spaced in state of charge from 0 to 1, with their source."""

    cell_v: tuple[float, ...]
    source: str
    provenance: Provenance
    where: str

    def __post_init__(self) -> None:
        """Refuse a table that was not copied whole."""
        if len(self.cell_v) != _STEPS + 1 or any(later <= earlier for earlier, later in pairwise(self.cell_v)):
            raise ValueError(f"the curve of {self.source}, {self.where}, must have {_STEPS + 1} voltages that rise")


@dataclass(frozen=True, slots=True, kw_only=True)
class RestingTable:
    """What a chemistry's resting voltage may mean: the likely curve, the others, and how well a cell is read."""

    likely: RestingCurve
    others: tuple[RestingCurve, ...]
    reading_error_v: Cited

    @property
    def curves(self) -> tuple[RestingCurve, ...]:
        """The likely curve and the others."""
        return (self.likely, *self.others)


# Ten voltages in a line, as in the table that they were read out to.
# fmt: off
AI_2020 = RestingCurve(
    source="ai-2020",
    provenance=Provenance.COMPUTED,
    where="lithium cobalt oxide pouch",
    cell_v=(
        3.0000, 3.3844, 3.5421, 3.6185, 3.6396, 3.6496, 3.6654, 3.6821, 3.6954, 3.7078,
        3.7168, 3.7247, 3.7331, 3.7408, 3.7481, 3.7552, 3.7622, 3.7691, 3.7763, 3.7841,
        3.7925, 3.8018, 3.8122, 3.8236, 3.8365, 3.8510, 3.8675, 3.8870, 3.9089, 3.9308,
        3.9520, 3.9726, 3.9945, 4.0171, 4.0409, 4.0638, 4.0880, 4.1129, 4.1384, 4.1647,
        4.2000,
    ),
)
RAMADASS_2004 = RestingCurve(
    source="ramadass-2004",
    provenance=Provenance.COMPUTED,
    where="lithium cobalt oxide: one set, made from several papers",
    cell_v=(
        2.8000, 3.2830, 3.4462, 3.5367, 3.5955, 3.6365, 3.6663, 3.6888, 3.7063, 3.7205,
        3.7323, 3.7427, 3.7522, 3.7611, 3.7699, 3.7786, 3.7875, 3.7967, 3.8062, 3.8162,
        3.8266, 3.8376, 3.8491, 3.8611, 3.8738, 3.8870, 3.9009, 3.9153, 3.9304, 3.9462,
        3.9626, 3.9798, 3.9977, 4.0165, 4.0363, 4.0573, 4.0798, 4.1042, 4.1313, 4.1624,
        4.2000,
    ),
)
ECKER_2015 = RestingCurve(
    source="ecker-2015",
    provenance=Provenance.COMPUTED,
    where="nickel-cobalt oxide pouch",
    cell_v=(
        2.5000, 3.0938, 3.2938, 3.3987, 3.4586, 3.4975, 3.5277, 3.5560, 3.5870, 3.6216,
        3.6566, 3.6865, 3.7094, 3.7270, 3.7430, 3.7584, 3.7700, 3.7766, 3.7805, 3.7837,
        3.7872, 3.7918, 3.7979, 3.8057, 3.8154, 3.8274, 3.8417, 3.8593, 3.8822, 3.9110,
        3.9400, 3.9648, 3.9868, 4.0083, 4.0304, 4.0538, 4.0789, 4.1060, 4.1353, 4.1667,
        4.2000,
    ),
)
MOHTAT_2020 = RestingCurve(
    source="mohtat-2020",
    provenance=Provenance.COMPUTED,
    where="nickel-manganese-cobalt pouch",
    cell_v=(
        2.8000, 3.3390, 3.4620, 3.4962, 3.5107, 3.5214, 3.5396, 3.5628, 3.5847, 3.6027,
        3.6202, 3.6307, 3.6389, 3.6461, 3.6538, 3.6620, 3.6710, 3.6808, 3.6914, 3.7030,
        3.7155, 3.7291, 3.7446, 3.7665, 3.7968, 3.8204, 3.8399, 3.8594, 3.8797, 3.9010,
        3.9232, 3.9464, 3.9705, 3.9956, 4.0216, 4.0487, 4.0767, 4.1058, 4.1360, 4.1674,
        4.2000,
    ),
)
KIM_2011 = RestingCurve(
    source="kim-2011",
    provenance=Provenance.COMPUTED,
    where="nickel-cobalt-aluminium pouch",
    cell_v=(
        2.7000, 3.1439, 3.1939, 3.2181, 3.2471, 3.2787, 3.3099, 3.3410, 3.3721, 3.4028,
        3.4331, 3.4628, 3.4918, 3.5200, 3.5472, 3.5732, 3.5978, 3.6210, 3.6430, 3.6641,
        3.6846, 3.7048, 3.7252, 3.7461, 3.7678, 3.7909, 3.8163, 3.8444, 3.8742, 3.9031,
        3.9300, 3.9555, 3.9803, 4.0049, 4.0295, 4.0546, 4.0803, 4.1070, 4.1354, 4.1661,
        4.2000,
    ),
)
CHEN_2020 = RestingCurve(
    source="chen-2020",
    provenance=Provenance.COMPUTED,
    where="nickel-rich round cell",
    cell_v=(
        2.5000, 2.9212, 3.1094, 3.2107, 3.2959, 3.3787, 3.4339, 3.4641, 3.4852, 3.5056,
        3.5286, 3.5545, 3.5814, 3.6068, 3.6290, 3.6487, 3.6670, 3.6855, 3.7054, 3.7273,
        3.7509, 3.7750, 3.7984, 3.8200, 3.8406, 3.8624, 3.8896, 3.9207, 3.9479, 3.9713,
        3.9943, 4.0181, 4.0421, 4.0640, 4.0809, 4.0911, 4.0967, 4.1048, 4.1235, 4.1564,
        4.2000,
    ),
)
PRADA_2013 = RestingCurve(
    source="prada-2013",
    provenance=Provenance.COMPUTED,
    where="iron phosphate; 100 % is 3.60 V",
    cell_v=(
        2.0000, 2.5369, 2.7853, 2.9057, 2.9781, 3.0444, 3.1080, 3.1491, 3.1685, 3.1781,
        3.1857, 3.1945, 3.2058, 3.2190, 3.2324, 3.2439, 3.2525, 3.2584, 3.2621, 3.2645,
        3.2660, 3.2670, 3.2678, 3.2683, 3.2688, 3.2693, 3.2700, 3.2712, 3.2740, 3.2809,
        3.2926, 3.3037, 3.3097, 3.3121, 3.3132, 3.3137, 3.3142, 3.3146, 3.3164, 3.3359,
        3.6000,
    ),
)
# fmt: on

HIGH_VOLTAGE_KNOWN_UP_TO_CELL_V = practice(4.10, "the 4.20 V curves end soon after; no 4.35 V table is published in the open")
HIGH_VOLTAGE_EXTRA_CHARGE = Estimate(
    least=practice(1.00, "the label's capacity may be that of 4.20 V"),
    likely=Cited(1.16, "jang-2002", Provenance.COMPUTED, "22 % more at 4.4 V than at 4.2 V; by straight line 16 % at 4.35 V"),
    most=practice(1.25, "somewhat above the 22 % found at 4.4 V"),
)


def high_voltage_table(table: RestingTable, full_cell_v: float) -> RestingTable:
    """Return what a 4.20 V table says of cells that are charged higher: as part of a larger charge, straight above 4.1 V.

        U(s) = U_4.20(k s) up to 4.1 V, then a straight line to full        k times the charge of 4.20 V, U in V, s from 0 to 1

    Args:
        table: that of 4.20 V cells.
        full_cell_v: V, above 4.1.

    Source: `HIGH_VOLTAGE_EXTRA_CHARGE`; that the line is straight is our assumption.

    >>> high_voltage_table(RestingTable(likely=CHEN_2020, others=(), reading_error_v=practice(0.02, "a meter")), 4.35).likely.cell_v[-1]
    4.35
    """
    ends = (HIGH_VOLTAGE_EXTRA_CHARGE.least, HIGH_VOLTAGE_EXTRA_CHARGE.most)
    return RestingTable(
        likely=_high_voltage(table.likely, HIGH_VOLTAGE_EXTRA_CHARGE.likely, full_cell_v),
        others=tuple(_high_voltage(curve, extra, full_cell_v) for curve in table.curves for extra in ends),
        reading_error_v=table.reading_error_v,
    )


def _high_voltage(curve: RestingCurve, extra: Cited, full_cell_v: float) -> RestingCurve:
    known_to_v = HIGH_VOLTAGE_KNOWN_UP_TO_CELL_V.value
    known_to = _state_at(curve.cell_v, known_to_v) / extra.value

    def voltage(state: float) -> float:
        if state <= known_to:
            return _voltage_on(curve.cell_v, state * extra.value)
        return known_to_v + (full_cell_v - known_to_v) * (state - known_to) / (1 - known_to)

    return RestingCurve(
        source=curve.source,
        provenance=Provenance.COMPUTED,
        where=f"{curve.where}; not known above 4.1 V: a straight line to {full_cell_v:.2f} V, with {extra.value} times the charge of 4.20 V",
        cell_v=tuple(voltage(step / _STEPS) for step in range(_STEPS + 1)),
    )


def _voltage_on(cell_v: tuple[float, ...], state: float) -> float:
    """Resting voltage at a state of charge from 0 to 1, by straight lines between the points."""
    index = min(int(state * _STEPS), _STEPS - 1)
    return cell_v[index] + (cell_v[index + 1] - cell_v[index]) * (state * _STEPS - index)


def _state_at(cell_v: tuple[float, ...], voltage: float) -> float:
    """State of charge at a resting voltage that lies within the points."""
    index = max(place for place in range(_STEPS) if cell_v[place] <= voltage)
    return (index + (voltage - cell_v[index]) / (cell_v[index + 1] - cell_v[index])) / _STEPS
