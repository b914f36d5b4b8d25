"""Several packs that are charged as one: what is said of the warmth that the charge adds, and what is said of the stop in any case."""

from __future__ import annotations

import pytest

from tests.units.calc.joined_charge import joined

KEYS = pytest.mark.parametrize("key", ["packs_in_parallel", "packs_in_series"])
# A degree below the stop, at 5C, in a room.
WARM = {"pack_degc": "44", "air_degc": "20", "label_charge_rate_c": "5"}


@KEYS
def test_a_charge_that_may_pass_the_stop_is_a_grave_caution(key: str) -> None:
    found = joined(key, WARM, WARM, requested_rate_c="5")
    assert found.joint_current is not None
    [warned] = [one for one in found.cautions if "warm the pack past its stop of 45" in one.sentence]
    assert warned.grave


@KEYS
def test_what_to_set_where_the_charger_has_no_such_step_is_said_of_warm_packs_too(key: str) -> None:
    warm, cool = (joined(key, one, one, requested_rate_c="5").temperature_stop for one in (WARM, WARM | {"pack_degc": "20"}))
    assert "110\N{NO-BREAK SPACE}°F" in warm.note and "never set it above the figure here" in warm.note
    assert warm == cool


@KEYS
def test_cool_packs_are_not_warned_of_their_stop(key: str) -> None:
    assert not any("past its stop" in one.sentence for one in joined(key).cautions)
