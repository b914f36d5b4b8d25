"""No number without where it comes from, and no source that nothing rests on."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import fields
from functools import cache

import pytest

from calc.facts import practice
from calc.facts.chemistries import CHEMISTRIES, Temperatures
from calc.facts.cited import Cited, Provenance
from calc.facts.sources import SOURCES
from site_builder.building.cited_numbers import cited_numbers
from site_builder.harness.content import PAGES
from site_builder.reading.marks import Words, number_in, without_marks
from site_builder.setting_up.checkout import CONTENT
from tests.rules.source_trees import Module, listed, modules

# Numbers that a formula of the standard itself contains, by function. Everything else in facts is a value, and cited.
OF_THE_FORMULA = {}
# Calls whose numbers are cited, since the source stands among their arguments.
CITING = {"Cited", "practice", "RestingCurve", "PreferredValues"}
# A curve's points, counted: places in a table, not values.
PLACES = {0, 1, 2}


def _names_a_source(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CITING


def uncited(module: Module) -> Iterator[ast.Constant]:
    """The numbers of a module of facts that stand outside every citing call, and are no place in a table."""
    aside: set[int] = set()
    for node in ast.walk(module.tree):
        if _names_a_source(node):
            aside.update(id(inner) for inner in ast.walk(node))
        if isinstance(node, ast.Tuple) and len(node.elts) == 2 and _names_a_source(node.elts[1]):
            # A row of a table: its key, percent or mm², and the cited value beside it.
            aside.add(id(node.elts[0]))
        if isinstance(node, ast.FunctionDef):
            allowed = PLACES if node.name.startswith("_") else OF_THE_FORMULA.get(node.name, set())
            aside.update(id(inner) for inner in ast.walk(node) if isinstance(inner, ast.Constant) and inner.value in allowed)
        if isinstance(node, ast.Assign) and [target.id for target in node.targets if isinstance(target, ast.Name)] == ["_STEPS"]:
            aside.add(id(node.value))
    for node in ast.walk(module.tree):
        is_number = isinstance(node, ast.Constant) and isinstance(node.value, (int, float)) and not isinstance(node.value, bool)
        if is_number and id(node) not in aside:
            yield node


@pytest.mark.parametrize("module", modules("calc/facts"), ids=lambda module: module.name)
def test_no_number_of_a_fact_stands_without_its_source(module: Module) -> None:
    faults = [f"{module.place(node)}: {node.value} has no source: make it a Cited, or practice()" for node in uncited(module)]
    assert not faults, listed(faults)


def test_a_cited_number_names_a_known_source_and_says_where() -> None:
    calls = [
        (module, node)
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Cited" and len(node.args) >= 2
    ]
    assert calls
    faults = [
        f"{module.place(node)}: {node.args[1].value!r} is no source: add it to calc/facts/sources.py"
        for module, node in calls
        if isinstance(node.args[1], ast.Constant) and node.args[1].value not in SOURCES
    ]
    assert not faults, listed(faults)


def test_no_source_is_listed_twice() -> None:
    faults = [
        f"{module.place(key)}: {key.value!r} stands twice: the first one is lost"
        for module in modules("calc/facts")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Dict)
        for key in node.keys
        if isinstance(key, ast.Constant) and [one.value for one in node.keys if isinstance(one, ast.Constant)].count(key.value) > 1
    ]
    assert not faults, listed(faults)


def test_common_practice_always_says_why() -> None:
    faults = [
        f"{module.place(node)}: practice() takes a number and the reason that the trade gives"
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "practice"
        if len(node.args) != 2 or not isinstance(node.args[1], ast.Constant) or not str(node.args[1].value).strip()
    ]
    assert not faults, listed(faults)


def test_common_practice_is_marked_as_such() -> None:
    assert Cited(1, "practice", Provenance.PRACTICE).provenance.value == "common practice, no source"
    assert SOURCES["practice"].title == "Common practice, no source"


@cache
def _words_of_calc() -> str:
    """Every sentence, comment aside, that calc holds outside the list of sources."""
    return "\n".join(
        node.value
        for module in modules("calc")
        if module.name not in ("calc.facts.sources", "calc.facts.papers", "calc.facts.guidance")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


@pytest.mark.parametrize("key", SOURCES)
def test_a_source_is_used_by_a_number_a_page_or_a_sentence(key: str) -> None:
    in_pages = {used for page in PAGES for used in page.sources}
    # A formula names its standard in words, as "49 CFR 171.8" or "IEC 60028" before the title's colon.
    called = re.split(r":", SOURCES[key].title)[0]
    used = bool(cited_numbers()[key]) or key in in_pages or called in _words_of_calc() or f'"{key}"' in _quoted_keys()
    assert used, f"nothing uses the source {key}: cite it, or take it out of calc/facts/sources.py"


@cache
def _quoted_keys() -> str:
    """The keys that are handed to a curve, whose numbers are too many to be listed one by one."""
    return " ".join(
        f'"{word.value.value}"'
        for module in modules("calc/facts")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call)
        for word in node.keywords
        if word.arg == "source" and isinstance(word.value, ast.Constant)
    )


# Kept apart from the test, so that what is let through is read in one place.
SAYS_A_YEAR = re.compile(r"\b(?:1[89]|20)\d\d\b|not known to us")


@pytest.mark.parametrize("key", [key for key in SOURCES if key != "practice"])
def test_a_source_says_its_year_and_how_it_reached_us(key: str) -> None:
    assert SAYS_A_YEAR.search(SOURCES[key].edition), f"{key}: say its year, or that it is not known to us"
    says_how = SOURCES[key].provenance or cited_numbers()[key]
    assert says_how, (
        f"{key}: no number of calc rests on it, so say in calc/facts how it reached us: provenance=Provenance.READ, or what it is"
    )


def _from_memory() -> Iterator[tuple[str, str]]:
    """Each number that is from memory: its place, and what is said of where it stands."""
    for module in modules("calc/facts"):
        for node in ast.walk(module.tree):
            if _names_a_source(node) and any(isinstance(one, ast.Attribute) and one.attr == "MEMORY" for one in node.args):
                said = [one.value for one in node.args if isinstance(one, ast.Constant) and isinstance(one.value, str)]
                yield module.place(node), said[-1]


def test_a_number_from_memory_says_why_it_could_not_be_read() -> None:
    numbers = list(_from_memory())
    assert numbers
    faults = [
        f"{place}: {said!r}: after a semicolon, say why it is still from memory, or where else it was read"
        for place, said in numbers
        if ";" not in said
    ]
    assert not faults, listed(faults)


def test_no_limit_of_a_cell_and_no_end_of_its_life_rests_on_memory_alone() -> None:
    # As the sources page promises. Nominal voltages and the voltages to land at are names and plans, not limits.
    guards = ("full_cell_v", "upper_limit_cell_v", "never_below_cell_v", "maker_cutoff_cell_v")
    limits = {f"{key}.{name}": getattr(chemistry, name) for key, chemistry in CHEMISTRIES.items() for name in guards}
    limits |= {
        f"{key}.{one.name}": getattr(chemistry.temperatures, one.name)
        for key, chemistry in CHEMISTRIES.items()
        for one in fields(Temperatures)
    }
    limits |= {f"practice.{name}": one for name, one in vars(practice).items() if isinstance(one, Cited)}
    alone = [name for name, cited in limits.items() if cited.provenance is Provenance.MEMORY and "read second-hand" not in cited.where]
    assert not alone, listed(alone)


# A mark of a source, and the number of a step, which is none of what it says.
A_MARK = re.compile(r"\{([a-z0-9-]+)\}")
A_STEP = re.compile(r"^\s*\d+\.\s+")


def _marks_of_numbers() -> Iterator[set[str]]:
    """The sources of each paragraph, list item, table row and line of a card that states a number."""
    for file in sorted((CONTENT / "pages").glob("*.md")):
        _, front, body = file.read_text(encoding="utf-8").split("+++", 2)
        blocks = [[text for _, text in block] for block in Words(body, file, 1).blocks()]
        for block in [*blocks, *([line] for line in front.splitlines())]:
            marks = {key for line in block for key in A_MARK.findall(line)}
            if marks and any(number_in(A_STEP.sub("", without_marks(line))) for line in block):
                yield marks


def test_at_least_half_of_what_states_a_number_rests_on_more_than_common_practice() -> None:
    on_pages = list(_marks_of_numbers())
    in_calc = {number.way: key for key, numbers in cited_numbers().items() for number in numbers}
    assert len(on_pages) > 100
    for where, keys in (("pages", on_pages), ("calc", [{key} for key in in_calc.values()])):
        by_trade = sum(1 for marks in keys if marks == {"practice"})
        assert 2 * by_trade <= len(keys), f"{where}: {by_trade} of {len(keys)} that state a number are common practice alone"
