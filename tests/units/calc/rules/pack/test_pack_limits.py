"""The pack's own ceilings, at exactly the bounds of the cold."""

from __future__ import annotations

import pytest

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.rules.pack.pack_limits import pack_current_limits
from tests.units.calc.sound_charge import given

LIPO = CHEMISTRIES["lipo"]


def _limits(**changes: str) -> list[tuple[float, str]]:
    found = pack_current_limits(given(capacity_mah="2000", label_charge_rate_c="5", **changes), LIPO)
    return [(limit.ceiling, limit.because.replace("\N{NO-BREAK SPACE}", " ")) for limit in found]


LABEL = (10.0, "the charge rate on the label")


@pytest.mark.parametrize(
    ("pack_degc", "air_degc", "words"),
    [
        ("10", "", "the cold pack"), ("10.1", "", None), ("10.1", "10.1", None), ("10.1", "10", "the cold air"), ("20", "1", "the cold air"),
        ("10", "1", "the cold pack"), ("5", "20", "the cold pack"),
    ],
)  # fmt: skip
def test_up_to_ten_degrees_half_of_1c_holds_and_the_colder_of_pack_and_air_counts(pack_degc: str, air_degc: str, words: str | None) -> None:
    expected = [LABEL] if words is None else [LABEL, (1.0, f"{words}: half the current up to 10 °C")]
    assert _limits(pack_degc=pack_degc, **({"air_degc": air_degc} if air_degc else {})) == expected


def test_a_label_below_1c_is_halved_itself() -> None:
    found = pack_current_limits(given(capacity_mah="2000", label_charge_rate_c="0.6", pack_degc="5"), LIPO)
    assert [limit.ceiling for limit in found] == [1.2, 0.6]


def test_the_bound_of_the_cold_is_rounded_up_in_whatever_unit_it_is_shown() -> None:
    cold = pack_current_limits(given(pack_degc="5"), LIPO)[-1].because
    assert cold.figures == ("the cold pack", Figure(10, DEGREES_CELSIUS, "up"))


def test_an_aged_pack_counts_what_it_holds_and_says_so() -> None:
    assert _limits(measured_capacity_mah="1800", pack_degc="5") == [
        (9.0, "the charge rate on the label, of the capacity last measured"),
        (0.9, "the cold pack: half the current up to 10 °C"),
    ]
    assert _limits(measured_capacity_mah="2000") == [LABEL]
