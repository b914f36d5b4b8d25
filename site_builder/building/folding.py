"""Headings with what stands below them as one: behind a line on a calculator's page, and as an act that no sheet of paper parts."""

from __future__ import annotations

import re

_HEADING = re.compile(r"(?=<h2[ >])")
_PARTS = re.compile(r"(<h2[ >].*?</h2>)(.*)", re.DOTALL)


def folded(html: str) -> str:
    """Return a body with each of its second-level headings as the line that unfolds what stands below it; what stands above stays open."""
    above, *sections = _HEADING.split(html)
    parts = [found.groups() for section in sections if (found := _PARTS.fullmatch(section))]
    return above + "".join(f'<details class="words-fold"><summary>{heading}</summary>{words}</details>\n' for heading, words in parts)


def acts_of(html: str) -> list[str]:
    """Return what stands above a body's second-level headings, then each heading with what stands below it."""
    return _HEADING.split(html)
