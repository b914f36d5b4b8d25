"""Tools that read the code and find what no test of a number would: each is a test, and prints its own lines and what mends them."""

from __future__ import annotations

import keyword
import re
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from site_builder.setting_up.checkout import CACHE, NPM, ROOT
from site_builder.setting_up.node import node_modules, node_program
from site_builder.setting_up.running import run

# Python that is called from here is not called from Python: templates and scripts name fields, the club names entries, and
# the browser tests are driven by site_builder's own pilot.
NAMED_IN = ("site_builder/**/*.html", "site_builder/**/*.*js", "content/club.toml", "tests/browser/*.py")

# The page shows every part of an answer, and the page of sources every number that is cited, whatever they are called.
SHOWN = {"calc/calculators": r"(\w+): .* = shown\(", "calc/facts": r"(?m)^([A-Z_0-9]+) = (?:Cited|practice)\("}
PATHS = ("calc", "site_builder")


def said_by(tool: str, *arguments: str | Path) -> tuple[int, str]:
    if find_spec(tool) is None:
        pytest.fail(f"{tool} is not in .venv: python3 -m site_builder test installs it")
    finished = subprocess.run([sys.executable, "-m", tool, *arguments], cwd=ROOT, capture_output=True, text=True, check=False)
    return finished.returncode, f"\n{finished.stdout}{finished.stderr}"


def test_no_python_holds_a_fault_or_an_argument_that_nothing_uses() -> None:
    code, said = said_by("ruff", "check", "--output-format=concise")
    assert code == 0, said + "Have it mend what it can by itself: .venv/bin/ruff check --fix"


def test_the_code_is_laid_out_as_the_formatter_has_it() -> None:
    code, said = said_by("ruff", "format", "--check")
    assert code == 0, said + "Have it lay the code out: .venv/bin/ruff format"


def test_the_types_hold_in_strict_mode() -> None:
    code, said = said_by("mypy")
    assert code == 0, said + "Correct each line that is named, then look again: .venv/bin/mypy"


def test_no_script_holds_a_fault_or_a_name_that_nothing_uses() -> None:
    config = NPM / "eslint.config.mjs"
    eslint = [node_program(), node_modules() / "eslint" / "bin" / "eslint.js", "--config", config]
    finished = run([*eslint, "--cache", "--cache-location", CACHE / "eslint", "site_builder", "tests"], folder=ROOT)
    assert finished.well, (
        f"\n{finished.output}\nHave it mend what it can by itself: the command at the top of {config.relative_to(ROOT)}, with --fix"
    )


def test_no_code_is_left_that_nothing_uses(tmp_path: Path) -> None:
    named = {
        word
        for folder, declared in SHOWN.items()
        for file in (ROOT / folder).rglob("*.py")
        for word in re.findall(declared, file.read_text(encoding="utf-8"))
    }
    named |= {word for pattern in NAMED_IN for file in ROOT.glob(pattern) for word in re.findall(r"\w+", file.read_text(encoding="utf-8"))}
    used = tmp_path / "used.py"
    used.write_text(
        "\n".join(f"_.{word}" for word in sorted(named) if word.isidentifier() and not keyword.iskeyword(word)), encoding="utf-8"
    )
    code, said = said_by("vulture", *PATHS, used)
    assert code == 0, said + "Take it out, or whatever no longer calls it back in."
