"""Pin again all that Fieldslate installs: pyproject.toml -> locks/*.txt, npm/package.json -> npm/package-lock.json.

Versions that still fit are kept; `lock --upgrade` takes the newest that fit. The hashes are those of every file that
the package index has, so one lock serves all machines and every Python from the oldest on.
"""

import json
import sys
import tempfile
from pathlib import Path

from site_builder.setting_up.checkout import LOCKS, NPM_LIST, ROOT
from site_builder.setting_up.environment import Environment, refuse_without_venv
from site_builder.setting_up.failures import download_failed
from site_builder.setting_up.node import run_npm
from site_builder.setting_up.python_version import OLDEST
from site_builder.setting_up.running import run as run_program
from site_builder.setting_up.running import say

# lock: what of pyproject.toml goes into it. The test lock is held to the versions of the run lock: both fill one .venv.
PARTS = {
    "run": ["pyproject.toml"],
    "test": ["pyproject.toml", "--extra=test", "--constraint=site_builder/setting_up/locks/run.txt"],
    "node": ["--group=node"],
}


def run(arguments: list[str]) -> int:
    refuse_without_venv()
    with tempfile.TemporaryDirectory() as folder:
        throwaway = Environment(Path(folder) / "uv")
        run_program([sys.executable, "-m", "venv", throwaway.folder])
        _do("pip", [throwaway.python, "-m", "pip", "install", "--no-input", "uv"], meant="uv")
        for lock, part in PARTS.items():
            say(f"Pinning {lock}.txt")
            _do("uv", [throwaway.programs / "uv", "pip", "compile", *part, *_options(lock), *arguments], meant=f"what {lock}.txt pins")
    say("Pinning package-lock.json")
    run_npm(
        ["install", "--package-lock-only", "--omit-lockfile-registry-resolved", "--ignore-scripts", "--no-audit", "--no-fund"],
        NPM_LIST,
        meant="what package.json names",
    )
    _leave_out_who_asks_for_money(NPM_LIST / "package-lock.json")
    return 0


def _leave_out_who_asks_for_money(lock: Path) -> None:
    """npm notes an address for gifts beside some packages. No lock holds an address."""
    held = json.loads(lock.read_text(encoding="utf-8"))
    for package in held["packages"].values():
        package.pop("funding", None)
    lock.write_text(json.dumps(held, indent=2) + "\n", encoding="utf-8")


def _options(lock: str) -> list[str]:
    return [
        "--universal",
        "--generate-hashes",
        f"--python-version={OLDEST[0]}.{OLDEST[1]}",
        "--custom-compile-command=python3 -m site_builder lock",
        f"--output-file={(LOCKS / lock).relative_to(ROOT)}.txt",
    ]


def _do(program: str, command: list[str | Path], meant: str) -> None:
    done = run_program(command, folder=ROOT)
    if not done.well:
        raise download_failed(program, done.output, meant)
