"""What is chosen by one tap: the words on its buttons."""

from __future__ import annotations

from calc.facts.chemistries import CHEMISTRIES
from calc.figures.quantities import CELL_VOLTS, Figure
from calc.inputs.equipment import CHEMISTRY_CHOICES, WARMTH_CHOICES
from calc.inputs.fields import Entry
from calc.inputs.own_things import LABEL, SHORT_KINDS

# What most packs at a field are.
MOST_KINDS = {key: f"{SHORT_KINDS[key]} {Figure(CHEMISTRIES[key].full_cell_v.value, CELL_VOLTS)}" for key in ("lipo", "lihv", "liion")}
_WARMTHS = {key: words.split(":")[0] for key, words in WARMTH_CHOICES.items()}


def taps_of(entry: Entry) -> dict[str, str]:
    """Return the buttons of a choice, its option to the words on it; none for a choice that is a list alone. What has no button is behind
    one that opens the list.

    A pack that is kept is made once, so it has all kinds. In the rows of several packs there is no room for them.
    """
    if entry.options == WARMTH_CHOICES:
        return _WARMTHS
    if entry.options != CHEMISTRY_CHOICES or entry.group.row:
        return {}
    return SHORT_KINDS if entry.group == LABEL else MOST_KINDS
