"""The environment of Fieldslate, .venv: made by venv and filled by pip from a lock that has a hash for every package.

Node comes with it, as a package like any other. Nothing is installed anywhere else.
"""

import os
import subprocess
import sys
from pathlib import Path

from site_builder.setting_up.checkout import LOCKS, VENV
from site_builder.setting_up.failures import SetUpFailed, download_failed, with_lines
from site_builder.setting_up.running import run, say
from site_builder.setting_up.stamps import digest, once

PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
# Nothing is compiled ahead: of most packages few modules are ever used, and Python compiles these when they are.
PIP = [
    *("-m", "pip", "install", "--no-input", "--no-compile", "--progress-bar=off"),
    *("--disable-pip-version-check", "--require-hashes", "-r"),
]
PYTHON_HERE = f"{sys.version_info.major}.{sys.version_info.minor}"


def enter(lock: str, arguments: list[str]) -> None:
    """Go on with the same command inside .venv, once that holds all that the lock names."""
    is_inside = Path(sys.prefix).resolve() == VENV.resolve()
    if not is_inside:
        made = VENV / "made"
        if not PYTHON.exists():  # its Python was removed from the machine
            made.unlink(missing_ok=True)
        # Its programs name the folder and its packages fit one Python: after a move or with another Python it is made anew.
        once(made, f"{VENV} {PYTHON_HERE}", _make)
    once(VENV / f"installed-{lock}", digest(LOCKS / f"{lock}.txt"), lambda: _install(lock))
    if is_inside:
        return
    command = [str(PYTHON), "-m", "site_builder", *arguments]
    if os.name == "nt":  # there, execv would hand the terminal back while the command still runs
        sys.exit(subprocess.call(command))
    os.execv(command[0], command)


def _make() -> None:
    say(f"Making {VENV.name} with Python {PYTHON_HERE}")
    made = run([sys.executable, "-m", "venv", "--clear", VENV])
    if not made.well:
        # Where a part of Python is missing, as on a bare Debian, it says itself which package to install.
        raise SetUpFailed(
            with_lines(f"{VENV} could not be made. Put right what stands below, then give the same command again:", made.output)
        )


def _install(lock: str) -> None:
    say(f"Installing what the lock {lock} names into {VENV.name}")
    # A user's own setting for installs outside of environments makes pip refuse.
    installed = run([PYTHON, *PIP, LOCKS / f"{lock}.txt"], r"^(Collecting|Processing) [^ ;]+", {"PIP_USER": "0"})
    if not installed.well:
        raise download_failed("pip", installed.output, meant=f"the packages of the lock {lock}")
