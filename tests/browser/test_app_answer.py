"""An answer that stands is changed in place: what it then says is what Python says, and what did not change is not made anew."""

import re

import pytest
from markupsafe import Markup
from playwright.sync_api import Page, expect

from site_builder.engine.answer import respond
from site_builder.harness.content import PAGES
from site_builder.harness.pilot import clear, lay_entries, link_to

LABEL = {"chemistry": "lipo", "cells": "6", "capacity_mah": "5250"}
READ = {"resting_v": "3.71 3.72 3.70 3.71 3.71 3.72", "pack_degc": "18"}

# Pages whose answers have every kind of part between them: panels, ranges, tables, pictures, drawings, a day.
PLAYED = ["charge-settings", "packs-in-parallel", "supply-and-leads", "day-plan"]

# Types a text into an entry, and returns what the answer's place then says and what stands in the form. An answer to it has come when the
# page says so, other than that it waits.
TYPE = """([name, text]) => new Promise((resolve) => {
  const form = document.getElementById("entries");
  const field = form.elements.namedItem(name);
  const seen = ({ detail }) => {
    if (["kept", "waiting"].includes(detail.kind)) return;
    document.removeEventListener("fieldslate:answer", seen);
    const body = document.getElementById("answer-body").cloneNode(true);
    for (const one of body.querySelectorAll("[data-stays]")) one.remove();
    const named = Array.from(form.elements).filter((one) => one.name && !one.closest("template"));
    resolve({ kind: detail.kind, says: body.textContent, entries: Object.fromEntries(named.map((one) => [one.name, one.value.trim()])) });
  };
  document.addEventListener("fieldslate:answer", seen);
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
})"""


def bare(text: str) -> str:
    """A text without its spaces, and without the button that a script puts below a plan."""
    return re.sub(r"\s+", "", text).replace("Followthisplan", "")


@pytest.mark.parametrize("key", PLAYED)
def test_after_each_of_many_changes_the_answer_says_what_python_says(far_page, visited, key):
    page = next(one for one in PAGES if one.key == key)
    far_page.goto(link_to(visited.address, key, page.worked_example))
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "answer")
    kinds = set()
    asked = far_page.evaluate("Array.from(document.querySelectorAll('#entries input[name]'), ({ name }) => name)")
    numbers = [(name, text) for name, text in page.worked_example.items() if name in asked and re.fullmatch(r"[\d.: ]+", text)]
    for name, text in numbers[:: len(numbers) // 5]:
        for typed in (re.sub(r"\d(?=\D*$)", "7", text), "", "x", text):
            found = far_page.evaluate(TYPE, [name, typed])
            answer = respond(page.calculator, found["entries"])
            kinds.add(answer.kind)
            if answer.kind == "partial" and "a new reading has passed" in found["says"]:
                continue  # the page remembers that a reading was refused
            assert found["kind"] == answer.kind, f"{name} is {typed!r}"
            assert bare(found["says"]) == bare(Markup(answer.html).striptags()), f"{name} is {typed!r}"
    assert {"answer", "refusal"} <= kinds


@pytest.fixture
def charging(running_page) -> Page:
    clear(running_page, "Clear everything")
    expect(running_page.locator("#answer")).to_have_attribute("data-state", "example")
    lay_entries(running_page, LABEL | READ)
    expect(running_page.locator("#answer")).to_have_attribute("data-state", "partial")
    return running_page


def test_what_a_key_does_not_change_stays_the_same_piece_of_the_page(charging):
    charging.evaluate("window.before = [...document.querySelectorAll('#answer-body *')]")
    lay_entries(charging, {"capacity_mah": "4200"})
    expect(charging.locator("[data-part=capacity_setting] .setting-figures")).to_have_text("4200\u00a0mAh")
    assert charging.evaluate("before.length > 100 && before.filter((one) => one.isConnected).length / before.length") > 0.9


def test_a_line_that_has_the_focus_keeps_it(charging):
    line = charging.locator("[data-part=capacity_setting] summary")
    line.focus()
    lay_entries(charging, {"capacity_mah": "4200"})
    expect(line).to_contain_text("4200")
    expect(line).to_be_focused()


def test_what_is_folded_stays_folded_and_what_is_unfolded_stays_so(charging):
    for part, is_open in (("capacity_setting", True), ("full_voltage", True), ("full_voltage", False)):
        charging.locator(f"[data-part={part}] summary").click()
        expect(charging.locator(f"[data-part={part}]")).to_have_js_property("open", is_open)
    lay_entries(charging, {"capacity_mah": "4200"})
    expect(charging.locator("[data-part=capacity_setting] summary")).to_contain_text("4200")
    expect(charging.locator("[data-part=capacity_setting]")).to_have_js_property("open", True)
    expect(charging.locator("[data-part=full_voltage]")).to_have_js_property("open", False)


def test_the_button_that_starts_the_charge_stands_where_the_settings_end_after_every_change(charging):
    for text, follows in (("4200", "not-counted"), ("x", "as-code"), ("5250", "not-counted"), ("", "as-code"), ("5250", "not-counted")):
        lay_entries(charging, {"capacity_mah": text})
        expect(charging.locator("#answer")).to_have_attribute("data-state", "partial" if text[:1].isdigit() else "refusal")
        onward = charging.locator("#answer .onward")
        expect(onward).to_have_count(1)
        assert onward.evaluate("(one) => one.nextElementSibling.className") == follows
