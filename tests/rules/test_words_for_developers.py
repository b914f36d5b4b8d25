"""The pages for whoever clones this: no command, folder or calculator without its line, and nothing told of that is not there."""

from __future__ import annotations

import re
import subprocess

import pytest

from calc.answering import calculator_keys
from site_builder.__main__ import COMMANDS
from site_builder.setting_up.checkout import ROOT

DEVELOPERS = ROOT / "DEVELOPERS.md"
README = ROOT / "README.md"

TRACKED = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, check=True, text=True).stdout.split("\n")
FOLDERS = sorted({path.split("/")[0] for path in TRACKED if "/" in path and not path.startswith(".")})
CODE = [path.split("/") for path in TRACKED if path.startswith(("calc/", "site_builder/"))]
# A decision tells of files from the folder that it stands in.
DECISIONS = ("calc/DECISIONS.md", "site_builder/DECISIONS.md")
# What a reader puts a name of their own in place of.
PLACEHOLDER = re.compile("NAME|SOURCE|CALCULATOR")
MOST_LINES = 100
PACKAGES = sorted({parts[1] for parts in CODE if len(parts) > 2})


def words_of(name: str) -> str:
    file = ROOT / name
    assert file.is_file(), f"{name} is missing: write it"
    return file.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_is_explained(command: str) -> None:
    assert command in _commands_in_the_table(), f"the table in DEVELOPERS.md does not name the command {command}: add its line"


def _commands_in_the_table() -> list[str]:
    """The first words between ticks in the first column, where each command stands without `python3 -m site_builder`."""
    table = words_of("DEVELOPERS.md").partition("| `python3 -m site_builder ...` | does |")[2].partition("\n\n")[0]
    return [command for row in table.split("\n") for command in re.findall(r"`(\w+)", row.split("|")[1] if "|" in row else "")]


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_top_folder_is_on_the_map(folder: str) -> None:
    assert re.search(rf"^{folder}/", words_of("DEVELOPERS.md"), re.MULTILINE), f"the map in DEVELOPERS.md lacks {folder}/: add its line"


@pytest.mark.parametrize("package", PACKAGES)
def test_a_folder_of_code_is_on_the_map(package: str) -> None:
    assert f"{package}/" in words_of("DEVELOPERS.md"), f"the map in DEVELOPERS.md lacks {package}/: add its line"


@pytest.mark.parametrize("key", calculator_keys())
def test_a_calculator_is_on_the_map(key: str) -> None:
    assert re.search(rf"\b{key}\b", words_of("DEVELOPERS.md")), f"DEVELOPERS.md does not name the calculator {key}: add it to the map"


def test_the_readme_begins_with_what_it_is_for_and_the_two_commands() -> None:
    opening = words_of("README.md").split("## ")[0]
    first, second = opening.find("python3 -m site_builder serve"), opening.find("python3 -m site_builder test")
    assert 0 < opening.find("\n\n") < first < second, "README.md: one paragraph, then serve, then test, before the first heading below"


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_a_command_that_is_told_is_there(page: str) -> None:
    told = {*re.findall(r"python3 -m site_builder (\w+)", words_of(page)), *_commands_in_the_table()}
    assert told <= set(COMMANDS), f"{page} tells of {sorted(told - set(COMMANDS))}, which are no commands: correct it"


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_a_file_that_is_told_is_there(page: str) -> None:
    told = re.findall(r"`((?:calc|content|site_builder|tests)/[\w./-]+\.\w+)`", words_of(page))
    missing = [path for path in told if not PLACEHOLDER.search(path) and not (ROOT / path).exists()]
    assert not missing, f"{page} names {missing}: correct the path"


def test_the_page_for_developers_can_be_read_at_one_go() -> None:
    lines = len(words_of("DEVELOPERS.md").splitlines())
    assert lines <= MOST_LINES, (
        f"DEVELOPERS.md has {lines} lines: shorten it, or tell the reason of a thing in DECISIONS.md beside the code"
    )


@pytest.mark.parametrize("page", DECISIONS)
def test_a_decision_says_in_three_lines_what_why_and_what_was_given_up(page: str) -> None:
    decisions = [part for part in words_of(page).split("\n\n")[2:] if not part.startswith("#")]
    faults = [one.split("\n")[0] for one in decisions if not re.fullmatch(r"\*\*.+\n.+\nGiven up.+", one.strip())]
    assert len(decisions) > 10 and not faults, f"{page}: what in bold and its rest, why, and what was given up, a line each:\n" + "\n".join(
        faults
    )


@pytest.mark.parametrize("page", DECISIONS)
def test_a_file_that_a_decision_binds_is_there(page: str) -> None:
    told = re.findall(r"`([\w/-]+\.(?:py|m?js|toml|html))`", words_of(page))
    missing = [
        path
        for path in told
        if "/" in path and not any((folder / path).exists() for folder in (ROOT / page.split("/", maxsplit=1)[0], ROOT))
    ]
    assert not missing, f"{page} names {missing}: correct the path"
