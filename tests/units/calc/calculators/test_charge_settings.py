"""What is dialled in for one charge, and every reason not to charge, as the pilot meets them."""

from __future__ import annotations

from math import ceil

import pytest

from calc.answering import answer
from calc.facts.chemistries import MOST_CELLS
from calc.figures.quantities import Figure
from tests.units.calc.sound_charge import BATTERY, ENTRIES, SIX_CELLS, problem, problems, settings


def _read(figure: Figure) -> str:
    return str(figure).replace("\N{NO-BREAK SPACE}", " ")


def _cautions(**changes: str) -> str:
    return " ".join(caution.sentence for caution in settings(**changes).cautions)


def test_a_sound_charge_is_dialled_in_by_the_label() -> None:
    answer = settings()
    assert _read(answer.charge_current.figure) == "2.6 A"
    assert _read(answer.charge_current.also) == "0.98 C"
    assert answer.charge_current.set_by == "the charge rate on the label"
    assert _read(answer.chemistry_mode.figure) == "Lithium-polymer, 4.20 V per cell"
    assert _read(answer.cells.figure) == "3 cells"
    assert _read(answer.cells.also) == "11.1 V"
    assert _read(answer.full_voltage.figure) == "12.60 V"


def test_watt_hours_are_rounded_up_so_that_a_pack_above_a_limit_never_reads_as_on_it() -> None:
    # 2 x 3.7 V x 13.5141 Ah = 100.00434 Wh, above the 100 Wh of air passengers.
    assert _read(settings(cells="2", capacity_mah="13514.1", resting_v="7.6").pack_energy.figure) == "100.01 Wh"


def test_a_pack_that_holds_less_than_its_label_gets_so_much_less_current() -> None:
    aged = settings(measured_capacity_mah="2250")
    assert _read(aged.charge_current.figure) == "2.2 A"
    assert aged.charge_current.set_by == "the charge rate on the label, of the capacity last measured"


def test_a_cold_aged_pack_gets_half_of_that_again() -> None:
    assert _read(settings(measured_capacity_mah="2250", pack_degc="5").charge_current.figure) == "1.1 A"


def test_a_pack_that_took_in_a_little_more_than_its_label_gets_no_more_than_the_label() -> None:
    assert settings(measured_capacity_mah="2800").charge_current == settings().charge_current


@pytest.mark.parametrize("held_mah", ["2120", "1325"])
def test_a_pack_that_holds_four_fifths_of_its_label_or_less_is_charged_no_more(held_mah: str) -> None:
    assert settings(measured_capacity_mah="2121").charge_current.figure.value > 0
    only = problem(measured_capacity_mah=held_mah)
    assert only.field == "measured_capacity_mah" and only.sentence.endswith("Take it out of use: do not charge it.")


@pytest.mark.parametrize(
    "changes",
    [
        {"resting_v": "3.1 3.1 3.1"},  # run nearly flat
        {"resting_v": "3.80 3.84 3.80"},  # to be balanced
        {"look": "watched"},
        {"cell_resistances_mohm": "5 5 8"},
    ],
)
def test_a_pack_that_recovers_gets_half_of_1c_whatever_its_label_allows(changes: dict[str, str]) -> None:
    setting = settings(label_charge_rate_c="5", requested_rate_c="5", **changes).charge_current
    assert _read(setting.figure) == "1.3 A"
    assert setting.set_by.startswith("half of 1C, since ")


def test_a_label_below_half_of_1c_still_binds_a_pack_that_recovers() -> None:
    assert _read(settings(label_charge_rate_c="0.3", resting_v="3.1 3.1 3.1").charge_current.figure) == "0.7 A"


def test_a_warm_pack_in_cold_air_gets_half_the_current() -> None:
    setting = settings(pack_degc="12", air_degc="1", label_charge_rate_c="5", requested_rate_c="5").charge_current
    assert (_read(setting.figure), setting.set_by) == ("1.3 A", "the cold air: half the current up to 10\u00a0°C")


def test_a_pack_read_as_a_whole_or_not_looked_over_gets_settings_that_say_so() -> None:
    whole = settings(resting_v="11.4", look="")
    assert whole.charge_current == settings().charge_current
    assert [caution.sentence.split(":")[0] for caution in whole.cautions] == [
        "These settings hold until every cell has been read",
        "Look the pack over first",
    ]


@pytest.mark.parametrize("read_when", ["flown", "loaded"])
def test_a_pack_that_has_not_rested_is_read_again_first(read_when: str) -> None:
    assert problem(read_when=read_when).field == "read_when"


@pytest.mark.parametrize(
    "key, cells, label_v, full_v",
    [
        ("lipo", "4", "14.8 V", "16.80 V"),
        ("lihv", "4", "15.2 or 15.4 V", "17.40 V"),
        ("liion", "4", "14.4 or 14.8 V", "16.80 V"),
        ("life", "4", "12.8 or 13.2 V", "14.60 V"),
    ],
)
def test_each_chemistry_is_dialled_in_by_its_own_voltages(key: str, cells: str, label_v: str, full_v: str) -> None:
    answer = settings(chemistry=key, cells=cells, resting_v="13.2")
    assert _read(answer.cells.also) == label_v
    assert "nominal" in answer.cells.note
    assert _read(answer.full_voltage.figure) == full_v


def test_2650_is_set_to_2700_and_an_automatic_1c_would_be_1_02c() -> None:
    setting = settings(capacity_mah="2650").capacity_setting
    assert _read(setting.figure) == "2700 mAh"
    assert "rounded up to the charger's step" in setting.set_by
    assert "2.70\N{NO-BREAK SPACE}A" in setting.note
    assert "1.02\N{NO-BREAK SPACE}C" in setting.note
    assert "by hand" not in setting.note


def test_350_is_set_to_400_and_an_automatic_1_14c_is_to_be_set_by_hand() -> None:
    answer = settings(capacity_mah="350", cells="2", resting_v="7.6")
    assert _read(answer.capacity_setting.figure) == "400 mAh"
    assert "1.14\N{NO-BREAK SPACE}C" in answer.capacity_setting.note
    assert "Set the current by hand, as above: the automatic one is too high" in answer.capacity_setting.note
    assert _read(answer.charge_current.figure) == "0.3 A"


def test_a_capacity_on_the_charger_s_step_stays_as_it_is() -> None:
    setting = settings(capacity_mah="5000").capacity_setting
    assert _read(setting.figure) == "5000 mAh"
    assert "1.00\N{NO-BREAK SPACE}C" in setting.note


@pytest.mark.parametrize("step_a, current", [("0.1", "2.6 A"), ("0.05", "2.65 A"), ("0.25", "2.50 A"), ("1", "2 A")])
def test_the_current_is_rounded_down_to_the_dial_and_shown_as_the_dial_shows_it(step_a: str, current: str) -> None:
    setting = settings(current_step_a=step_a).charge_current
    assert _read(setting.figure) == current
    assert "Rounded down to the charger's step" in setting.note


@pytest.mark.parametrize(
    "changes, current, because",
    [
        ({"requested_rate_c": "5"}, "2.6 A", "the charge rate on the label"),
        ({"label_charge_rate_c": "5", "requested_rate_c": "0.5"}, "1.3 A", "the rate you asked for"),
        ({"charger_current_a": "2"}, "2.0 A", "the charger's highest current"),
        ({"charger_power_w": "25.2"}, "2.0 A", "the charger's highest power"),
        ({"charger_power_w": "50"} | SIX_CELLS, "1.9 A", "the charger's highest power"),
        # 12 V x 3 A x 85 % over 12.6 V is 2.43 A.
        ({"supply_v": "12", "supply_current_a": "3"}, "2.4 A", "the supply's highest current"),
        ({"pack_degc": "10"}, "1.3 A", "the cold pack: half the current up to 10\u00a0°C"),
    ],
)
def test_the_limit_that_binds_stands_beside_the_current(changes: dict[str, str], current: str, because: str) -> None:
    setting = settings(**changes).charge_current
    assert (_read(setting.figure), setting.set_by) == (current, because)


def test_the_ceilings_that_were_compared_rise_and_the_first_binds() -> None:
    ceilings = settings(charger_current_a="2").charge_current.ceilings
    values = [ceiling.figure.value for ceiling in ceilings]
    assert values == sorted(values)
    assert [ceiling.because for ceiling in ceilings if ceiling.binds] == ["the charger's highest current"]
    assert ceilings[0].binds


def test_a_ceiling_is_shown_finer_than_the_dial_and_never_above_itself() -> None:
    label = settings().charge_current.ceilings[0]
    assert _read(label.figure) == "2.65 A"


def test_a_comma_a_unit_and_a_space_give_the_same_answer() -> None:
    typed = {
        "capacity_mah": " 2650 mAh ",
        "resting_v": "3,8 V 3,8 V 3,8 V",
        "supply_v": "13,8",
        "pack_degc": "68 F",
        "requested_rate_c": "1,0 C",
    }
    assert settings(**typed) == settings()


def test_the_gauge_of_a_lead_gives_the_answer_of_its_area() -> None:
    by_gauge = settings(**SIX_CELLS, lead_area_mm2="18 AWG").charge_current
    by_area = settings(**SIX_CELLS, lead_area_mm2="0.823").charge_current
    assert by_gauge.set_by.startswith("the supply lead")
    assert (by_gauge.figure, by_gauge.set_by) == (by_area.figure, by_area.set_by)


def test_a_forecast_runs_from_its_least_to_its_most() -> None:
    answer = settings(balance_current_a="0.3")
    for forecast in (answer.charge_time, answer.balancing_time, answer.charge_put_in, answer.energy_put_in, answer.supply_used):
        assert forecast.least.value <= forecast.most.value
        assert forecast.because


def test_a_battery_is_told_how_many_charges_it_holds_and_a_mains_supply_is_not() -> None:
    assert settings(**BATTERY).supply_charges.figure.sign == "charges"
    assert settings().supply_charges is None


def test_a_pack_whose_voltage_fits_a_lower_count_is_a_grave_caution() -> None:
    first = settings(cells="7", capacity_mah="5000", resting_v="25.2").cautions[0]
    assert first.grave
    assert "6 cells at 4.20 V each" in first.sentence


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"resting_v": "3.70 3.80 3.90"}, "Charge it slowly, and watch: 0.50\u00a0C at most"),
        ({"resting_v": "4.20 4.20 4.20"}, "This pack is full already"),
        ({"pack_degc": "8"}, "It is cold: half the current at most"),
        ({"label_charge_rate_c": "5", "requested_rate_c": "2"}, "Above 1C the pack ages sooner"),
        (BATTERY, "no sparks or flames near it"),
        ({"lead_length_m": "10", "lead_area_mm2": "2.5"}, "shorten it, or use a thicker one"),
    ],
)
def test_what_needs_a_look_is_said_beside_the_numbers(changes: dict[str, str], words: str) -> None:
    assert words in _cautions(**changes)


def test_a_sound_charge_has_nothing_to_look_out_for() -> None:
    assert settings().cautions == ()


@pytest.mark.parametrize(
    "changes, field, go_to, words",
    [
        ({"resting_v": "3.80 2.95 3.81"}, "resting_v", "pack-in-trouble#run-too-flat", "Cell 2 rests at 2.950 V, below its floor"),
        (
            {"resting_v": "3.80 4.30 3.81"},
            "resting_v",
            "pack-in-trouble#charged-too-far",
            "Cell 2 rests at 4.300 V, above its full voltage",
        ),
        ({"resting_v": "13.2"}, "resting_v", "pack-in-trouble", "If the count is right, it is above its full voltage"),
        ({"resting_v": "8.0"}, "resting_v", "pack-in-trouble", "If the count is right, its cells are below their floor"),
        ({"resting_v": "25.2", "cells": "5"}, "resting_v", "pack-in-trouble", "it fits 6 cells at 4.20 V each"),
        ({"resting_v": "66"}, "resting_v", "pack-in-trouble", "fits no pack of this chemistry"),
        ({"resting_v": "3.8"}, "resting_v", "pack-in-trouble", "is what one cell can have"),
        ({"resting_v": "3.8 3.8"}, "resting_v", "", "You entered 2 voltages for 3 cells"),
        ({"pack_degc": "0"}, "pack_degc", "", "Warm it through first"),
        ({"pack_degc": "-5"}, "pack_degc", "", "Warm it through first"),
        ({"pack_degc": "45", "air_degc": "20"}, "pack_degc", "", "Leave it in the shade until it has cooled"),
        ({"pack_degc": "60", "air_degc": "20"}, "pack_degc", "pack-in-trouble#hot-pack", "dangerously hot"),
        ({"air_degc": "-1"}, "air_degc", "", "charge in a warmer place"),
        ({"air_degc": "41"}, "air_degc", "", "go to a cooler place"),
        ({"resting_v": "3.8 3.8 3.5"}, "resting_v", "pack-in-trouble#afterwards", "Cell 3 has dropped away"),
        ({"look": "swollen"}, "look", "pack-in-trouble#swollen-pack", "It has swollen"),
        ({"look": "crashed"}, "look", "pack-in-trouble#crash-or-dent", "do not charge it until then"),
        ({"cell_resistances_mohm": "5 5 10"}, "cell_resistances_mohm", "", "half of their power"),
        ({"cell_resistance_mohm": "10", "new_resistance_mohm": "5"}, "new_resistance_mohm", "", "had 5.0 mΩ when it was new"),
        ({"cell_resistances_mohm": "5 5"}, "cell_resistances_mohm", "", "You entered 2 resistances for 3 cells"),
        ({"charger_cells": "2"}, "cells", "", "more cells than the charger takes"),
        ({"port_cells": "2"}, "port_cells", "", "more cells than the charger's balance ports take"),
        ({"chemistry": "unknown"}, "chemistry", "", "Do not charge a pack whose chemistry you do not know"),
        ({"chemistry": "nimh"}, "chemistry", "", "use the charger's nickel mode"),
        (BATTERY | {"battery_resting_v": "11.5"}, "battery_resting_v", "", "too weak to start the charger"),
        (BATTERY | {"battery_resting_v": "14.4"}, "battery_resting_v", "", "wait 8 h, and measure it again"),
        ({"supply_v": "9"}, "supply_v", "", "too weak to start it: use another supply"),
        ({"capacity_mah": "60"}, "capacity_mah", "", "too small for the charger's smallest step"),
        ({"label_charge_rate_c": "0.1", "capacity_mah": "500"}, "capacity_mah", "", "use a charger with a finer one"),
        ({"requested_rate_c": "0.05", "capacity_mah": "500"}, "", "", "ask for a higher one"),
        ({"charger_power_w": "1"}, "", "", "(the charger's highest power). Use a charger with more power"),
        ({"capacity_mah": ""}, "capacity_mah", "", "Enter the capacity on the label."),
        ({"capacity_mah": "0"}, "capacity_mah", "", "from 20 to 60000 mAh"),
        ({"capacity_mah": "-2650"}, "capacity_mah", "", "from 20 to 60000 mAh"),
        ({"capacity_mah": "inf"}, "capacity_mah", "", "must be a number"),
        ({"capacity_mah": "nan"}, "capacity_mah", "", "must be a number"),
        ({"capacity_mah": "1e5"}, "capacity_mah", "", "enter the number in mAh"),
        ({"capacity_mah": "999999999"}, "capacity_mah", "", "from 20 to 60000 mAh"),
        ({"capacity_mah": "5.0"}, "capacity_mah", "", "enter 5000 if the label says 5.0 Ah"),
        ({"capacity_mah": "2,650"}, "capacity_mah", "", "can be read in two ways"),
        ({"capacity_mah": "9" * 300}, "capacity_mah", "", "too long to be a number"),
        ({"cells": "0"}, "cells", "", f"from 1 to {MOST_CELLS} cells"),
        ({"cells": "3.5"}, "cells", "", "whole number"),
        ({"chemistry": "coal"}, "chemistry", "", "Choose the chemistry: take one that is on the list."),
        ({"chemistry": ""}, "chemistry", "", "Choose the chemistry."),
    ],
)
def test_a_charge_that_must_not_be_started_is_refused_with_what_to_do(changes: dict[str, str], field: str, go_to: str, words: str) -> None:
    only = problem(**changes)
    assert (only.field, only.go_to) == (field, go_to)
    assert words in only.sentence.replace("\u00a0", " ")


def test_a_cold_pack_is_refused_before_any_current_is_shown() -> None:
    assert "A" not in problem(pack_degc="-1").sentence.split()


def test_all_that_speaks_against_a_charge_is_listed_at_once() -> None:
    found = problems(resting_v="2.9 3.8 3.8", pack_degc="-5", charger_cells="2", supply_v="9")
    assert [one.field for one in found] == ["resting_v", "pack_degc", "cells", "supply_v"]


def test_what_is_missing_of_the_label_is_listed_at_once_and_called_missing() -> None:
    found = problems(**dict.fromkeys(ENTRIES, ""))
    assert all(one.missing for one in found)
    assert {one.field for one in found} == {"chemistry", "cells", "capacity_mah", "label_charge_rate_c", "requested_rate_c"}


def test_the_ports_of_two_plugs_are_told_by_the_label_and_the_charger_alone() -> None:
    two_plugs = {"cells": "8", "first_plug_cells": "5", "charger_cells": "8", "balance_ports": "2", "port_cells": "6"}
    unread = {"resting_v": "", "pack_degc": ""}
    table = answer("charge_settings", ENTRIES | two_plugs | unread).known.ports
    assert [[str(cell) for cell in row.cells] for row in table.rows] == [
        ["port 1", "5\u00a0cells", "cells 1 to 5"],
        ["port 2", "3\u00a0cells", "cells 6 to 8"],
    ]
    assert answer("charge_settings", ENTRIES | unread).known.ports is None


@pytest.mark.parametrize(
    ("known", "words"),
    [
        ({"look": "watched"}, "half of 1C"),
        ({"cell_resistances_mohm": "5 5 8"}, "half of 1C"),
        ({"resting_v": "3.80 3.80 3.74"}, "half of 1C"),
        ({"pack_degc": "8"}, "the cold pack"),
        ({"pack_warmth": "cool"}, "the cold pack"),
        ({"air_degc": "5"}, "the cold air"),
    ],
)
def test_what_slows_a_pack_counts_though_not_all_of_it_has_been_read(known: dict[str, str], words: str) -> None:
    # Beside the caution to charge it slowly stood the whole current of the label.
    found = answer("charge_settings", ENTRIES | {"resting_v": "", "pack_degc": ""} | known)
    assert (_read(found.known.charge_current.figure), found.may_start) == ("1.3 A", False)
    assert found.known.charge_current.set_by.startswith(words)


@pytest.mark.parametrize(
    ("unread", "words"),
    [
        ({"resting_v": "", "pack_degc": ""}, "the pack's voltage and temperature."),
        ({"resting_v": ""}, "the pack's voltage."),
        ({"pack_degc": ""}, "the pack's temperature."),
    ],
)
def test_of_what_is_read_on_a_pack_that_alone_is_not_counted_which_is_missing(unread: dict[str, str], words: str) -> None:
    assert answer("charge_settings", ENTRIES | unread).not_counted.startswith(f"Not counted yet: {words}")


@pytest.mark.parametrize("balance_current_a", ["", "0.05", "0.8"])
def test_a_single_cell_has_nothing_to_balance_and_no_time_for_it(balance_current_a: str) -> None:
    found = settings(cells="1", resting_v="3.80", balance_current_a=balance_current_a)
    assert found.balancing_time is None
    assert found.time_cutout.figure.value == ceil(1.1 * found.charge_time.most.value / 10) * 10
    assert "balanc" not in str(found.time_cutout.set_by)
