"""The browsers of the tests: the Chromium that all of them need, and Firefox and WebKitGTK for one journey in each.

The headless Chromium opens a page in half the time, so it comes first. Root on Debian has apt install whatever is missing; else a Chromium of
the machine's own is taken, or Playwright downloads one. Without Firefox or WebKitGTK the journey leaves it out, and says what to install.
"""

import os
import shutil
import sys
from pathlib import Path

from site_builder.setting_up.failures import SetUpFailed, with_lines
from site_builder.setting_up.node import node_program
from site_builder.setting_up.running import run, say

SHELL = "chromium-headless-shell"
CHROMIUM_NAMES = (SHELL, "chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
FIREFOX_NAMES = ("firefox-esr", "firefox")
FIREFOX_PACKAGES = ("firefox-esr",)
WEBKIT_PACKAGES = ("libwebkit2gtk-4.1-0", "xvfb")  # the first brings a small browser along, the second a screen for it
MINI_BROWSERS = "usr/lib/*/webkit2gtk-4.*/MiniBrowser"
SYSTEM = Path("/")
ASK_PLAYWRIGHT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""
NO_CHROMIUM = """\
The tests need a browser, and none could be found or fetched.
What to do: install Chromium so that the command chromium starts it (on Debian: apt install chromium, as root), then give the same \
command again."""


def find_browser() -> Path:
    """Return the executable of a Chromium that starts; fetch one if the machine has none."""
    # Playwright's own node lacks a library on a bare Debian. The setting holds for the tests, too.
    os.environ["PLAYWRIGHT_NODEJS_PATH"] = str(node_program())
    if not shutil.which(SHELL):
        _apt_installs(SHELL)
    if browser := _on_the_path() or _downloaded_by_playwright() or (_apt_installs("chromium") and _on_the_path()):
        return browser
    raise SetUpFailed(NO_CHROMIUM)


def fetch_other_browsers() -> None:
    """Have apt install Firefox and WebKitGTK, where it can and they are missing."""
    for found, packages in ((firefox_program(), FIREFOX_PACKAGES), (webkit_programs(), WEBKIT_PACKAGES)):
        if not found:
            _apt_installs(*packages)


def firefox_program() -> str | None:
    return next(filter(None, map(shutil.which, FIREFOX_NAMES)), None)


def webkit_programs() -> tuple[str, str] | None:
    """Return the browser and the screen that WebKitGTK needs, or None where one of them is missing."""
    mini_browser = next(iter(sorted(SYSTEM.glob(MINI_BROWSERS), reverse=True)), None)
    screen = shutil.which("Xvfb")
    return (str(mini_browser), screen) if mini_browser and screen else None


def _on_the_path() -> Path | None:
    return next((Path(program) for program in map(shutil.which, CHROMIUM_NAMES) if program and _starts(program)), None)


def _downloaded_by_playwright() -> Path | None:
    browser = Path(run([sys.executable, "-c", ASK_PLAYWRIGHT]).output)
    if not browser.is_file():
        say("No Chromium on the path: Playwright downloads one (about 180 MB)")
        fetched = run([sys.executable, "-m", "playwright", "install", "--no-shell", "chromium"], r"\d+% of .+")
        if not fetched.well:
            say(with_lines("Playwright could not download it:", fetched.output, most=3))
    return browser if _starts(browser) else None


def _apt_installs(*packages: str) -> bool:
    """Have apt install packages, for root on Debian, and say whether it did."""
    if not is_root_on_debian():
        return False
    named = " and ".join(packages)
    say(f"Installing {named} with apt-get")
    for step in (["update"], ["install", "-y", "--no-install-recommends", *packages]):
        done = run(["apt-get", *step], rf"^(Need to get|Setting up ({'|'.join(packages)})).*", {"DEBIAN_FRONTEND": "noninteractive"})
        if not done.well:
            say(with_lines(f"apt-get could not install {named}:", done.output, most=3))
            return False
    return True


def is_root_on_debian() -> bool:
    return Path("/etc/debian_version").exists() and os.geteuid() == 0


def _starts(browser: str | Path) -> bool:
    """Say whether a browser starts: a stub that only tells what to install does not, nor does one that lacks a library."""
    return run([browser, "--version"]).well
