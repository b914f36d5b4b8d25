"""Pin again all that Fieldslate installs: pyproject.toml -> setting_up/locks/*.txt, .npm/package.json -> package-lock.json.

Versions that still fit are kept; `lock --upgrade` takes the newest that fit. The hashes are those of every file that
the package index has, so one lock serves all machines and every Python from the oldest on.
"""

import json
import sys
import tempfile
from pathlib import Path

from site_builder.setting_up.checkout import LOCKS, NPM_LISTS, ROOT
from site_builder.setting_up.failures import download_failed
from site_builder.setting_up.node import run_npm
from site_builder.setting_up.python_version import OLDEST
from site_builder.setting_up.running import run as run_program
from site_builder.setting_up.running import say

# lock: what of pyproject.toml goes into it. The test lock is held to the versions of the run lock: both fill one .venv.
PARTS = {"run": [], "test": ["--extra=test", f"--constraint={(LOCKS / 'run.txt').relative_to(ROOT)}"]}
OPTIONS = (
    "--universal",
    "--generate-hashes",
    f"--python-version={OLDEST[0]}.{OLDEST[1]}",
    "--custom-compile-command=python3 -m site_builder lock",
)


def run(arguments: list[str]) -> int:
    with tempfile.TemporaryDirectory() as folder:
        # Not into .venv: what pins it is no part of what it pins.
        _do("pip", [sys.executable, "-m", "pip", "install", "--no-input", "--target", folder, "uv"], meant="uv")
        for lock, part in PARTS.items():
            say(f"Pinning {lock}.txt")
            output = f"--output-file={(LOCKS / lock).relative_to(ROOT)}.txt"
            uv = [sys.executable, "-m", "uv", "pip", "compile", "pyproject.toml", *part, *OPTIONS, output, *arguments]
            _do("uv", uv, meant=f"what {lock}.txt pins", PYTHONPATH=folder)
    say("Pinning package-lock.json")
    run_npm("install", "--package-lock-only", "--omit-lockfile-registry-resolved", "--ignore-scripts", "--no-audit", "--no-fund")
    _leave_out_who_asks_for_money(NPM_LISTS[1])
    return 0


def _leave_out_who_asks_for_money(lock: Path) -> None:
    """npm notes an address for gifts beside some packages. No lock holds an address."""
    held = json.loads(lock.read_text(encoding="utf-8"))
    for package in held["packages"].values():
        package.pop("funding", None)
    lock.write_text(json.dumps(held, indent=2) + "\n", encoding="utf-8")


def _do(program: str, command: list[str], meant: str, **environment: str) -> None:
    done = run_program(command, environment=environment, folder=ROOT)
    if not done.well:
        raise download_failed(program, done.output, meant)
