"""What a lead loses, from cool solid wire to hot flexible wire."""

from __future__ import annotations

from dataclasses import replace

import pytest

from calc.figures.spans import Span
from calc.inputs.supply import SupplyEntries
from calc.physics.supply.lead_losses import losses_at

# Without connectors 1.5 m of 2.5 mm² are 3 x 0.017241 / 2.5 x 1.16 = 24.0 mΩ.
LEAD = {"lead_length_m": 1.5, "lead_area_mm2": 2.5}
MAINS = SupplyEntries(supply_kind="mains", supply_v=12, supply_current_a=20, **LEAD)


def test_the_likely_loss_is_that_of_flexible_wire_at_20_degrees() -> None:
    losses = losses_at(MAINS, 10)
    assert losses.drop_v.likely == pytest.approx(0.240, abs=0.0005)
    assert losses.drop_percent.likely == pytest.approx(2.0, abs=0.005)
    assert losses.lost_w.likely == pytest.approx(2.40, abs=0.005)


def test_solid_wire_loses_less_and_hot_wire_more() -> None:
    losses = losses_at(MAINS, 10)
    assert losses.drop_v.least == pytest.approx(losses.drop_v.likely / 1.16)
    # 40 degrees more are 15.7 % more.
    assert losses.drop_v.most == pytest.approx(losses.drop_v.likely * 1.1572)


def test_connectors_do_not_change_with_the_wire() -> None:
    bare, joined = losses_at(MAINS, 10), losses_at(replace(MAINS, connector_mohm=5), 10)
    for end in ("least", "likely", "most"):
        assert getattr(joined.drop_v, end) - getattr(bare.drop_v, end) == pytest.approx(0.05)


def test_what_the_battery_loses_inside_is_not_the_lead_s_fault() -> None:
    battery = SupplyEntries(supply_kind="battery", battery_kind="flooded", battery_ah=50, battery_resting_v=12, **LEAD)
    # 10 mΩ inside at 10 A are 0.1 V less for the charger, and no more drop on the lead.
    assert losses_at(battery, 10).drop_v == losses_at(MAINS, 10).drop_v
    assert losses_at(battery, 10).at_charger_v.likely == pytest.approx(losses_at(MAINS, 10).at_charger_v.likely - 0.1)


def test_the_voltage_at_the_charger_is_lowest_where_most_is_lost() -> None:
    seen_v = losses_at(MAINS, 10).at_charger_v
    assert seen_v.least == pytest.approx(12 - losses_at(MAINS, 10).drop_v.most)
    assert seen_v.least < seen_v.likely < seen_v.most


def test_the_charger_gets_what_the_supply_has_less_what_the_lead_loses() -> None:
    losses = losses_at(MAINS, 10)
    assert losses.at_charger_v == Span(12 - losses.drop_v.most, 12 - losses.drop_v.likely, 12 - losses.drop_v.least)
