"""What is kept in the repository names no host of a registry and no path of the machine that it was written on."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

import pytest

from site_builder.setting_up.checkout import NPM_LISTS, ROOT
from tests.rules.source_trees import listed

# Written in parts, or this file would name them too.
HOSTS = [".".join(parts) for parts in (("pypi", "org"), ("pythonhosted", "org"), ("npmjs", "org"), ("npmjs", "com"), ("debian", "org"))]
PLACES = [f"/{folder}/" for folder in ("root", "work", "home", "Users")] + ["/tmp" + "/brief"]
TOOLS = ["arti" + "factory", "ne" + "xus repository"]
FORBIDDEN = re.compile("|".join(rf"(?<![\w.-]){re.escape(one)}" for one in [*HOSTS, *PLACES, *TOOLS]), re.IGNORECASE)


def kept_files() -> list[Path]:
    """Every file that git keeps, or would keep if it were added now."""
    names = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, check=True
    ).stdout.decode()
    return [file for name in names.split("\0") if name and (file := ROOT / name).is_file()]


def _lines(file: Path) -> list[str]:
    try:
        return file.read_text(encoding="utf-8").splitlines()
    except UnicodeDecodeError:
        return []  # a picture


def test_no_file_names_a_registry_a_path_of_a_machine_or_a_tool_of_a_workplace() -> None:
    faults = [
        f"{file.relative_to(ROOT)}:{number} names {found[0]}: say it without, so that it holds on every machine"
        for file in kept_files()
        for number, line in enumerate(_lines(file), 1)
        if (found := FORBIDDEN.search(line))
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize("line", ["https://" + HOSTS[0] + "/simple", "in " + PLACES[0] + "x", "the " + TOOLS[0].title()])
def test_the_search_finds_what_it_is_for(line: str) -> None:
    assert FORBIDDEN.search(line)


def test_the_top_level_holds_what_a_newcomer_looks_for_and_no_more() -> None:
    wanted = {"README.md", "DEVELOPERS.md", "pyproject.toml", "calc", "content", "site_builder", "tests", "dist"}
    found = {file.relative_to(ROOT).parts[0] for file in kept_files()}
    strange = sorted(name for name in found - wanted if not name.startswith("."))
    assert not strange, f"{strange} stand at the top: what npm and its tools need stands in .npm, all else in one of {sorted(wanted)}"


def test_the_npm_lock_holds_hashes_and_no_addresses() -> None:
    packages = json.loads(NPM_LISTS[1].read_text(encoding="utf-8"))["packages"]
    locked = {name: package for name, package in packages.items() if name}
    assert locked and all(package["integrity"].startswith("sha512-") for package in locked.values())
    addressed = [name for name, package in locked.items() if "resolved" in package]
    assert not addressed, f"{addressed} say where they came from: pin them again with python3 -m site_builder lock"


def test_nothing_that_is_built_is_kept() -> None:
    built = [str(file.relative_to(ROOT)) for file in kept_files() if file.is_relative_to(ROOT / "dist") and file.name != ".gitignore"]
    assert not built, f"{built} are built: take them out with git rm --cached"
