"""The lock files: every package pinned and hashed, and no word about where one machine found it."""

import json
import re
import tomllib

import pytest

from site_builder.setting_up.checkout import LOCKS, NPM_LISTS, ROOT

PYTHON_LOCKS = ("run", "test")
NPM_LOCK = json.loads(NPM_LISTS[1].read_text(encoding="utf-8"))


def entries(lock: str) -> dict[str, str]:
    """Each package of a lock with all that stands below it until the next."""
    text = (LOCKS / f"{lock}.txt").read_text(encoding="utf-8")
    return {entry.split("==")[0]: entry for entry in re.findall(r"^\w(?:.|\n)*?(?=^\w|\Z)", text, re.MULTILINE)}


def names(requirements: list[str]) -> set[str]:
    return {re.match(r"[\w\-]+", requirement)[0] for requirement in requirements}


@pytest.mark.parametrize("lock", PYTHON_LOCKS)
def test_every_python_package_is_pinned_and_hashed(lock):
    assert entries(lock)
    for name, entry in entries(lock).items():
        assert re.match(rf"{name}==[\w.]+ ", entry), f"{name} in {lock}.txt is not pinned: python3 -m site_builder lock"
        assert re.search(r"--hash=sha256:[0-9a-f]{64}\b", entry), f"{name} in {lock}.txt has no hash: python3 -m site_builder lock"


def test_what_pyproject_asks_for_is_locked():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    running = names(project["project"]["dependencies"])
    testing = names(project["project"]["optional-dependencies"]["test"])
    assert running <= entries("run").keys()
    assert running | testing <= entries("test").keys()


def test_both_locks_of_one_environment_name_the_same_files():
    hashes = {name: set(re.findall("sha256:[0-9a-f]+", entry)) for name, entry in entries("test").items()}
    for name, entry in entries("run").items():
        assert set(re.findall("sha256:[0-9a-f]+", entry)) == hashes[name], f"{name} differs: python3 -m site_builder lock"


@pytest.mark.parametrize("file", [*(LOCKS / f"{lock}.txt" for lock in PYTHON_LOCKS), *NPM_LISTS], ids=lambda file: file.name)
def test_no_lock_holds_an_address_or_a_place_on_one_machine(file):
    text = file.read_text(encoding="utf-8")
    assert re.findall(r"\w+://\S*|--(?:extra-)?index-url\S*|--find-links\S*|\"resolved\"|(?:^|\s)(?:/|[A-Z]:\\)\w+\S*", text) == []


def test_every_npm_package_has_an_integrity_hash():
    packages = {path: package for path, package in NPM_LOCK["packages"].items() if path}
    assert {"node_modules/pyodide", "node_modules/axe-core"} <= packages.keys()
    for path, package in packages.items():
        assert package["integrity"].startswith("sha512-"), f"{path} has no sha512: python3 -m site_builder lock"


def test_npm_versions_are_exact_and_those_of_the_lock():
    listed = json.loads(NPM_LISTS[0].read_text(encoding="utf-8"))
    for name, version in (listed["dependencies"] | listed["devDependencies"]).items():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version), f"{name} in package.json is not exact"
        assert NPM_LOCK["packages"][f"node_modules/{name}"]["version"] == version
