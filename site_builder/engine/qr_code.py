"""A text as a QR code (ISO/IEC 18004), as SVG from our own template. Runs at build time and in the browser, where it needs no signal."""

from __future__ import annotations

from itertools import groupby

from segno import encoder

from site_builder.engine.answer import ENVIRONMENT

_QUIET_MODULES = 4  # ISO/IEC 18004 asks for this margin, as the documentation of a QR library says


def qr_code(text: str) -> str:
    """Return the text as SVG: black on white in every scheme, since not every phone reads it the other way round."""
    # Of level M a seventh may be torn, dirty or in the glare of the sun. Bytes, as an address is: to look for another mode takes longer.
    code = encoder.encode(text, error="m", mode="byte", encoding="iso-8859-1", micro=False)  # type: ignore[no-untyped-call]  # the library has types at its door alone
    size = len(code.matrix) + 2 * _QUIET_MODULES
    bars = "".join(_bars(row, y) for y, row in enumerate(code.matrix, _QUIET_MODULES))
    return ENVIRONMENT.get_template("parts/qr_code.html").render(size=size, bars=bars)


def _bars(row: bytearray, y: int) -> str:
    """Return a row of modules as the outlines of its black bars."""
    bars, x = "", _QUIET_MODULES
    for is_black, run in groupby(row):
        length = len(list(run))
        bars += f"M{x} {y}h{length}v1h-{length}z" if is_black else ""
        x += length
    return bars
