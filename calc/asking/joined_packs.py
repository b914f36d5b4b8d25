"""What is asked about packs that are to be charged as one. A calculator names this class last among its bases: packs stand first."""

from __future__ import annotations

from dataclasses import dataclass

from calc.asking.equipment import PackEntries
from calc.asking.fields import Group, number
from calc.asking.rows import several
from calc.figures.quantities import RATE

TOGETHER = Group("together", "All of them together")


@dataclass(frozen=True, kw_only=True)
class JoinedPackEntries:
    """Two to eight packs, and the rate to charge them at."""

    packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=2, most=8)
    asked_rate_c: float = number(
        "Charge rate you want", RATE, group=TOGETHER, least=0.05, most=20, starts_as="1", hint="1C is kind to every pack.",
    )
