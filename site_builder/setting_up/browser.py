"""A Chromium for the tests and the screenshots: the machine's own, else one that is fetched."""

import os
import re
import shutil
import sys
from pathlib import Path

from site_builder.setting_up.failures import SetUpFailed, telling_lines
from site_builder.setting_up.running import run, say

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")

ASK_PLAYWRIGHT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""


def find_browser() -> Path:
    """Return the executable of a browser that starts; fetch one if the machine has none."""
    make_playwright_start()
    for source in (on_the_path, downloaded_by_playwright, installed_by_apt):
        browser = source()
        if browser:
            return browser
    raise SetUpFailed(
        "The tests need a browser, and none could be found or fetched.\n"
        "What to do: install Chromium so that the command chromium starts it "
        "(on Debian: apt install chromium, as root), then give the same command again."
    )


def on_the_path() -> Path | None:
    found = (shutil.which(name) for name in NAMES)
    return next((Path(program) for program in found if program and starts(program)), None)


def downloaded_by_playwright() -> Path | None:
    """Return Playwright's own Chromium, downloaded now if that was not done before."""
    asked = run([sys.executable, "-c", ASK_PLAYWRIGHT])
    browser = Path(asked.output)
    if asked.well and not browser.is_file():
        say("No Chromium on the path: Playwright downloads one (about 180 MB)")
        fetched = run([sys.executable, "-m", "playwright", "install", "--no-shell", "chromium"], shown=playwright_progress)
        if not fetched.well:
            say("\n    ".join(["Playwright could not download it:", *telling_lines(fetched.output, most=3)]))
    return browser if asked.well and starts(browser) else None


def installed_by_apt() -> Path | None:
    return on_the_path() if is_root_on_debian() and apt_installs("chromium") else None


def make_playwright_start() -> None:
    """See that Playwright, which drives the browser, starts: a bare Debian lacks a library that it needs."""
    asked = run([sys.executable, "-m", "playwright", "--version"])
    if asked.well or (is_root_on_debian() and apt_installs("libatomic1")):
        return
    raise SetUpFailed(
        "Playwright, which drives the browser in the tests, does not start. It says:\n"
        + "\n".join(f"    {line}" for line in telling_lines(asked.output))
        + "\nWhat to do: install the library that it names (on Debian: apt install libatomic1), then give the same command again."
    )


def apt_installs(*packages: str) -> bool:
    named = " and ".join(packages)
    say(f"Installing {named} with apt-get")
    for step in (["update"], ["install", "-y", "--no-install-recommends", *packages]):
        done = run(["apt-get", *step], shown=apt_progress, environment={"DEBIAN_FRONTEND": "noninteractive"})
        if not done.well:
            say("\n    ".join([f"apt-get could not install {named}:", *telling_lines(done.output, most=3)]))
            return False
    return True


def is_root_on_debian() -> bool:
    return Path("/etc/debian_version").exists() and os.geteuid() == 0


def starts(browser: str | Path) -> bool:
    """Say whether a browser starts: a stub that only tells what to install does not, nor one that lacks a library."""
    return run([browser, "--version"]).well


def playwright_progress(line: str) -> str | None:
    part_done = re.search(r"\d+% of .+", line)
    return f"  {part_done[0]}" if part_done else None


def apt_progress(line: str) -> str | None:
    return f"  {line}" if re.match(r"Need to get|Setting up (chromium|firefox-esr|libwebkit2gtk|xvfb)", line) else None
