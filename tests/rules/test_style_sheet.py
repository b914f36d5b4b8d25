"""The colours: one palette, and every text readable in the sun, in light and in dark."""

from __future__ import annotations

import re
from itertools import product

import pytest

from site_builder.building import icons
from site_builder.setting_up.checkout import WEB

# The first holds the palettes, and brings the others in.
SHEETS = ["fieldslate.css", *sorted(sheet.name for sheet in WEB.glob("*.css") if sheet.name != "fieldslate.css")]


def _rules_of(sheet: str) -> str:
    return re.sub(r"/\*.*?\*/|@import [^;]*;", "", (WEB / sheet).read_text(encoding="utf-8"), flags=re.DOTALL)


def _for_the_screen(sheet: str) -> str:
    """The rules without those for paper, which stand between others."""
    while (begins := sheet.find("@media print")) >= 0:
        ends, depth = sheet.index("{", begins) + 1, 1
        while depth:
            depth += (sheet[ends] == "{") - (sheet[ends] == "}")
            ends += 1
        sheet = sheet[:begins] + sheet[ends:]
    return sheet


CSS = "\n".join(map(_rules_of, SHEETS))
AAA = 7.0


def brightness(colour: str) -> float:
    """Return the relative luminance of #rgb or #rrggbb, 0 to 1 (WCAG 2.2, definition of relative luminance)."""
    digits = colour.removeprefix("#")
    digits = "".join(digit * 2 for digit in digits) if len(digits) == 3 else digits
    channels = [int(digits[place : place + 2], 16) / 255 for place in (0, 2, 4)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    darker, lighter = sorted((brightness(one), brightness(other)))
    return (lighter + 0.05) / (darker + 0.05)


def declarations(body: str) -> dict[str, str]:
    return {name.strip(): value.strip() for name, _, value in (line.partition(":") for line in body.split(";")) if value}


def palette(pattern: str) -> dict[str, str]:
    """The colours of the first :root block that the pattern leads to."""
    [body] = re.findall(pattern + r"\s*:root\s*{([^}]*)}", CSS)
    return {name: value for name, value in declarations(body).items() if re.fullmatch(r"#[0-9a-f]{3,6}", value)}


LIGHT = palette(r"\A")
DARK = LIGHT | palette(r"@media \(prefers-color-scheme: dark\)\s*{")
PAPER = LIGHT | palette(r"@media print\s*{")


def rules() -> list[tuple[str, dict[str, str]]]:
    """Selector and declarations of every rule for the screen; those for paper and the palettes are left out."""
    found = re.findall(r"([^{}]+){([^{}]*)}", _for_the_screen(CSS))
    return [(selector.strip(), declarations(body)) for selector, body in found if ":root" not in selector]


def colour_of(value: str) -> str:
    """The variable or the colour that a value names; "" for none and inherit."""
    found = re.search(r"var\((--[\w-]+)\)|(#[0-9a-f]{3,6})\b", value)
    return (found[1] or found[2]) if found else ""


def text_and_ground(rule: dict[str, str]) -> tuple[str, str]:
    return colour_of(rule.get("color", "")), colour_of(rule.get("background", rule.get("background-color", "")))


PAIRED = {text_and_ground(rule) for _, rule in rules() if all(text_and_ground(rule))}
# What sets only one of the two meets whatever the other is around it: each of them must do on each.
TEXTS = {text for text, ground in (text_and_ground(rule) for _, rule in rules()) if text and not ground} | {"--ink"}
GROUNDS = {ground for text, ground in (text_and_ground(rule) for _, rule in rules()) if ground and not text}


def resolved(name: str, colours: dict[str, str]) -> str:
    return colours.get(name, name)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    # Published check values of the WCAG formula, to the last digit that is printed.
    [
        ("#000", "#fff", 21.00),
        ("#767676", "#fff", 4.542),
        ("#595959", "#fff", 7.005),
        ("#000", "#ffd100", 14.37),
        ("#000", "#ff8200", 8.445),
        ("#fff", "#c8102e", 5.883),
    ],
)
def test_contrast_is_that_of_the_standard(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.01)


@pytest.mark.parametrize("scheme", ["LIGHT", "DARK"])
def test_every_text_reaches_seven_to_one(scheme: str) -> None:
    colours = {"LIGHT": LIGHT, "DARK": DARK}[scheme]
    pairs = PAIRED | set(product(TEXTS, GROUNDS))
    poor = {
        f"{text} on {ground}: {ratio:.2f}"
        for text, ground in pairs
        if (ratio := contrast(resolved(text, colours), resolved(ground, colours))) < AAA
    }
    assert poor == set(), f"{sorted(poor)} in {scheme.lower()}: make one of the two darker or lighter in fieldslate.css"


@pytest.mark.parametrize("scheme", ["LIGHT", "DARK"])
def test_the_wires_of_a_drawing_are_as_plain_to_see_as_text(scheme: str) -> None:
    colours = {"LIGHT": LIGHT, "DARK": DARK}[scheme]
    drawn = {colour_of(rule["stroke"]) for selector, rule in rules() if selector in (".wiring .plus", ".wiring path", ".picture .likely")}
    assert drawn == {"--plus", "--ink"}
    assert {name: ratio for name in drawn if (ratio := contrast(colours[name], colours["--card"])) < AAA} == {}


# What carries meaning in a drawing, and the ground that it is drawn on.
MEANS = [
    (".drawing .plus", "--paper"), (".drawing .never", "--paper"), (".drawing .balance", "--paper"), (".wiring .plus", "--card"),
    (".wiring .prohibited circle", "--card"), (".picture .level", "--card"), (".picture .band", "--card"), (".picture .frame", "--card"),
    (".act-picture .plus", "--card"), (".act-picture .never", "--card"),
]  # fmt: skip


@pytest.mark.parametrize("scheme", ["LIGHT", "DARK"])
@pytest.mark.parametrize(("selector", "ground"), MEANS)
def test_what_means_something_in_a_drawing_stands_out_from_its_ground(selector: str, ground: str, scheme: str) -> None:
    colours = {"LIGHT": LIGHT, "DARK": DARK}[scheme]
    [stroke] = {rule["stroke"] for name, rule in rules() if selector in name.split(", ") and "stroke" in rule}
    assert contrast(colours[colour_of(stroke)], colours[ground]) >= 3  # WCAG 2.2, 1.4.11


def test_a_minus_lead_is_black_in_the_light_and_has_an_edge_in_the_dark() -> None:
    assert [rule["stroke"] for name, rule in rules() if name in (".drawing .minus", ".wiring .minus")] == ["#000", "#000"]
    dark = re.search(r"prefers-color-scheme: dark.*?--minus-edge: (#\w+)", CSS, re.DOTALL)[1]
    assert contrast("#000", LIGHT["--paper"]) >= 3 and contrast(dark, DARK["--paper"]) >= 3


def test_in_forced_colours_a_drawing_takes_the_phone_s_own() -> None:
    [forced] = re.findall(r"@media \(forced-colors: active\) {\s*:is\(\.drawing[^{]*{([^}]*)}", CSS)
    taken = declarations(forced)
    used = {
        colour_of(rule["stroke"])
        for name, rule in rules()
        if re.match(r"\.(drawing|picture|wiring|act-picture)\b", name) and "stroke" in rule
    }
    assert {name for name in used if name.startswith("--")} <= set(taken) and set(taken.values()) == {"CanvasText", "Canvas"}


# Amber says "this is the one that counts now", and nothing else: a reason, a caution or an ornament has another look.
AMBER = {
    "the limit that binds": {".set-by-word", ".binds b"},
    "the line or document that was asked for": {".marked", ".marked th", ".marked td", ".documents > div:target"},
    "what runs, and the step that is next": {
        ".card-strip", ".card-line", ".card-now", '.step[aria-current="step"]', ".timeline .bar.is-on", ".followed li.is-on",
    },
    "where one is": {".top a:focus-visible", ".bottom a:focus-visible", ".bottom nav a[aria-current]"},
}  # fmt: skip


def test_amber_has_one_meaning() -> None:
    used = {name for names, rule in rules() for name in names.split(", ") if "var(--tag)" in " ".join(rule.values())}
    assert used == set().union(*AMBER.values())
    assert any(names == ".set-by-word.why" and rule["background"] == "none" for names, rule in rules())


def test_print_is_dark_on_white() -> None:
    texts = {name: contrast(PAPER[name], PAPER["--paper"]) for name in ("--ink", "--soft", "--accent", "--danger", "--on-tag")}
    assert min(texts.values()) >= AAA, texts


def test_the_pairs_were_found() -> None:
    assert ("--on-tag", "--tag") in PAIRED and ("--soft" in TEXTS) and {"--paper", "--card", "--danger-wash"} <= GROUNDS


@pytest.mark.parametrize(("name", "variable"), [("INK", "--ink"), ("PAPER", "--paper"), ("AMBER", "--tag"), ("TEAL", "--accent")])
def test_the_icon_has_the_colours_of_the_pages(name: str, variable: str) -> None:
    assert getattr(icons, name) == LIGHT[variable], f"{name} of building/icons.py and {variable} of fieldslate.css are one colour"


def _parted(selectors: str, marks: str) -> list[str]:
    """Parted at each of these marks, but not inside of brackets."""
    parts, depth = [""], 0
    for letter in selectors:
        depth += (letter in "([") - (letter in ")]")
        if depth == 0 and letter in marks:
            parts.append("")
        else:
            parts[-1] += letter
    return [part.strip() for part in parts if part.strip()]


def _can_be_any(compound: str) -> bool:
    """Whether no name, class or attribute says which elements this can be."""
    if one_of := re.match(r":(?:is|where)\((.*)\)", compound):
        return any(_can_be_any(_parted(one, " >+~")[-1]) for one in _parted(one_of[1], ","))
    return re.match(r"[\w.#\[]", compound) is None


def _asked_from_above(selector: str) -> list[str]:
    """What a selector asks of the inside of an element, and what it is then for, where that is another element."""
    *above, last = _parted(selector, " >+~")
    inside = re.findall(r":has\(((?:[^()]|\((?:[^()]|\([^()]*\))*\))*)\)", selector)
    inner = [compound for argument in inside for one in _parted(argument, ",") for compound in _parted(one, " >+~")]
    return [*inner, *([last] if any(":has(" in one for one in above) else [])]


def test_no_rule_for_the_screen_has_a_browser_look_through_the_whole_page_at_each_key() -> None:
    """Where any element at all is asked of from above, a browser looks at each one of the page at every change, and a key takes half as long again."""
    asked = [(one, part) for group, _ in rules() for one in _parted(group, ",") for part in _asked_from_above(one)]
    assert len(asked) > 60
    slow = {one for one, part in asked if _can_be_any(part)}
    assert slow == set(), f"{sorted(slow)}: give the element a class or an attribute to go by"
