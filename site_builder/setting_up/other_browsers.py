"""Firefox and WebKitGTK for the journey that every engine must make: the machine's own, else what apt gives to root on Debian.

Nothing waits for them: without one of them, the journey is made without it, and says what would have to be installed.
"""

import shutil
from pathlib import Path

from site_builder.setting_up.browser import apt_installs, is_root_on_debian

FIREFOX_PACKAGES = ("firefox-esr",)
WEBKIT_PACKAGES = ("libwebkit2gtk-4.1-0", "xvfb")  # the first brings a small browser along, the second a screen for it
_FIREFOX_NAMES = ("firefox-esr", "firefox")
_ROOT = Path("/")
_MINI_BROWSERS = "usr/lib/*/webkit2gtk-4.*/MiniBrowser"


def fetch_other_browsers() -> None:
    """Have apt install what is missing, where it can."""
    for found, packages in ((firefox_program(), FIREFOX_PACKAGES), (webkit_programs(), WEBKIT_PACKAGES)):
        if not found and is_root_on_debian():
            apt_installs(*packages)


def firefox_program() -> str | None:
    return next((found for found in map(shutil.which, _FIREFOX_NAMES) if found), None)


def webkit_programs() -> tuple[str, str] | None:
    """Return the browser and the screen that WebKitGTK needs, or None where one of them is missing."""
    mini_browser = next(iter(sorted(_ROOT.glob(_MINI_BROWSERS), reverse=True)), None)
    screen = shutil.which("Xvfb")
    return (str(mini_browser), screen) if mini_browser and screen else None
