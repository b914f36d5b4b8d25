"""Copper leads: gauge sizes, resistance, and the current that a lead may carry."""

from __future__ import annotations

from calc.facts.cited import Cited, Provenance, practice
from calc.figures import gauges

# Diameter of gauge 36, the ratio over 39 gauges, and that number of gauges: the standard's own definition, by which `figures.gauges` counts.
GAUGE_36_DIAMETER_MM = Cited(gauges.GAUGE_36_DIAMETER_MM, "astm-b258", Provenance.SECOND_HAND, "diameter of gauge 36: 0.0050 in")
GAUGE_RATIO = Cited(gauges.GAUGE_RATIO, "astm-b258", Provenance.SECOND_HAND, "ratio of gauge 0000 to gauge 36")
GAUGES_BETWEEN = Cited(gauges.GAUGES_BETWEEN, "astm-b258", Provenance.SECOND_HAND, "steps from gauge 0000 to gauge 36")

RESISTIVITY_OHM_MM2_PER_M = Cited(0.017241, "iec-60028", Provenance.SECOND_HAND, "annealed copper at 20 °C")
# Flexible lead is 11 to 16 % worse than solid copper of the same area; the stricter end is used.
FLEXIBLE_FACTOR = Cited(1.16, "iec-60228", Provenance.SECOND_HAND, "class 5 at 1.5 and 2.5 mm² against solid copper: 1.157")

# Area, mm², of gauges 18 to 6 and the amperes allowed with insulation rated for 60 °C: the lowest column, since the
# insulation of a lead at the field is seldom known.
ALLOWED_IN_AIR_DEGC = Cited(30, "33-cfr-183-425", Provenance.READ, "table 5: one conductor in air")
ALLOWED_CURRENT_A: tuple[tuple[float, Cited], ...] = (
    (0.823, Cited(10, "33-cfr-183-425", Provenance.READ, "gauge 18, 60 °C insulation")),
    (1.309, Cited(15, "33-cfr-183-425", Provenance.READ, "gauge 16, 60 °C insulation")),
    (2.081, Cited(20, "33-cfr-183-425", Provenance.READ, "gauge 14, 60 °C insulation")),
    (3.309, Cited(25, "33-cfr-183-425", Provenance.READ, "gauge 12, 60 °C insulation")),
    (5.261, Cited(40, "33-cfr-183-425", Provenance.READ, "gauge 10, 60 °C insulation")),
    (8.366, Cited(55, "33-cfr-183-425", Provenance.READ, "gauge 8, 60 °C insulation")),
    (13.30, Cited(80, "33-cfr-183-425", Provenance.READ, "gauge 6, 60 °C insulation")),
)
# The table starts at gauge 18. A thinner lead gets this many amperes per mm², as gauge 18 has, rounded down.
THIN_LEAD_A_PER_MM2 = Cited(12, "33-cfr-183-425", Provenance.COMPUTED, "10 A on 0.823 mm², carried to thinner leads")

# What a warm lead has more than a cool one, and how warm the insulation of the table's lowest column may become.
TEMPERATURE_COEFFICIENT_PER_K = Cited(0.00393, "iec-60028", Provenance.SECOND_HAND, "annealed copper, from 20 °C")
TABLE_DEGC = Cited(20, "iec-60028", Provenance.SECOND_HAND, "the temperature of the resistivity above")
HOT_LEAD_DEGC = Cited(60, "33-cfr-183-425", Provenance.READ, "the insulation's own limit in the column for 60 °C")

# The gauges that leads are sold in, from thin to thick; 0 is written 1/0. And the cross-sections, mm².
STANDARD_GAUGES: tuple[Cited, ...] = (
    Cited(18, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
    Cited(16, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
    Cited(14, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
    Cited(12, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
    Cited(10, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
    Cited(8, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
    Cited(6, "33-cfr-183-425", Provenance.READ, "a row of table 5"),
)
# A bare number that is a gauge of a lead is asked about: see `inputs.typed_numbers`.
THINNEST_GAUGE_SOLD = practice(30, "leads are sold in even gauges, from 1/0 down")
STANDARD_AREAS_MM2: tuple[Cited, ...] = (
    Cited(0.5, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(0.75, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(1.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(1.5, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(2.5, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(4.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(6.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(10.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(16.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(25.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(35.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(50.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
    Cited(70.0, "iec-60228", Provenance.SECOND_HAND, "standard cross-section"),
)

LARGEST_DROP_PERCENT = Cited(10, "abyc-e-11", Provenance.SECOND_HAND, "circuits that are not critical")
GOOD_DROP_PERCENT = Cited(3, "abyc-e-11", Provenance.SECOND_HAND, "critical circuits")
