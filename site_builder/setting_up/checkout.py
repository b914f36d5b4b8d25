"""Where things stand in the checkout."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DIST = ROOT / "dist"
CONTENT = ROOT / "content"
WEB = ROOT / "site_builder" / "web"
TEMPLATES = ROOT / "site_builder" / "templates"
VENV = ROOT / ".venv"
CACHE = ROOT / ".cache"
LOCKS = ROOT / "site_builder" / "setting_up" / "locks"
NPM = ROOT / ".npm"
NODE_MODULES = NPM / "node_modules"
NPM_LISTS = (NPM / "package.json", NPM / "package-lock.json")
