"""A text as a QR code (ISO/IEC 18004), as SVG from our own template. Runs at build time and in the browser, where it needs no signal.

What encodes is a library. A browser brings it when the first code is wanted: in the snapshot it would weigh five times as much.
"""

from __future__ import annotations

import json
import sys
from itertools import groupby
from types import ModuleType

from site_builder.engine.answer import ENVIRONMENT

_QUIET_MODULES = 4  # ISO/IEC 18004 asks for this margin, as the documentation of a QR library says


_LIBRARY = "segno"


def bring_encoder(modules_json: str) -> None:
    """Make the modules of the library from their texts, in their order: there are no files in the browser."""
    library = sys.modules[_LIBRARY] = ModuleType(_LIBRARY)
    library.__path__ = []
    for name, text in json.loads(modules_json).items():
        module = sys.modules[f"{_LIBRARY}.{name}"] = ModuleType(f"{_LIBRARY}.{name}")
        vars(module)["__package__"] = _LIBRARY
        setattr(library, name, module)
        exec(compile(text, name, "exec"), module.__dict__)


def qr_code(text: str) -> str:
    """Return the text as SVG: black on white in every scheme, since not every phone reads it the other way round."""
    from segno import encoder

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
