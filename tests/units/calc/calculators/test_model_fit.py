"""A pack in a model: which limit decides, and what is refused before any number is shown."""

import pytest

from calc.answering import answer
from calc.inputs.refusals import Refusal

# Four cells of 5 Ah: 25 A for 6 min take half of it.
TUG = {
    "chemistry": "lipo", "cells": "4", "capacity_mah": "5000", "label_discharge_rate_c": "40", "cell_resistance_mohm": "2",
    "pack_degc": "25", "air_degc": "20", "highest_current_a": "45", "mean_current_a": "25", "flight_min": "6",
}  # fmt: skip


def fit(**changes: str):
    found = answer("model_fit", TUG | changes)
    assert not isinstance(found, Refusal), found
    return found


def problem(**changes: str):
    found = answer("model_fit", TUG | changes)
    assert isinstance(found, Refusal), "this was answered, and not refused"
    (only,) = found.problems
    return only


def said(found) -> str:
    return " ".join(caution.sentence for caution in found.cautions)


def test_the_charge_that_the_flight_takes_is_the_mean_current_times_the_time() -> None:
    taken = fit().charge_taken
    assert (str(taken.figure), str(taken.also)) == ("2.50\u00a0Ah", "50\u00a0%")


def test_an_aged_pack_gives_a_greater_share_of_what_it_holds() -> None:
    assert fit(measured_capacity_mah="4250").charge_taken.also.number == "59"


def test_the_time_to_land_leaves_a_fifth() -> None:
    # 4 Ah at 25 A are 9.6 min.
    assert fit().land_after.figure.number == "9.6"


def test_a_cold_pack_lands_as_soon_as_the_flight_timer_has_it() -> None:
    # At 5 °C it counts on 1 - 0.7 x 15 / 40 = 73.75 % of 5 Ah: 2.95 Ah without the reserve, at 25 A 7.08 min.
    cold = fit(pack_degc="5", air_degc="5", flight_min="8")
    assert cold.land_after.figure.number == "7.0"
    assert "leaves less than 20\u00a0% of what the pack gives: land earlier" in said(cold)
    assert "land earlier" not in said(fit(pack_degc="5", air_degc="5", flight_min="7"))
    (average,) = [row.cells for row in cold.rates.rows if row.heading == "The model, on average"]
    assert "7.0\u00a0min" in map(str, average)


def test_the_time_to_land_is_rounded_down() -> None:
    # 4 Ah at 26 A are 9.23 min.
    assert fit(mean_current_a="26").land_after.figure.number == "9.2"


def test_a_cell_sags_by_ohm_s_law_at_least() -> None:
    # 45 A through four times 2 mΩ at 25 °C are 0.36 V.
    assert fit().sag.least.number == "0.36"


def test_a_pack_that_is_frozen_by_the_time_it_lands_shows_nothing_and_not_less() -> None:
    # In air of -35 °C it cools for hours; one full throttle at the end then most likely takes more volts than a cell has.
    found = fit(
        chemistry="life", cells="12", capacity_mah="16000", label_discharge_rate_c="", cell_resistance_mohm="", pack_degc="25",
        air_degc="-35", highest_current_a="175", mean_current_a="0.25", flight_min="320",
    )  # fmt: skip
    assert (found.end_cell.least.value, found.end_cell.likely.value, found.end_pack.likely.value) == (0, 0, 0)
    assert found.verdict.figure == "Does not fit"


def test_more_than_the_label_does_not_fit_whatever_else_holds() -> None:
    found = fit(label_discharge_rate_c="8")
    assert found.verdict.figure == "Does not fit" and "label" in found.verdict.set_by
    assert found.cautions[0].grave and "label allows" in found.cautions[0].sentence


def test_exactly_the_label_is_within_it() -> None:
    assert "label allows" not in said(fit(label_discharge_rate_c="9"))


def test_a_gentle_flight_fits_at_its_worst_end_too() -> None:
    assert fit(highest_current_a="10", mean_current_a="6", flight_min="5", pack_g="500").verdict.figure == "Fits, by these numbers"


def test_a_pack_without_a_rate_on_its_label_is_judged_by_physics_alone() -> None:
    found = answer("model_fit", {name: text for name, text in TUG.items() if name != "label_discharge_rate_c"})
    assert "label" not in found.verdict.set_by
    assert "The label" not in [row.heading for row in found.rates.rows]


@pytest.mark.parametrize(
    ("flown", "verdict", "held"),
    [
        (
            {"highest_current_a": "10", "mean_current_a": "6", "flight_min": "5", "pack_g": "500"},
            "Fits, by these numbers",
            "Every limit holds",
        ),
        ({"cell_resistance_mohm": "4"}, "May not fit", "Most likely it fits"),
    ],
)
def test_a_rate_that_is_not_entered_is_said_not_to_be_compared(flown: dict[str, str], verdict: str, held: str) -> None:
    entered, left_out = fit(**flown).verdict, fit(label_discharge_rate_c="", **flown).verdict
    assert (entered.figure, left_out.figure) == (verdict, verdict)
    assert held in entered.note
    assert "not compared" not in entered.note
    assert "Every limit" not in left_out.note
    assert ("hold, also at their worst ends" in left_out.note) == (verdict == "Fits, by these numbers")
    assert "The rate of its label is not entered, and so was not compared" in left_out.note


def test_a_pack_that_most_likely_lands_in_the_danger_zone_does_not_fit() -> None:
    found = fit(cell_resistance_mohm="6", highest_current_a="80", mean_current_a="45", flight_min="5")
    assert found.end_temperature.likely.value > 60
    assert found.verdict.figure == "Does not fit"
    assert any(caution.grave and "danger begins" in caution.sentence for caution in found.cautions)


def test_a_measured_resistance_makes_the_landing_narrower_than_a_label_does() -> None:
    guessed = answer("model_fit", {name: text for name, text in TUG.items() if name != "cell_resistance_mohm"}).end_cell
    measured = fit().end_cell
    assert measured.most.value - measured.least.value < guessed.most.value - guessed.least.value


def test_the_rate_that_it_can_hold_is_higher_up_to_the_danger_zone() -> None:
    rates = {(row.heading, str(row.cells[3])): row.cells[0].value for row in fit().rates.rows}
    assert rates["The pack, most likely", "lands at 50\u00a0°C"] < rates["The pack, most likely", "lands at 60\u00a0°C"]


def test_a_flight_at_the_rate_that_it_can_hold_lands_at_the_limit() -> None:
    held = fit().honest_rate.likely.value
    minutes = 0.8 * 60 / held
    found = fit(
        highest_current_a=f"{held * 5:.3f}", mean_current_a=f"{held * 5:.3f}", flight_min=f"{minutes:.4f}", label_discharge_rate_c="300"
    )
    assert found.end_temperature.likely.value == pytest.approx(50, abs=0.3)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"mean_current_a": "46"}, "mean_current_a"),
        ({"flight_min": "12.5"}, "flight_min"),
        ({"highest_current_a": "500"}, "highest_current_a"),
        ({"pack_degc": "50"}, "pack_degc"),
        ({"pack_degc": "-21"}, "pack_degc"),
        ({"air_degc": "50"}, "air_degc"),
    ],
)
def test_what_has_no_safe_number_is_refused_at_its_entry(changes: dict[str, str], field: str) -> None:
    assert problem(**changes).field == field


# 15 x 4.20 V are 63.0 V, above the 60 V that anybody may touch (IEC 60598-1).
@pytest.mark.parametrize(("chemistry", "most"), [("lipo", 14), ("lihv", 13), ("liion", 14)])
def test_a_pack_that_nobody_may_touch_is_refused_here_as_on_every_other_page(chemistry: str, most: int) -> None:
    fit(chemistry=chemistry, cells=str(most))
    refused = problem(chemistry=chemistry, cells=str(most + 1))
    assert refused.field == "cells" and "anybody may touch" in refused.sentence


def test_a_pack_in_the_danger_zone_is_sent_to_the_trouble_page() -> None:
    assert problem(pack_degc="60").go_to == "pack-in-trouble"


def test_a_flight_longer_than_the_pack_says_when_it_is_empty() -> None:
    # 5 Ah at 25 A are 12 min.
    assert "12.0\u00a0min" in problem(flight_min="13").sentence


@pytest.mark.parametrize(
    "changes",
    [
        {"pack_degc": "22", "air_degc": "30", "highest_current_a": "5", "mean_current_a": "3", "flight_min": "30"},
        {
            "pack_degc": "10",
            "air_degc": "45",
            "highest_current_a": "45",
            "mean_current_a": "20",
            "flight_min": "9",
            "cell_resistance_mohm": "4",
        },
        {"pack_degc": "45", "air_degc": "-20", "highest_current_a": "2", "mean_current_a": "2", "flight_min": "90"},
    ],
    ids=["air that is warmer", "cold pack in hot air", "warm pack in frost"],
)
def test_a_landing_runs_from_the_coolest_to_the_warmest(changes: dict[str, str]) -> None:
    landing = fit(**changes).end_temperature
    assert landing.least.value < landing.likely.value < landing.most.value


def test_a_pack_that_hardly_works_lands_between_itself_and_the_warm_air() -> None:
    # By its label it weighs 0.41 to 0.67 kg. Still air takes three hours to warm a heavy one, so 40 minutes bring it a fifth of the
    # way; wind takes nine minutes for a light one, and it lands as warm as the air.
    landing = fit(pack_degc="10", air_degc="40", highest_current_a="1", mean_current_a="1", flight_min="40").end_temperature
    assert landing.least.value == pytest.approx(16, abs=0.5)
    assert landing.most.value == pytest.approx(40, abs=0.5)
