"""The web app manifest: what a phone needs to know to put Fieldslate on its home screen.

Every address in it is relative, so that the app can be installed from any static host and under a sub-path.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from site_builder.building.icons import PAPER, TEAL
from site_builder.reading.pages import Page

# What a long press on the icon offers: the page that cannot wait, then the page that is used most.
_SHORTCUTS = ("pack-in-trouble", "charge-settings")


def write_manifest(dist: Path, pages: Sequence[Page]) -> None:
    """Write manifest.webmanifest into `dist`, with the name and the description of the home page."""
    by_key = {page.key: page for page in pages}
    home = by_key["index"]
    manifest = {
        "name": home.title,
        "short_name": home.title,
        "description": home.description,
        "lang": "en",
        "dir": "ltr",
        "start_url": f"./{home.address}",
        "scope": "./",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": TEAL,
        "icons": [
            {"src": "icons/icon.svg", "sizes": "any", "type": "image/svg+xml", "purpose": "any"},
            _png("icon-192", 192, "any"),
            _png("icon-512", 512, "any"),
            _png("icon-maskable-512", 512, "maskable"),
        ],
        "shortcuts": [
            {"name": page.title, "url": f"./{page.address}", "description": page.description}
            for page in (by_key[key] for key in _SHORTCUTS)
        ],
    }
    text = json.dumps(manifest, indent=2, ensure_ascii=False) + "\n"
    (dist / "manifest.webmanifest").write_text(text, encoding="utf-8", newline="\n")


def _png(name: str, side: int, purpose: str) -> dict[str, str]:
    return {"src": f"icons/{name}.png", "sizes": f"{side}x{side}", "type": "image/png", "purpose": purpose}
