"""The way from the poster to the briefing: the site's own address, which only whoever publishes it knows."""

from __future__ import annotations

import argparse
from urllib.parse import urlsplit

BRIEFING = "briefing.html"


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
