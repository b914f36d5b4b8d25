"""What a page may weigh, as the plainest host sends it."""

from pathlib import Path

from site_builder.reading.faults import ContentFault

# At the edge of a field's signal, some 50 kbit/s, this takes ten seconds.
MOST_BYTES = 60_000


def refuse_heavy_page(file: Path, html: str) -> None:
    """Refuse a page whose HTML weighs more than `MOST_BYTES`, its form included.

    Raises:
        ContentFault: it names the page.
    """
    weight = len(html.encode())
    if weight > MOST_BYTES:
        sentence = f"The page weighs {weight / 1000:.1f} kB, and {MOST_BYTES / 1000:.0f} kB is the most. Part it in two, or say less."
        raise ContentFault(file, sentence)
