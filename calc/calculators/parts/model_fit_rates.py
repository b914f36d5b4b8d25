"""The rates that a model asks for, that a label promises and that a pack can hold, side by side."""

from __future__ import annotations

from calc.facts.flying import RESERVE_PERCENT
from calc.facts.practice import WARM_LANDING_DEGC
from calc.figures.quantities import AMPERES, DEGREES_CELSIUS, MINUTES, PERCENT, RATE, Figure
from calc.figures.sentences import worded
from calc.figures.showing import Range, Row, Table
from calc.figures.spans import Span
from calc.figures.units import fraction_from_percent, min_from_h
from calc.physics.pack.flight_packs import FlightPack
from calc.physics.pack.flight_times import share_in_the_cold

_RATE = RATE.to_step(0.1)


def share_to_landing(coolest_degc: float) -> float:
    """Return the share of its capacity, a fraction, that a pack may give before it lands: in the cold less, as the flight timer counts it.

    (1 - left) f(T)        f the share in the cold, T in °C
    """
    return (1 - fraction_from_percent(RESERVE_PERCENT.value)) * share_in_the_cold(coolest_degc)


def minutes_to_landing(pack: FlightPack, current_a: float, *, share: float) -> Figure:
    """Return how long a full pack lasts at a current until it has given a share, a fraction, of what it holds, rounded down.

    t = share x Q / I        t in h, Q in Ah as the pack still holds, I in A, above 0
    """
    return Figure(min_from_h(share * pack.effective_ah / current_a), MINUTES.to_step(0.1), "down")


def rate_it_can_hold(holds_c: Span, because: str) -> Range:
    """Return the rate at which a pack lands just warm, every end rounded down."""
    return Range(
        least=Figure(holds_c.least, _RATE, "down"),
        likely=Figure(holds_c.likely, _RATE, "down"),
        most=Figure(holds_c.most, _RATE, "down"),
        because=f"{because}; how the air cools is not known either",
        note=worded(
            "Held from full until {} is left, it then lands at {}. The lower end is for the worst of all that is not known.",
            Figure(RESERVE_PERCENT.value, PERCENT),
            Figure(WARM_LANDING_DEGC.value, DEGREES_CELSIUS, "down"),
        ),
    )


def rates_side_by_side(
    pack: FlightPack,
    highest_current_a: float,
    mean_current_a: float,
    label_rate_c: float | None,
    holds_c: dict[float, Span],
    *,
    share: float,
) -> Table:
    """Return the rates of the model, of the label and of the pack itself; what the pack can stand is rounded down.

    `holds_c` has the rates that the pack can hold, C, by the temperature at which it then lands, °C; `share` is that of `share_to_landing`.
    """

    def row(heading: str, current_a: float, words: str) -> Row:
        rate = Figure(current_a / pack.effective_ah, _RATE.as_it_is, "down")
        return Row(
            heading=heading, cells=(rate, Figure(current_a, AMPERES, "down"), minutes_to_landing(pack, current_a, share=share), words)
        )

    rows = [
        row("The model, at most", highest_current_a, "as you entered it"),
        row("The model, on average", mean_current_a, "as you entered it"),
    ]
    if label_rate_c is not None:
        rows.append(row("The label", label_rate_c * pack.effective_ah, "what the maker claims, without a temperature"))
    for limit_degc, span in holds_c.items():
        lands = worded("lands at {}", Figure(limit_degc, DEGREES_CELSIUS, "down"))
        rows.append(row("The pack, most likely", span.likely * pack.effective_ah, lands))
        rows.append(row("The pack, at worst", span.least * pack.effective_ah, lands))
    return Table(caption="Rates side by side", columns=("Whose", "Rate", "Current", "Full to a fifth left", "What it is"), rows=tuple(rows))
