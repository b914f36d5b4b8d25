"""An answer in other units: the same numbers, the safe side of each, and the dial's unit never lost."""

from __future__ import annotations

import pytest

from calc.answering import answer_in_units
from calc.figures.counted import CountedPack
from calc.figures.quantities import (
    AMPERES,
    CELL_VOLTS,
    DEGREES_CELSIUS,
    LABEL_AMPERE_HOURS,
    MILLIAMPERE_HOURS,
    PACK_AMPERES,
    PERCENT,
    RATE,
    SQUARE_MILLIMETRES,
    Band,
    Figure,
)
from calc.figures.sentences import worded
from calc.figures.showing import Caution, Ceiling, Panel, Range, Row, Setting, Step, Table
from calc.presenting.chosen_units import InUnits, not_counted
from tests.units.calc.joined_charge import entries as joined_entries

# Three cells of 3.7 V and 2.5 Ah: 11.1 V, 27.75 Wh.
PACK = CountedPack(capacity_ah=2.5, nominal_v=11.1)


def shown(thing, pack=PACK, **choices):
    return InUnits(choices, pack).shown(thing)


def text(thing, pack=PACK, **choices) -> str:
    return str(shown(thing, pack, **choices)).replace("\u00a0", " ")


# °F by NIST SP 811: 1.8 t + 32.
@pytest.mark.parametrize(("degc", "says"), [(0, "32 °F"), (100, "212 °F"), (-40, "-40 °F"), (37, "99 °F"), (45, "113 °F")])
def test_a_temperature_is_shown_in_fahrenheit(degc: float, says: str) -> None:
    assert text(Figure(degc, DEGREES_CELSIUS), temperature="degf") == says


# Gauges by ASTM B258.
@pytest.mark.parametrize(("area_mm2", "says"), [(3.309, "12 AWG"), (2.081, "14 AWG"), (0.823, "18 AWG")])
def test_a_cross_section_is_shown_as_its_gauge(area_mm2: float, says: str) -> None:
    assert text(Figure(area_mm2, SQUARE_MILLIMETRES), wire="awg") == says


@pytest.mark.parametrize(
    ("figure", "choice", "says"),
    [
        (Figure(2650, MILLIAMPERE_HOURS), {"capacity": "ah"}, "2.65 Ah"),
        (Figure(385, MILLIAMPERE_HOURS), {"capacity": "ah"}, "0.385 Ah"),
        (Figure(2.65, LABEL_AMPERE_HOURS), {"capacity": "mah"}, "2650 mAh"),
        (Figure(2500, MILLIAMPERE_HOURS), {"capacity": "wh"}, "27.8 Wh"),
        (Figure(2.5, PACK_AMPERES), {"current": "c"}, "1.00 C"),
        (Figure(2, RATE), {"current": "a"}, "5.00 A"),
        (Figure(10, RATE), {"current": "a"}, "25.0 A"),
        (Figure(2.5, PACK_AMPERES), {"current": "a"}, "2.5 A"),
    ],
)
def test_what_counts_from_the_pack_is_shown_by_its_capacity_and_nominal_voltage(figure, choice, says) -> None:
    assert text(figure, **choice) == says


def test_the_current_of_a_supply_is_never_shown_in_c() -> None:
    assert text(Figure(12, AMPERES), current="c") == "12.0 A"


def test_a_ceiling_is_rounded_down_in_the_other_unit_too() -> None:
    # 49 °C are 120.2 °F and 46 °C are 114.8 °F; 1.39 A of 2.5 Ah are 0.556 C.
    assert text(Figure(46, DEGREES_CELSIUS, "down"), temperature="degf") == "114 °F"
    assert text(shown(Ceiling(because="the label", figure=Figure(1.39, PACK_AMPERES), binds=True), current="c").figure) == "0.55 C"


def test_a_setting_is_rounded_down_and_keeps_the_dial_s_unit_beside_it() -> None:
    setting = shown(Setting(figure=Figure(1.39, PACK_AMPERES.to_step(0.01)), also=Figure(0.556, RATE), set_by="the label"), current="c")
    assert (text(setting.figure), text(setting.also)) == ("0.55 C", "1.39 A")


def test_what_stands_beside_a_setting_in_another_kind_of_unit_stays_there() -> None:
    setting = shown(Setting(figure=Figure(1250, MILLIAMPERE_HOURS), also=Figure(50, PERCENT), set_by="the count"), capacity="ah")
    assert (text(setting.figure), text(setting.also)) == ("1.25 Ah", "50 %")


def test_a_lead_is_shown_as_the_next_thicker_gauge() -> None:
    # 2.5 mm² lies between gauge 14 with 2.08 and gauge 12 with 3.31: 13 is the thicker whole one.
    setting = shown(Setting(figure=Figure(2.5, SQUARE_MILLIMETRES), set_by="the drop"), wire="awg")
    assert (text(setting.figure), text(setting.also)) == ("13 AWG", "2.50 mm²")


def test_a_cross_section_that_no_gauge_has_stays_as_it_is() -> None:
    assert text(Figure(70, SQUARE_MILLIMETRES), wire="awg") == "70.00 mm²"


def test_a_range_gets_no_narrower() -> None:
    # 20.9 °C are 69.6 °F, 33.3 are 91.9, 68.4 are 155.1.
    ends = [Figure(value, DEGREES_CELSIUS) for value in (20.9, 33.3, 68.4)]
    found = shown(Range(least=ends[0], likely=ends[1], most=ends[2], because="the air"), temperature="degf")
    assert (text(found.ends), text(found.likely), found.beside) == ("69 to 156 °F", "92 °F", None)


def test_without_a_choice_a_temperature_has_fahrenheit_beside_it() -> None:
    setting = shown(Setting(figure=Figure(49, DEGREES_CELSIUS), set_by="common practice"))
    found = shown(Range(least=Figure(21, DEGREES_CELSIUS), most=Figure(69, DEGREES_CELSIUS), because="the air"))
    assert (text(setting.also), text(found.beside)) == ("120 °F", "69 to 157 °F")
    assert text(worded("Never above {}.", Figure(45, DEGREES_CELSIUS))) == "Never above 45 °C (113 °F)."
    assert (
        text(worded("From {}.", Band(Figure(-40, DEGREES_CELSIUS), Figure(100, DEGREES_CELSIUS)))) == "From -40 to 100 °C (-40 to 212 °F)."
    )


def test_a_choice_of_celsius_shows_celsius_alone() -> None:
    assert text(worded("Never above {}.", Figure(45, DEGREES_CELSIUS)), temperature="degc") == "Never above 45 °C."


def test_sentences_tables_and_what_is_in_them_follow_the_choice() -> None:
    inner = worded("lands at {}", Figure(50, DEGREES_CELSIUS))
    table = Table(caption="Rates", columns=("Whose", "What"), rows=(Row(heading="The pack", cells=(Figure(60, DEGREES_CELSIUS), inner)),))
    found = shown((table, Caution(sentence=worded("Pack 3: {}", inner))), temperature="degf")
    assert [text(cell) for cell in found[0].rows[0].cells] == ["140 °F", "lands at 122 °F"]
    assert text(found[1].sentence) == "Pack 3: lands at 122 °F"


def test_a_step_of_the_card_shows_the_dial_s_unit_too() -> None:
    step = shown(
        Step(key="set", act="set", title="Temperature stop", say="With a probe.", figure=Figure(49, DEGREES_CELSIUS)), temperature="degf"
    )
    assert (text(step.figure), text(step.also)) == ("120 °F", "49 °C")


def test_a_picture_s_axis_and_lines_are_in_the_chosen_unit() -> None:
    panel = Panel(title="t", quantity=DEGREES_CELSIUS, least=0, most=80, likely=(10, 20), lowest=(5, 5), highest=(15, 30))
    found = shown(panel, temperature="degf")
    assert (found.quantity.sign, found.least, found.most) == ("°F", 32, 176)
    assert (found.likely, found.lowest, found.highest) == ((50, 68), (41, 41), (59, 86))


def test_what_has_no_other_unit_and_what_was_never_offered_stay_as_they_are() -> None:
    assert text(Figure(3.8, CELL_VOLTS), temperature="degf", capacity="wh", current="c", wire="awg") == "3.80 V"
    assert text(Figure(20, DEGREES_CELSIUS), temperature="kelvin") == "20 °C"
    assert text(Figure(2, RATE.as_it_is), current="a") == "2.00 C"


def test_where_no_pack_is_known_the_unit_stays_and_a_sentence_says_so() -> None:
    held = frozenset({PACK_AMPERES, MILLIAMPERE_HOURS})
    choices = {"current": "c", "capacity": "wh"}
    assert text(Figure(2.5, PACK_AMPERES), CountedPack(), **choices) == "2.5 A"
    assert text(Figure(2500, MILLIAMPERE_HOURS), CountedPack(), **choices) == "2500 mAh"
    assert len(not_counted(held, choices, CountedPack())) == 2
    assert not_counted(held, choices, PACK) == []


@pytest.mark.parametrize("key", ["packs_in_series", "packs_in_parallel"])
def test_the_step_of_a_capacity_that_packs_have_together_is_in_the_chosen_unit(key: str) -> None:
    found = answer_in_units(key, joined_entries(), {"capacity": "ah"}).found
    assert found.capacity_setting.set_by.endswith("rounded up to the charger's step of 0.10\N{NO-BREAK SPACE}Ah")
