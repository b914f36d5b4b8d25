"""What is asked about packs that are to be charged as one. A calculator names this class last among its bases: packs stand first."""

from __future__ import annotations

from dataclasses import dataclass

from calc.asking.equipment import PackEntries, RateEntries
from calc.asking.fields import Group, same_as
from calc.asking.rows import several

TOGETHER = Group("together", "All of them together")


@dataclass(frozen=True, kw_only=True)
class JoinedPackEntries:
    """Two to eight packs, and the rate to charge them at."""

    packs: tuple[PackEntries, ...] = several(PackEntries, "Pack", group_key="packs", least=2, most=8)
    asked_rate_c: float = same_as(RateEntries, "asked_rate_c", group=TOGETHER)
