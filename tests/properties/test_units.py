"""What holds in whatever units an answer is shown: nothing is above its limit, no range is narrower, and nothing else changes."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import assume, example, given
from hypothesis import strategies as st

from calc.answering import answer_in_units
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import UNITS, Figure
from calc.figures.showing import Ceiling, Range, Setting
from calc.inputs.refusals import Refusal
from site_builder.engine.answer import respond
from tests.properties.test_answers import SMALL_PACK, all_of
from tests.properties.typed_entries import CHARGING_KEYS, KEYS, Entries, any_entries, charges

CHOICES = st.fixed_dictionaries({}, optional={kind: st.sampled_from([unit.suffix for unit in units]) for kind, units in UNITS.items()})


def back_in_its_own(figure: Figure, own: Figure, entries: Entries) -> Fraction:
    """A number as it is printed, in the unit that it was worked out in: by the definitions, and not by calc's functions."""
    number, suffix = Fraction(figure.number), figure.quantity.suffix
    if suffix == own.quantity.suffix:
        return number
    effective_ah = Fraction(min(float(entries["capacity_mah"]), float(entries.get("measured_capacity_mah", "inf")))) / 1000
    if suffix == "degf":
        return (number - 32) * 5 / 9
    if suffix in ("a", "c"):
        return number * effective_ah if suffix == "c" else number / effective_ah
    # Watt-hours count with the highest nominal voltage in use: common practice, no source, as carriers ask for the highest.
    nominal_v = CHEMISTRIES[entries["chemistry"]].highest_nominal_cell_v.value
    ah = number / (Fraction(str(nominal_v)) * int(entries["cells"])) if suffix == "wh" else number if suffix == "ah" else number / 1000
    return ah * 1000 if own.quantity.suffix == "mah" else ah


def pairs(kind: type, key: str, entries: Entries, choices: dict[str, str]) -> list[tuple]:
    """Everything of one kind as it was worked out, and as it is shown."""
    own, chosen = answer_in_units(key, entries, {}).found, answer_in_units(key, entries, choices).found
    assume(not isinstance(own, Refusal))
    return list(zip(all_of(kind, own), all_of(kind, chosen), strict=True))


@given(st.sampled_from(KEYS), any_entries(), CHOICES)
def test_every_entry_is_answered_or_refused_in_any_units(key: str, entries: Entries, choices: dict[str, str]) -> None:
    assert respond(key, entries, choices).kind == respond(key, entries).kind


@given(st.sampled_from(CHARGING_KEYS), charges(), CHOICES)
@example("charge_settings", SMALL_PACK, {"current": "c", "capacity": "ah", "temperature": "degf"})
@example("charge_settings", SMALL_PACK, {"capacity": "wh"})
@example("charge_settings", SMALL_PACK | {"chemistry": "lihv", "capacity_mah": "2650", "resting_v": "3.80"}, {"capacity": "wh"})
def test_no_setting_and_no_ceiling_is_higher_in_another_unit(key: str, entries: Entries, choices: dict[str, str]) -> None:
    for kind in (Setting, Ceiling):
        for own, chosen in pairs(kind, key, entries, choices):
            if isinstance(own.figure, Figure) and own.figure.quantity.measures not in ("", "wire"):
                # What is shown on the dial is what is compared: a billionth is rounding of the machine.
                assert back_in_its_own(chosen.figure, own.figure, entries) <= Fraction(own.figure.value) * (1 + Fraction(1, 10**9))


@given(st.sampled_from(CHARGING_KEYS), charges(), CHOICES)
@example("charge_settings", SMALL_PACK, {"capacity": "ah"})
def test_no_range_is_narrower_in_another_unit(key: str, entries: Entries, choices: dict[str, str]) -> None:
    for own, chosen in pairs(Range, key, entries, choices):
        if chosen.least.quantity.suffix != own.least.quantity.suffix:
            assert back_in_its_own(chosen.least, own.least, entries) <= Fraction(own.least.value) * (1 + Fraction(1, 10**9))
            assert back_in_its_own(chosen.most, own.most, entries) >= Fraction(own.most.value) * (1 - Fraction(1, 10**9))


@given(charges(), st.integers(33, 112))
def test_a_temperature_typed_in_fahrenheit_is_the_same_as_in_celsius(entries: Entries, degf: int) -> None:
    by_degf = entries | {"pack_degc": f"{degf} °F", "air_degc": "70F"}
    by_degc = entries | {"pack_degc": repr((degf - 32) / 1.8), "air_degc": repr((70 - 32) / 1.8)}
    assert respond("charge_settings", by_degf) == respond("charge_settings", by_degc)
