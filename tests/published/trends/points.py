"""Random points with a line in them, scattered and with a slip here and there: the same on every machine."""

from __future__ import annotations

from pathlib import Path
from random import Random

FROZEN = Path(__file__).with_name("slopes.csv")
SETS = 200


def points(number: int) -> list[tuple[float, float]]:
    """Return the points of one set: from five to forty, at places of their own."""
    chance = Random(number)
    count = 5 + number % 36
    places = sorted(chance.sample(range(200), count))
    slope = chance.uniform(-0.5, 0.5)

    def value(place: int) -> float:
        slip = chance.choice((-15, 15)) if chance.random() < 0.1 else 0
        return round(100 + slope * place + chance.gauss(0, 2) + slip, 2)

    return [(float(place), value(place)) for place in places]
