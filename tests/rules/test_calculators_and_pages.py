"""A calculator is one module and one page, and a refusal that sends somewhere sends to a page that is there."""

from __future__ import annotations

import ast
import re
from importlib import import_module

import pytest

from calc.facts.looks import LOOKS
from calc.figures.showing import Caution, Part
from calc.inputs.refusals import Problem, Refusal
from calc.rules.pack.readings import TROUBLE
from site_builder.commands.new import TO_WRITE
from site_builder.engine.answer import ENVIRONMENT, rendered_parts
from site_builder.harness.content import PAGES
from site_builder.reading.pages import Page
from site_builder.setting_up.checkout import ROOT
from tests.rules.source_trees import Module, is_in, listed, modules

# What stands in parts/ belongs to the calculator that it is named after.
CALCULATORS = [module for module in modules("calc/calculators") if module.tree.body and not is_in(module.name, "calc.calculators.parts")]


def _key(module: Module) -> str:
    return module.name.rpartition(".")[2]


@pytest.mark.parametrize("module", CALCULATORS, ids=_key)
def test_a_calculator_has_a_page(module: Module) -> None:
    page = f"content/pages/{_key(module).replace('_', '-')}.md"
    assert _key(module) in {one.calculator for one in PAGES}, f'{module.path} has no page: write {page} with calculator = "{_key(module)}"'


@pytest.mark.parametrize("page", [page for page in PAGES if page.calculator], ids=lambda page: page.key)
def test_a_page_names_a_calculator_that_is_there(page: Page) -> None:
    wanted = f"calc/calculators/{page.calculator}.py"
    assert page.calculator in map(_key, CALCULATORS), f"{page.file.name} names {page.calculator}: write {wanted}, or correct the name"


@pytest.mark.parametrize("module", CALCULATORS, ids=_key)
def test_a_calculator_holds_inputs_answer_and_work_out_in_this_order(module: Module) -> None:
    public = [node.name for node in module.tree.body if isinstance(node, (ast.ClassDef, ast.FunctionDef)) and node.name[0] != "_"]
    three = [name for name in public if name in ("Inputs", "Answer", "work_out")]
    assert three == ["Inputs", "Answer", "work_out"], f"{module.path}: write Inputs, Answer and work_out, in this order"
    assert public[:2] == ["Inputs", "Answer"], f"{module.path}: what is asked and answered stands first, formulas below"


@pytest.mark.parametrize("module", CALCULATORS, ids=_key)
def test_a_calculator_begins_with_the_question_that_it_answers(module: Module) -> None:
    first = (ast.get_docstring(module.tree) or "").split("\n")[0]
    assert first.endswith("?"), f"{module.path}: the first line of its docstring is the pilot's question"


def _pages_gone_to() -> list[tuple[str, str]]:
    """Where each `Problem` of calc sends: the place in the code, and the key of the page, with an anchor if it has one."""
    found = []
    for module in modules("calc"):
        for node in ast.walk(module.tree):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Problem"):
                continue
            given = [*node.args[2:3], *(word.value for word in node.keywords if word.arg == "go_to")]
            # What a finding hands on is looked at with the findings.
            found += [(module.place(node), _value(module, one)) for one in given if not isinstance(one, ast.Attribute)]
    return found


def _value(module: Module, node: ast.expr) -> str:
    return ast.literal_eval(node) if isinstance(node, ast.Constant) else getattr(import_module(module.name), ast.unparse(node))


@pytest.mark.parametrize(("place", "go_to"), _pages_gone_to())
def test_a_refusal_sends_to_a_page_that_is_there(place: str, go_to: str) -> None:
    refusal = Refusal((Problem("", "A sentence.", go_to),))
    html = ENVIRONMENT.get_template("answers/refusal.html").render(problems=refusal.problems, labels={}, only_missing=False)
    [address] = re.findall(r'href="([^"]*)"', html)
    page, _, anchor = address.partition("#")
    ids = {one.address: one.ids for one in PAGES}
    assert page in ids, f"{place} sends to {address}: write content/pages/{page.removesuffix('.html')}.md, or correct go_to"
    assert not anchor or anchor in ids[page], f"{place} sends to {address}: that page has no such heading"


def _headings_gone_to() -> list[str]:
    """The headings of the page for a pack in trouble that findings and looks send to."""
    in_code = [
        heading
        for file in sorted((ROOT / "calc").rglob("*.py"))
        for heading in re.findall(r"\{TROUBLE\}#([a-z-]+)", file.read_text("utf-8"))
    ]
    return sorted({*in_code, *(look.section for look in LOOKS.values() if look.section)})


@pytest.mark.parametrize("heading", _headings_gone_to())
def test_a_finding_sends_to_a_heading_that_is_there(heading: str) -> None:
    [page] = [page for page in PAGES if page.key == TROUBLE]
    assert heading in page.ids, f"calc sends to {heading}, which is no heading of {page.file.name}: correct it, or write it"


def test_a_place_with_a_heading_becomes_a_link_to_it() -> None:
    html = rendered_parts([Part("cautions", "", "", "caution", (Caution(sentence="A sentence.", go_to=f"{TROUBLE}#hot-pack"),))])
    assert re.findall(r'href="([^"]*)"', html) == [f"{TROUBLE}.html#hot-pack"]


@pytest.mark.parametrize(("key", "words"), [(TROUBLE, "Open the page for a pack in trouble"), ("cell-check", "Open the cell check")])
def test_a_link_is_called_by_the_page_that_it_leads_to(key: str, words: str) -> None:
    html = rendered_parts([Part("cautions", "", "", "caution", (Caution(sentence="A sentence.", go_to=key),))])
    assert re.findall(r'<a class="go-to" href="(.*?)">(.*?)</a>', html) == [(f"{key}.html", words)]


def test_refusals_that_send_somewhere_were_found() -> None:
    assert "pack-in-trouble" in {go_to.partition("#")[0] for _, go_to in _pages_gone_to()}, "nobody is sent to the trouble page"


def test_a_module_stays_within_three_hundred_lines() -> None:
    faults = [
        f"{module.path} has {lines} lines: it holds two ideas, part them"
        for module in modules("calc") + modules("site_builder")
        if (lines := max((node.end_lineno for node in module.tree.body), default=0)) > 300
    ]
    assert not faults, listed(faults)


def test_nothing_is_left_of_a_skeleton() -> None:
    """The command new writes texts that wait for the words of whoever knows them."""
    files = [file for folder in ("calc", "content", "tests/units") for file in sorted((ROOT / folder).rglob("*.[pm][yd]"))]
    faults = [
        f"{file.relative_to(ROOT)}:{number}: {line.strip()}"
        for file in files
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if TO_WRITE in line
    ]
    assert not faults, "these places of a skeleton wait for their words:" + listed(faults)
