"""A number carries its unit in its name, and a unit is converted in one place."""

from __future__ import annotations

import ast
from dataclasses import fields

import pytest

from calc.answering import calculator, calculator_keys
from calc.figures import quantities
from calc.figures.quantities import Quantity
from calc.inputs.fields import entries_of
from tests.rules.source_trees import listed, modules

# Between units of a label, a dial and a meter: thousandths, minutes and seconds of an hour, Fahrenheit, kelvin.
CONVERSIONS = {1000, 0.001, 60, 3600, 1.8}
ARITHMETIC = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow)

ADDS_WHOLE_NUMBERS = {
    "calc.rules.pack.transport",
    "calc.rules.plan.begun",
    "calc.rules.plan.bounds",
    "calc.rules.plan.search",
    "calc.rules.plan.timing",
}  # packs, minutes, watts

QUANTITIES = {name: one for name, one in vars(quantities).items() if isinstance(one, Quantity)}


@pytest.mark.parametrize("key", calculator_keys())
def test_the_name_of_what_is_asked_ends_in_its_unit(key: str) -> None:
    faults = [
        f"{key}: {name} is asked in {entry.quantity.sign}: its name must end in {entry.quantity.suffix}"
        for name, entry in entries_of(calculator(key).Inputs).items()
        if entry.quantity and name != entry.quantity.suffix and not name.endswith(f"_{entry.quantity.suffix}")
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize("key", calculator_keys())
def test_every_input_is_asked_on_the_form(key: str) -> None:
    faults = [
        f"{key}: {one.name} is no entry: make it by number(), readings() or choice() of calc.inputs.fields, or several() of rows"
        for one in fields(calculator(key).Inputs)
        if not {"entry", "rows"} & set(one.metadata)
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize("key", calculator_keys())
def test_rows_are_named_after_their_field(key: str) -> None:
    faults = [
        f"{key}: the entries of {one.name} are named {row.rows}_{row.number}: give several() the group_key {one.name}"
        for one in fields(calculator(key).Inputs)
        if "rows" in one.metadata
        for row in one.metadata["rows"].rows
        if row.rows != one.name
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize("name", QUANTITIES)
def test_a_quantity_has_a_suffix_for_names_and_a_sign_for_the_screen(name: str) -> None:
    quantity = QUANTITIES[name]
    assert quantity.suffix.isalnum() and quantity.suffix == quantity.suffix.lower() and quantity.sign.strip(), (
        f"calc/figures/quantities.py: {name} needs a suffix of small letters and digits alone (wperk, not w_per_k), and a sign"
    )


def test_a_unit_is_converted_in_figures_units_alone() -> None:
    faults = [
        f"{module.place(node)} reckons with {side.value}: use a conversion of calc/figures/units.py, or add one there"
        for module in modules("calc")
        if module.name != "calc.figures.units"
        for node in ast.walk(module.tree)
        if isinstance(node, (ast.BinOp, ast.AugAssign)) and isinstance(node.op, ARITHMETIC)
        for side in ((node.left, node.right) if isinstance(node, ast.BinOp) else (node.value,))
        if isinstance(side, ast.Constant) and side.value in CONVERSIONS
    ]
    assert not faults, listed(faults)


def test_nothing_reckons_with_a_figure_since_it_is_rounded() -> None:
    faults = [
        f"{module.place(node)} reckons with a Figure: keep the bare number, and make the Figure at the end"
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.BinOp) and isinstance(node.op, ARITHMETIC)
        for side in (node.left, node.right)
        if isinstance(side, ast.Call) and isinstance(side.func, ast.Name) and side.func.id == "Figure"
    ]
    assert not faults, listed(faults)


def test_floats_are_summed_alike_by_every_python() -> None:
    faults = [
        f"{module.place(node)} adds up with sum(), which rounds otherwise before Python 3.12: use math.fsum"
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "sum"
        # How many there are is counted in whole numbers.
        if not (isinstance(node.args[0], ast.GeneratorExp) and isinstance(node.args[0].elt, ast.Compare))
        if module.name not in ADDS_WHOLE_NUMBERS
    ]
    assert not faults, listed(faults)


def _is_fixed_in_words(node: ast.AST) -> bool:
    """Whether this is a Figure of a quantity that can be shown in other units, put into text for good."""
    if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Figure" and len(node.args) > 1):
        return False
    named = {inner.id for inner in ast.walk(node.args[1]) if isinstance(inner, ast.Name)}
    kept = any(isinstance(inner, ast.Attribute) and inner.attr == "as_it_is" for inner in ast.walk(node.args[1]))
    return not kept and any(QUANTITIES[name].measures for name in named & QUANTITIES.keys())


def test_a_figure_that_can_be_shown_in_other_units_keeps_to_itself_in_a_sentence() -> None:
    faults = [
        f"{module.place(node)} puts it into text: write worded('... {{}} ...', figure), or give its quantity .as_it_is"
        for module in modules("calc")
        for node in ast.walk(module.tree)
        if isinstance(node, ast.JoinedStr)
        for inner in ast.walk(node)
        if _is_fixed_in_words(inner)
    ]
    assert not faults, listed(faults)
