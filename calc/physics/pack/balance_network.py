"""Packs whose balance plugs meet on a board: the current in every cell, every wire of a balance plug and every main lead.

Each pack is a ladder: a tap at its minus, one above each cell, the last its plus. A wire of the balance plug leads from each tap to
the point of the board where all taps of that place meet; the main leads lead from the two ends to a point of their own. What the
packs have in common drives nothing; the difference of two cells of one place drives a current that only these resistances limit.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum
from typing import NamedTuple


class Ladder(NamedTuple):
    """A pack as the board sees it: the resting voltage of each cell from the minus on, V, and the resistance of one cell, Ω."""

    cell_v: tuple[float, ...]
    cell_ohm: float


class Flow(NamedTuple):
    """What flows in one pack, A: into each of its cells, and into it through each wire of its balance plug, both from the minus on."""

    cells_a: tuple[float, ...]
    wires_a: tuple[float, ...]


class _Way(NamedTuple):
    """A way from a tap of each pack to a point where all packs meet: which tap, and its conductance, 1/Ω."""

    tap: int
    siemens: float


def flows_on_the_board(ladders: Sequence[Ladder], *, wire_ohm: float, lead_ohm: float | None = None) -> list[Flow]:
    """Return what flows in each pack, A, once its balance plug is on the board; all packs have one cell count.

        sum of I = 0 at each tap and at each point of the board,  I = (U - V - E) / R        U, V, E in V, R in ohm

    Args:
        ladders: one pack or more.
        wire_ohm: one wire of a balance plug with its contact, Ω, above 0.
        lead_ohm: the main leads of one pack, there and back, Ω, above 0; None where they are not joined.

    Source: Kirchhoff's rules, solved as nodal analysis.

    >>> flows = flows_on_the_board([Ladder((4.0,), 0.01), Ladder((3.9,), 0.01)], wire_ohm=0.02)
    >>> [round(flow.cells_a[0], 6) for flow in flows]
    [-1.0, 1.0]
    """
    cells = len(ladders[0].cell_v)
    ways = [_Way(tap, 1 / wire_ohm) for tap in range(cells + 1)]
    if lead_ohm is not None:
        # Half of what the main leads have there and back lies on each side.
        ways += [_Way(0, 2 / lead_ohm), _Way(cells, 2 / lead_ohm)]
    # Packs of one kind have the same cells: what their taps answer to a current is worked out once.
    answers = {ohm: _tap_answers(cells, ohm, ways) for ohm in {one.cell_ohm for one in ladders}}
    drives = [_drives_a(one) for one in ladders]
    alone_v = [_product(answers[one.cell_ohm], drive) for one, drive in zip(ladders, drives, strict=True)]
    meeting_v = _meeting_points_v([answers[one.cell_ohm] for one in ladders], alone_v, ways)
    flows = []
    for one, drive in zip(ladders, drives, strict=True):
        into_taps = list(drive)
        for way, point_v in zip(ways, meeting_v, strict=True):
            into_taps[way.tap] += way.siemens * point_v
        tap_v = _product(answers[one.cell_ohm], into_taps)
        flows.append(
            Flow(
                cells_a=tuple(
                    (above - below - rest_v) / one.cell_ohm for below, above, rest_v in zip(tap_v, tap_v[1:], one.cell_v, strict=False)
                ),
                wires_a=tuple((meeting_v[tap] - tap_v[tap]) / wire_ohm for tap in range(cells + 1)),
            )
        )
    return flows


def _drives_a(ladder: Ladder) -> list[float]:
    """What the cells drive into each tap if all taps were held at one voltage: each cell out of its plus, and into its minus."""
    into = [0.0] * (len(ladder.cell_v) + 1)
    for place, rest_v in enumerate(ladder.cell_v):
        into[place] -= rest_v / ladder.cell_ohm
        into[place + 1] += rest_v / ladder.cell_ohm
    return into


def _tap_answers(cells: int, cell_ohm: float, ways: Sequence[_Way]) -> list[list[float]]:
    """By how many volts each tap rises for an ampere into each tap, with all points of the board held at 0 V."""
    siemens = [[0.0] * (cells + 1) for _ in range(cells + 1)]
    for place in range(cells):
        for row, column, sign in ((place, place, 1), (place + 1, place + 1, 1), (place, place + 1, -1), (place + 1, place, -1)):
            siemens[row][column] += sign / cell_ohm
    for way in ways:
        siemens[way.tap][way.tap] += way.siemens
    unit = [[float(row == column) for column in range(cells + 1)] for row in range(cells + 1)]
    return _solved(siemens, unit)


def _meeting_points_v(answers: Sequence[list[list[float]]], alone_v: Sequence[list[float]], ways: Sequence[_Way]) -> list[float]:
    """The voltage of each point of the board, the first of them 0 V: what flows into a point from all packs together is 0."""
    matrix = [
        [
            fsum((one.siemens if row == column else 0.0) - one.siemens * other.siemens * answer[one.tap][other.tap] for answer in answers)
            for column, other in enumerate(ways)
        ]
        for row, one in enumerate(ways)
    ]
    into = [[fsum(one.siemens * tap_v[one.tap] for tap_v in alone_v)] for one in ways]
    found = _solved([row[1:] for row in matrix[1:]], into[1:])
    return [0.0, *(point_v for (point_v,) in found)]


def _product(matrix: list[list[float]], vector: Sequence[float]) -> list[float]:
    return [fsum(factor * value for factor, value in zip(row, vector, strict=True)) for row in matrix]


def _solved(matrix: list[list[float]], columns: list[list[float]]) -> list[list[float]]:
    """Gauss's elimination of several columns at once; the matrix is symmetric with a heavy diagonal, so no row changes its place."""
    rows = [[*left, *right] for left, right in zip(matrix, columns, strict=True)]
    size = len(rows)
    for place in range(size):
        pivot = rows[place]
        for other in range(size):
            if other != place and rows[other][place]:
                share = rows[other][place] / pivot[place]
                rows[other] = [value - share * over for value, over in zip(rows[other], pivot, strict=True)]
    return [[value / row[place] for value in row[size:]] for place, row in enumerate(rows)]
