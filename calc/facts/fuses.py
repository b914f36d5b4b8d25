"""Fuses: how large one has to be for its load."""

from __future__ import annotations

from calc.facts.cited import Cited, Sure

FUSE_OVER_LOAD = Cited(1.25, "nec-210-20", Sure.SECOND_HAND, "at least 125 % of a load that goes on for hours")
