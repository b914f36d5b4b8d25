"""Build dist/ once and run the tests on it. What follows the command goes to pytest: test -k name."""

import os
import subprocess
import sys

from site_builder.commands import build
from site_builder.setting_up.browsers import fetch_other_browsers, find_browser
from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.running import say


def run(arguments: list[str]) -> int:
    browser = find_browser()
    fetch_other_browsers()
    build.run([])
    say(f"Testing with {browser}")
    # Most of the time goes into waiting for pages: each core drives a browser of its own, and takes over what another has left.
    command = [sys.executable, "-m", "pytest", "-n", "auto", "--dist", "worksteal", *arguments]
    # One order of sets: all of them must find the same tests.
    return subprocess.call(command, cwd=ROOT, env=os.environ | {"FIELDSLATE_BROWSER": str(browser), "PYTHONHASHSEED": "0"})
