"""What a page may weigh, as the plainest host sends it."""

import re
from pathlib import Path

from site_builder.reading.faults import ContentFault

# At the edge of a field's signal, some 50 kbit/s, this takes ten seconds.
MOST_BYTES = 60_000

# A form with a row for each of twelve packs says the same twelve times, and packs to a tenth: its bytes are not the words'.
_FORM = re.compile(r"<form\b.*?</form>", re.S)


def refuse_heavy_page(file: Path, html: str) -> None:
    """Refuse a page whose HTML weighs more than `MOST_BYTES` without its form.

    Raises:
        ContentFault: it names the page.
    """
    weight = len(_FORM.sub("", html).encode())
    if weight > MOST_BYTES:
        sentence = f"The page weighs {weight / 1000:.1f} kB, and {MOST_BYTES / 1000:.0f} kB is the most. Part it in two, or say less."
        raise ContentFault(file, sentence)
