"""What to say of packs that one balance port of the charger cannot take, on a page that does not ask how their cells are shared out."""

from __future__ import annotations

from collections.abc import Sequence

from calc.figures.sentences import joined_with_and
from calc.figures.showing import Caution


def cautions_of_two_plugs(titles: Sequence[str]) -> tuple[Caution, ...]:
    """Return how these packs, each of which needs two balance ports, are plugged in; nothing where there are none.

    >>> cautions_of_two_plugs(["Pack 1"])[0].sentence[:53]
    'Pack 1 has more cells than one balance port takes. Pu'
    """
    if not titles:
        return ()
    has, their = ("has", "its") if len(titles) == 1 else ("have", "their")
    sentence = (
        f"{joined_with_and(titles)} {has} more cells than one balance port takes. Put each of {their} two balance plugs into a port of its "
        "own that takes all of its cells. A pack with only one plug needs another charger."
    )
    return (Caution(sentence=sentence),)
