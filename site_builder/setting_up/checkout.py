"""Where things stand in the checkout."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DIST = ROOT / "dist"
VENV = ROOT / ".venv"
CACHE = ROOT / ".cache"
LOCKS = ROOT / "site_builder" / "setting_up" / "locks"
NODE_MODULES = ROOT / "node_modules"
NPM_LISTS = (ROOT / "package.json", ROOT / "package-lock.json")
