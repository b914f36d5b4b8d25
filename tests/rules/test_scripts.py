"""JavaScript moves strings and watches the clock. What a number is, how it is rounded and how it is printed, Python says."""

from __future__ import annotations

import re

import pytest

from site_builder.building.snapshot import PYODIDE_FILES
from site_builder.harness.content import PAGES
from site_builder.setting_up.checkout import WEB
from tests.rules.source_trees import listed

SCRIPTS = sorted(WEB.rglob("*.js")) + sorted(WEB.glob("*.mjs"))

# Reads a number out of text, or prints one.
NUMBER = re.compile(
    r"parseFloat|parseInt|toFixed|toPrecision|toExponential|toLocaleString|valueAsNumber|NumberFormat|\bNumber\b"
    r"|[=(,:?]\s*\+\s*[a-z][\w.]*\b|\beval\b|new Function"
)
# What is counted here is bytes and the clock, and neither is dialled in: file, what stands there, why.
ALLOWED = {
    ("card_timer.js", "Number"): "the minutes of a timer, counted down by the phone's clock",
    ("kept_entries.js", "Number"): "the minutes after which a measurement is left out",
    ("row_removed.js", "Number"): "the places of the rows of a form",
    ("rows.js", "Number"): "the places of the rows of a form",
    ("offline_words.js", "toFixed"): "megabytes that are saved to the phone",
}


def uses() -> dict[tuple[str, str], str]:
    """What each script uses of this, and the line where."""
    return {
        (script.name, found[0]): f"{script.name}:{number}: {line.strip()}"
        for script in SCRIPTS
        for number, line in enumerate(_without_comments(script.read_text(encoding="utf-8")).splitlines(), 1)
        for found in NUMBER.finditer(line)
    }


def _without_comments(text: str) -> str:
    text = re.sub(r"/\*.*?\*/", lambda comment: "\n" * comment[0].count("\n"), text, flags=re.DOTALL)
    return re.sub(r"(?m)(^|\s)//.*$", "", text)


def test_words_beside_each_other_are_joined_so_that_no_line_begins_with_the_point_between_them() -> None:
    faults = [script.name for script in SCRIPTS if re.search(r'join\(" ?·', script.read_text(encoding="utf-8"))]
    assert not faults, f"{listed(faults)}\n  join them by `listed` of page_parts.js"


def test_no_script_reads_or_prints_a_quantity() -> None:
    faults = [f"{place}\n  let Python do it, and move its text" for use, place in uses().items() if use not in ALLOWED]
    assert not faults, listed(faults)


@pytest.mark.parametrize("use", ALLOWED, ids=" ".join)
def test_what_is_allowed_is_still_needed(use: tuple[str, str]) -> None:
    assert use in uses(), f"{use[0]} no longer uses {use[1]}: take it out of ALLOWED"


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda script: script.name)
def test_a_script_imports_only_its_neighbours(script) -> None:
    text = _without_comments(script.read_text(encoding="utf-8"))
    named = re.findall(r"""(?:\bfrom|\bimport)\s*\(?\s*["'`]([^"'`]+)["'`]""", text)
    above = {f"../{one.name}" for one in SCRIPTS if one.parent == script.parent.parent}  # what service worker and pages share
    ours = (
        {"fflate", "idb", "morphdom", "qr/decode.js"}
        | above
        | {f"./{one.name}" for one in SCRIPTS if one.parent == script.parent}
        | {"${engine}start.mjs", "${engine}pyodide.asm.mjs", *(f"./{name}" for name in PYODIDE_FILES)}
    )
    assert set(named) <= ours, f"{script.name} imports {sorted(set(named) - ours)}: nothing but our own files is there offline"


# Where text becomes HTML or the address of a script.
SINKS = re.compile(
    r"(?:innerHTML|outerHTML) = |insertAdjacentHTML\(\s*\S+, |parseFromString\(|new Worker\(|serviceWorker\.register\(|document\.write"
)


def test_text_becomes_html_or_a_scripts_address_by_trusted_js_alone() -> None:
    faults = [
        f"{script.name}:{number}: {line.strip()}\n  put trustedHtml() or scriptAddress() of trusted.js around what is given"
        for script in SCRIPTS
        for number, line in enumerate(_without_comments(script.read_text(encoding="utf-8")).splitlines(), 1)
        for found in SINKS.finditer(line)
        if not line[found.end() :].startswith(("trustedHtml(", "scriptAddress("))
    ]
    assert not faults, listed(faults)


def test_a_followed_plan_knows_every_card_that_changes_a_pack_as_the_page_of_a_line_has_it() -> None:
    text = (WEB / "plan_cards.js").read_text(encoding="utf-8").partition("const CARDS_OF_PAGE = {")[2].partition("};")[0]
    known = {page: re.findall(r'"([a-z-]+)"', cards) for page, cards in re.findall(r'"?([a-z-]+)"?: \[(.*)\]', text)}
    # The charging card is a calculator of its own, to which the page of the settings leads.
    of_page = {"charge-settings": ["charging-card"], "packs-in-series": [], "packs-in-parallel": [], "storage": []}
    for page in PAGES:
        asked = page.numbers_from.replace("_", "-") if page.card and page.card.changes_pack else ""
        if asked in of_page:
            of_page[asked].append(page.key)
    assert {page: sorted(cards) for page, cards in known.items()} == {page: sorted(cards) for page, cards in of_page.items()}
