"""The two pages for whoever clones this: no command, folder or calculator without its line, and no command that is not there."""

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
PACKAGES = sorted({parts[1] for parts in CODE if len(parts) > 2})


def words_of(name: str) -> str:
    file = ROOT / name
    assert file.is_file(), f"{name} is missing: write it"
    return file.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_is_explained(command: str) -> None:
    line = f"python3 -m site_builder {command}"
    assert line in words_of("DEVELOPERS.md"), f"DEVELOPERS.md does not name the command {command}: add its line"


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
    told = set(re.findall(r"python3 -m site_builder (\w+)", words_of(page)))
    assert told <= set(COMMANDS), f"{page} tells of {sorted(told - set(COMMANDS))}, which are no commands: correct it"


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_a_file_that_is_told_is_there(page: str) -> None:
    told = re.findall(r"`((?:calc|content|site_builder|tests)/[\w./-]+\.\w+)`", words_of(page))
    missing = [path for path in told if "NAME" not in path and not (ROOT / path).exists()]
    assert not missing, f"{page} names {missing}: correct the path"
