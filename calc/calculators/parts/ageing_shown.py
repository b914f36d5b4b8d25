"""What the lines of a pack come to, as values, as a picture and line by line."""

from __future__ import annotations

from collections.abc import Callable
from math import inf

from calc.facts.ageing import TREND_FOLLOWED_TIMES, TREND_MISSES_PERCENT
from calc.facts.practice import AGED_PERCENT
from calc.figures.calendar import day_in_words
from calc.figures.quantities import CELL_VOLTS, CHARGES, DAYS, MILLIAMPERE_HOURS, MILLIOHMS, MONTHS, PERCENT, Band, Figure, Quantity
from calc.figures.showing import Level, Panel, Picture, Range, Row, Setting, Table
from calc.figures.spans import Span
from calc.figures.units import months_from_days, percent_from_fraction
from calc.inputs.log_lines import KINDS
from calc.presenting.picture import even_times
from calc.presenting.ranges import range_of
from calc.rules.ageing.histories import History, LogLine
from calc.rules.ageing.remaining_life import RemainingLife

MILLIVOLT_STEP = CELL_VOLTS.to_step(0.001)
_TRUSTED = Figure(percent_from_fraction(1) - TREND_MISSES_PERCENT.value, PERCENT)
BECAUSE = f"how far its lines lie from a straight line: the truth is between the ends at least {_TRUSTED} of the time"
_FOLLOWED = f"A line is followed for {TREND_FOLLOWED_TIMES.value:g} times as long as it was seen, and no further."
_PROMISED = "Packs lose capacity faster as they age, so the forecast goes no further ahead than the lines go back."


def share_shown(remaining: RemainingLife) -> Range:
    """Return what the pack has of its own first, now."""
    return range_of(remaining.share.times(percent_from_fraction(1)), PERCENT, BECAUSE)


def left_shown(remaining: RemainingLife, *, by_charges: bool) -> Range | Setting:
    """Return how many charges are left, or months where the pack is followed by days."""
    turn = float if by_charges else months_from_days
    return _left(remaining, CHARGES if by_charges else MONTHS, turn)


def months_left(remaining: RemainingLife, history: History) -> Range | Setting | None:
    """Return the months in which the pack, used as much as so far, makes the charges that are left."""
    days, charges = history.last.day - history.first.day, history.last.charges - history.first.charges
    if not history.goes_by_charges or days <= 0:
        return None
    return _left(remaining, MONTHS, lambda count: months_from_days(count * days / charges))


def _left(remaining: RemainingLife, quantity: Quantity, turn: Callable[[float], float]) -> Range | Setting:
    left = remaining.left
    counted = f"{_PROMISED} Counted from the last line." if remaining.is_cut else "Counted from the last line."
    if left.most < inf:
        return range_of(Span(*(turn(end) for end in (left.least, left.likely, left.most))), quantity, BECAUSE, counted)
    least = Figure(turn(left.least), quantity, "down")
    likely = f", about {Figure(turn(left.likely), quantity)}" if left.likely < inf else ""
    set_by = (
        "no line that fits reaches the end before then"
        if remaining.is_cut
        else "the steepest line that fits; the flattest never gets there"
    )
    return Setting(figure=f"at least {least}{likely}", set_by=set_by, note=f"{_FOLLOWED} {counted}")


def picture_of(history: History, remaining: RemainingLife) -> Picture:
    """Return the capacity as a share of its own first: what was measured, the line, every line that fits, and where the pack is over."""
    now = history.place_of(history.last)
    ahead = remaining.left.likely if remaining.comes else now / 2
    turn = float if history.goes_by_charges else months_from_days
    places = even_times(now + ahead * 1.5 if ahead else now * 1.25)
    first = min(place for place, _ in history.capacities())
    held = remaining.trend.line.at(first)
    edges = [[percent_from_fraction(line.share_at(place, first)) for place in places] for line in remaining.trend.edges]
    likely = [percent_from_fraction(remaining.trend.line.share_at(place, first)) for place in places]
    points = tuple((turn(place), percent_from_fraction(capacity / held)) for place, capacity in history.capacities())
    lowest = [min(values) for values in zip(likely, *edges, strict=True)]
    return Picture(
        caption="Capacity, % of its own first",
        told=f"{_in_words(remaining)} The table line by line has every point.",
        times=tuple(Figure(turn(place), CHARGES if history.goes_by_charges else MONTHS) for place in places),
        panels=(
            Panel(
                title="Capacity of its own first",
                quantity=PERCENT,
                least=max(min(70.0, *(share - 5 for _, share in points)), 0.0),
                most=max(105.0, *(share for _, share in points)),
                likely=tuple(likely),
                lowest=tuple(lowest),
                highest=tuple(max(values) for values in zip(likely, *edges, strict=True)),
                points=points,
                levels=(Level(at=Figure(AGED_PERCENT.value, PERCENT), words="over at"),),
            ),
        ),
        across="since the first line",
        opens=True,
        band=f"Dots are your lines. The line is the most likely course, the band every line that fits them, at least {_TRUSTED} of the time.",
    )


def _in_words(remaining: RemainingLife) -> str:
    share = remaining.share.times(percent_from_fraction(1))
    band = Band(Figure(share.least, PERCENT), Figure(share.most, PERCENT))
    return f"It now holds {Figure(share.likely, PERCENT)} of its own first, {band}."


def lines_table(history: History, first_mah: float | None, first_mohm: float | None) -> Table:
    """Return every line with what it says, to be read out or across."""
    return Table(
        caption="Line by line",
        columns=("Day", "What it was", "Charges so far", "Capacity", "Of its first", "Resistance at 25 °C", "Of its first", "Cells apart"),
        rows=tuple(_row(one, first_mah, first_mohm) for one in history.lines),
    )


def _row(one: LogLine, first_mah: float | None, first_mohm: float | None) -> Row:
    def share(value: float | None, first: float | None) -> Figure | str:
        return "" if value is None or first is None else Figure(percent_from_fraction(value / first), PERCENT)

    return Row(
        heading=day_in_words(one.day),
        cells=(
            KINDS[one.entries.kind],
            Figure(one.charges, CHARGES),
            "" if one.capacity_mah is None else Figure(one.capacity_mah, MILLIAMPERE_HOURS),
            share(one.capacity_mah, first_mah),
            "" if one.resistance_mohm is None else Figure(one.resistance_mohm, MILLIOHMS),
            share(one.resistance_mohm, first_mohm),
            "" if one.spread_v is None else Figure(one.spread_v, MILLIVOLT_STEP),
        ),
    )


def age_shown(history: History) -> Setting:
    """Return how long the log goes back."""
    days = history.last.day - history.first.day
    return Setting(
        figure=Figure(months_from_days(days), MONTHS),
        set_by=f"the lines from {day_in_words(history.first.day)} to {day_in_words(history.last.day)}",
    )


def full_days_shown(history: History) -> Setting:
    """Return for how many days it lay full."""
    return Setting(
        figure=Figure(history.last.full_days, DAYS),
        set_by="from each charge to the flight or the storage move after it",
        note="A pack ages fastest while it is full: bring one that is not flown in the next day or two to storage.",
    )
