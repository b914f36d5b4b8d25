"""Build dist/ once and run the tests on it. What follows the command goes to pytest: test -k name.

`test --quick` builds nothing and opens no browser: it runs what tells most in a minute.
"""

import os
import subprocess
import sys

from site_builder.commands import build
from site_builder.setting_up.browsers import fetch_other_browsers, find_browser
from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.node import node_modules
from site_builder.setting_up.running import say

QUICK = "--quick"
QUICK_TESTS = ["tests/units", "tests/published", "tests/rules"]


def run(arguments: list[str]) -> int:
    if QUICK in arguments:
        node_modules()
        return _pytest([*QUICK_TESTS, *(argument for argument in arguments if argument != QUICK)])
    browser = find_browser()
    fetch_other_browsers()
    build.run([])
    say(f"Testing with {browser}")
    return _pytest(arguments, FIELDSLATE_BROWSER=str(browser))


def _pytest(arguments: list[str], **environment: str) -> int:
    # Much of the time goes into waiting for pages: one browser more than there are cores, and each takes the next file in the order of
    # tests/conftest.py. What the tests of a file share is then made once.
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-n",
        str((os.cpu_count() or 1) + 1),
        "--dist",
        "loadfile",
        "--no-loadscope-reorder",
        *arguments,
    ]
    # One order of sets: all of them must find the same tests. Python keeps what it has compiled, also where a machine's own setting says
    # not to: each process would compile all of it anew, and pytest takes every assert apart besides.
    settings = {"PYTHONHASHSEED": "0", "PYTHONDONTWRITEBYTECODE": ""}
    return subprocess.call(command, cwd=ROOT, env=os.environ | settings | environment)
