"""The way from the poster to the briefing: the site's own address, which only whoever publishes it knows, as a QR code."""

from __future__ import annotations

import argparse
from urllib.parse import urlsplit

import segno

BRIEFING = "briefing.html"
_QUIET_MODULES = 4  # ISO/IEC 18004 asks for this margin, as the documentation of a QR library says


def published_address(typed: str) -> str:
    """Return the address of the folder in which the site is published, with a slash at its end.

    Raises:
        argparse.ArgumentTypeError: a phone could not keep Fieldslate from there.
    """
    parts = urlsplit(typed.strip())
    if parts.scheme != "https" or not parts.hostname:
        raise argparse.ArgumentTypeError("begin it with https:// and the host. From elsewhere a phone cannot keep Fieldslate")
    if parts.query or parts.fragment or parts.path.endswith(".html"):
        raise argparse.ArgumentTypeError("give the folder alone, without a page and without what stands behind ? or #")
    return f"https://{parts.netloc}{parts.path.rstrip('/')}/"


def qr_code(address: str) -> str:
    """Return the address as SVG: black on white in every scheme, since not every phone reads it the other way round."""
    code = segno.make_qr(address, error="m")  # a seventh of it may be torn or dirty
    return code.svg_inline(border=_QUIET_MODULES, dark="#000", light="#fff", omitsize=True, svgclass=None, lineclass=None)
