"""The command new: what it writes runs as it stands, and a name that does not serve is refused in a sentence."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from site_builder.commands.new import new_calculator
from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.failures import SetUpFailed

# As __main__ runs it, once it is set up.
_NEW = "from site_builder.commands.new import run; run(['calculator', 'made_for_the_test'])"
# In a process of its own: the build's door, which works out the example of every page.
_BUILD_EXAMPLE = """
from site_builder.building.page_html import worked_example
from site_builder.setting_up.checkout import CONTENT
from site_builder.reading.pages import read_pages
[page] = [page for page in read_pages(CONTENT) if page.calculator == "made_for_the_test"]
print(worked_example(page).html)
"""


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The code, the words and the tests, without what was built or fetched."""
    folder = tmp_path_factory.mktemp("checkout")
    for part in ("calc", "content", "site_builder", "tests"):
        shutil.copytree(ROOT / part, folder / part, ignore=shutil.ignore_patterns("__pycache__", "*.csv"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


def ran(copy: Path, *arguments: str) -> str:
    done = subprocess.run([sys.executable, *arguments], cwd=copy, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_a_new_calculator_answers_its_example_and_passes_its_own_test(copy: Path) -> None:
    said = ran(copy, "-c", _NEW)
    assert "content/pages/made-for-the-test.md" in said and "python3 -m site_builder serve" in said
    # The first pack of the club holds 2650 mAh.
    assert "2.6\u00a0A" in ran(copy, "-c", _BUILD_EXAMPLE)
    tests = (
        "tests/units/calc/calculators/test_made_for_the_test.py",
        "tests/rules/test_calculators_and_pages.py",
        "tests/rules/test_quantities.py",
    )
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *tests], cwd=copy, capture_output=True, text=True, check=False
    )
    # What it does not pass is the rule that asks for its words, and names each of the three files.
    failed = [line for line in done.stdout.splitlines() if line.startswith("FAILED")]
    assert len(failed) == 1 and "test_nothing_is_left_of_a_skeleton" in failed[0], done.stdout
    for file in (
        "calc/calculators/made_for_the_test.py",
        "content/pages/made-for-the-test.md",
        "tests/units/calc/calculators/test_made_for_the_test.py",
    ):
        assert f"{file}:" in done.stdout


@pytest.mark.parametrize("name", ["warming-box", "WarmingBox", "warming_2", "", "_box", "lambda", "../box"])
def test_a_name_that_cannot_be_a_module_and_an_address_is_refused(name: str, tmp_path: Path) -> None:
    with pytest.raises(SetUpFailed, match="cannot name a calculator: small letters with single underscores"):
        new_calculator(name, tmp_path)


def test_a_refused_name_is_given_back_as_it_would_serve(tmp_path: Path) -> None:
    with pytest.raises(SetUpFailed, match=r"as in warming_box\.$"):
        new_calculator("Warming-Box", tmp_path)


@pytest.mark.parametrize("name", ["charge_settings", "index"])
def test_what_is_there_is_never_written_over(name: str) -> None:
    before = subprocess.run(["git", "status", "--porcelain"], cwd=ROOT, capture_output=True, check=True).stdout
    with pytest.raises(SetUpFailed, match=r"is there already\. .*Nothing was written"):
        new_calculator(name, ROOT)
    assert subprocess.run(["git", "status", "--porcelain"], cwd=ROOT, capture_output=True, check=True).stdout == before
