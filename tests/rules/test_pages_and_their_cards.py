"""A card and the page of its job say the same numbers: every amount on the card, its timers' minutes too, stands where the page speaks of the same."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction

import pytest

from site_builder.harness.content import PAGES
from site_builder.reading.shared_rules import RULES_FILE, read_shared_rules, with_shared_rules
from site_builder.setting_up.checkout import CONTENT

SHARED = read_shared_rules(CONTENT / RULES_FILE)
FILES = {page.key: page.file for page in PAGES}
AS_READ = {key: with_shared_rules(file.read_text(encoding="utf-8"), SHARED, file) for key, file in FILES.items()}
CARDS = [page.key for page in PAGES if page.card]

NUMBERS = {
    "a": 1,
    "an": 1,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "eight": 8,
    "ten": 10,
    "twenty": 20,
    "thirty": 30,
}
PARTS = {"half": 2, "third": 3, "quarter": 4, "fifth": 5, "tenth": 10}
MINUTES = {"minute": 1, "min": 1, "hour": 60, "day": 1440, "week": 10080, "month": 43200, "year": 525600}
NUMBER = rf"\d+(?:\.\d+)?|{'|'.join(NUMBERS)}"
TIME = re.compile(rf"\b(half an?|(?:a )?quarter of an|{NUMBER}) (minute|min|hour|day|week|month|year)s?\b", re.IGNORECASE)
PART = re.compile(rf"\b(?:(a|one|two|three|four) )?({'|'.join(PARTS)})s?\b(?! an? hour| of an hour)", re.IGNORECASE)
OTHER = re.compile(r"(?<![\w.-])(-?\d+(?:\.\d+)?) ?(°C|°F|litres?|mAh|mm²|cm|mm|[VAWΩ%m]|C|S)(?![\w%])")
SOURCE = re.compile(r"\s*\{[a-z0-9-]+\}|\*\*")
# Words that say nothing of what a sentence is about.
EMPTY = {
    "with",
    "that",
    "this",
    "from",
    "when",
    "until",
    "than",
    "each",
    "only",
    "more",
    "most",
    "them",
    "they",
    "then",
    "have",
    "your",
    "pack",
    "packs",
}

IN_COMMON = 2  # so many words make two sentences speak of the same: one alone, "half" or "hour", would not


def amounts(said: str) -> set[tuple[str, Fraction]]:
    """The amounts that a sentence names, a time in minutes however it is said."""
    times = {("min", _number(number) * MINUTES[unit.lower()]) for number, unit in TIME.findall(said)}
    parts = {("part", Fraction(NUMBERS.get(many.lower(), 1), PARTS[part.lower()])) for many, part in PART.findall(said)}
    return times | parts | {(unit.removesuffix("s"), Fraction(number)) for number, unit in OTHER.findall(said)}


def _number(said: str) -> Fraction:
    said = said.lower()
    if said.startswith("half"):
        return Fraction(1, 2)
    if "quarter" in said:
        return Fraction(1, 4)
    return Fraction(NUMBERS.get(said) or said)


def about(said: str) -> set[str]:
    """The first letters of the words of a sentence that say what it is about."""
    return {word[:5] for word in re.findall(r"[a-z]{4,}", said.lower()) if word not in EMPTY}


def items(key: str) -> list[str]:
    """What a page says, a paragraph or a step of a list each."""
    body = SOURCE.sub("", AS_READ[key].split("+++\n", 2)[2])
    body = re.sub(r"\]\([^)]*\)", "", body)
    lead = tomllib.loads(AS_READ[key].split("+++\n", 2)[1])["lead"]
    return [SOURCE.sub("", lead), *re.split(r"\n\s*\n|\n(?=- |\d+\. )", body)]


def unlike(key: str, text: str) -> list[str]:
    """The amounts on a card for which the page of its job has no place that speaks of the same."""
    front = tomllib.loads(text.split("+++\n", 2)[1])
    pages = [page for page in re.findall(r"\(([a-z-]+)\.html\)", text.split("+++\n", 2)[2]) if f"({key}.html)" in AS_READ.get(page, "")]
    assert pages, f"content/pages/{key}.md and the page of its job do not lead to each other: link them"
    said_there = [(amounts(item), about(item)) for page in pages for item in items(page)]
    steps = [step for part in front["parts"] for step in part["steps"]]
    on_card = [("", SOURCE.sub("", one)) for one in front.get("stop_at_once", [])]
    on_card += [(step["title"], SOURCE.sub("", step["say"])) for step in steps]
    on_card += [
        (step["title"] + " " + SOURCE.sub("", step["say"]), f"{step['timer_min']} minutes") for step in steps if "timer_min" in step
    ]
    return [
        f"{key}, “{title or said}”: {said} ({unit} {float(value):g})"
        for title, said in on_card
        for unit, value in sorted(amounts(f"{title}. {said}" if not said.endswith(" minutes") else said))
        if not any((unit, value) in there and len(about(f"{title} {said}") & words) >= IN_COMMON for there, words in said_there)
    ]


@pytest.mark.parametrize("key", CARDS)
def test_a_card_says_the_amounts_of_the_page_of_its_job(key: str) -> None:
    faults = unlike(key, AS_READ[key])
    assert not faults, "say it alike on the card and on its page, or once in content/rules.toml:\n" + "\n".join(faults)


# Other amounts than the page's, in the words of the card.
PLANTED = [
    ("cold-day-card", "a quarter", "half"),
    ("cold-day-card", "a quarter", "a tenth"),
    ("cold-day-card", "two hours", "half an hour"),
    ("cold-day-card", "an hour and more", "ten minutes"),
    ("cold-day-card", "timer_min = 15", "timer_min = 40"),
    ("battery-care-card", "timer_min = 5", "timer_min = 20"),
    ("battery-care-card", "a tenth", "a fifth"),
    ("putting-away-card", "half an hour has passed", "ten minutes have passed"),
    ("putting-away-card", "timer_min = 30", "timer_min = 10"),
    ("hot-car-card", "timer_min = 30", "timer_min = 5"),
    ("hot-car-card", "45 °C", "60 °C"),
    ("long-rest-card", "timer_min = 5", "timer_min = 30"),
    ("parallel-card", "five minutes at least", "two minutes at least"),
    ("reading-cells-card", "Half an hour", "Ten minutes"),
    ("handing-in-card", "within a week", "within a month"),
]


@pytest.mark.parametrize(("key", "says", "other"), PLANTED)
def test_another_amount_on_a_card_is_found(key: str, says: str, other: str) -> None:
    assert says in AS_READ[key]
    assert unlike(key, AS_READ[key].replace(says, other))


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("Half an hour, or a quarter of an hour.", {("min", 30), ("min", 15)}),
        ("Two hours and five minutes.", {("min", 120), ("min", 5)}),
        (
            "By a quarter, at four fifths, half of 1C.",
            {("part", Fraction(1, 4)), ("part", Fraction(4, 5)), ("part", Fraction(1, 2)), ("C", 1)},
        ),
        ("Below 45 °C, 20 litres, 2.5 m.", {("°C", 45), ("litre", 20), ("m", Fraction(5, 2))}),
    ],
)
def test_an_amount_is_read_in_words_and_in_figures(said: str, read: set[tuple[str, Fraction]]) -> None:
    assert amounts(said) == read
