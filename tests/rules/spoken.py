"""The words of a page as somebody hears them who has them read out."""

import re


def spoken(html: str) -> str:
    """Return what a person hears: no marks, no tags, plain spaces."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", re.sub(r'<a class="source.*?</a>', "", html))).replace("\u00a0", " ").strip()
