"""Every message that the code can make is plain, and every entry is asked for in a sentence that an editor would pass."""

from __future__ import annotations

import re

import pytest

from calc.calculators.packs_in_series import Inputs
from calc.inputs.fields import Entry, Kind, entries_of
from site_builder.commands.messages import asked_for, asking, messages, run
from site_builder.reading.plainness import HIGHEST_GRADE, MOST_WORDS, fault_of
from tests.rules.source_trees import listed

# What is filled in reads as a number with its unit, which is what it mostly is.
FILLED = re.compile(r"\$?\{[^{}]*\}")
# "Choose what the balance plugs go into.", "Enter the minutes after which you stop.": a thing, or a question about one.
ASKS = re.compile(
    r"(?:Enter|Choose) (?:the (?!the|if|when|what|bring|compare|stop|take|give|join|is|was|i|you|it)\b[a-z]|what |when you )[^.:?!]*\."
)
NO_THING = re.compile(r"\bI\b|^\w+ the [^.]*\bgo into\b|\b(?:of|to|with|at|after|into)\.$")
ENDS_AS_A_QUESTION = re.compile(
    r"^Choose what .* (?:to|into)\.$|^Enter the rate to \w+ (?:with|it at)\.$|^Enter the reserve to land with\.$|^Enter the charge to wait for\.$"
)

PLANTED = {
    "hard": "Notwithstanding aforementioned considerations, individuals responsible for electrochemical accumulators immediately discontinue operation.",
    "long": "Take it out " + "and look at it " * 8 + "again.",
    "a riddle": "The pack hides what it does not show on a meter.",
    "an idiom": "The timer is a promise for the hungry flight.",
    "a word twice": "Choose the the balance plugs go into.",
    "an article": "Enter a ampere or more.",
    "a small i": "Enter the time after which i stop.",
}


@pytest.mark.parametrize("said", PLANTED.values(), ids=PLANTED)
def test_a_planted_sentence_is_sent_back(said: str) -> None:
    assert fault_of(said)


# Riddles and slips that stood on a screen once, word for word.
STRUCK_OUT = [
    "You will forget it once.",
    "It is a limit and not a wish of the maker.",
    "The pack hides what it does not show.",
    "Every rule that spoke is in the list.",
    "The charge is drawn on from there.",
    "The alarm comes at no warning.",
    "Plan for the hungry flight.",
    "It gets rid of the heat without cooking itself.",
    "Count on more minutes in the cold.",
    "Its count is this one, or you stop.",
    "Its count is this one. Where it is another, stop.",
    "Choose the the balance plugs go into.",
    "Enter the if I stop after.",
    "Choose the bring it to.",
    "A straight line is hopeful at the end.",
    "The hands count.",
    "Each line opens the page that has the last word, with its pack and nothing read.",
    "Its own page then has the last word.",
    "As soon as can be: as many packs as possible.",
    "Test it before a pack ever sees it.",
    "It is often far less than the dial says.",
    "It is set by the power, whatever the dial says.",
    "A cell that the sum hides may end it.",
    "No more is promised than the lines go back.",
    "Did it go otherwise?",
    "On none of them may a cell pass the end.",
    "The kind of pack stands on its label.",
    "This figure, not one near it.",
    "Set by so much takes the lowest cell no further.",
    "It went otherwise: plan again.",
    "Follow it no longer.",
    "Is it this one still?",
    "Farther apart, one of them leaks.",
]


@pytest.mark.parametrize("said", STRUCK_OUT)
def test_what_was_struck_out_once_does_not_come_back(said: str) -> None:
    assert "puzzles" in fault_of(said)


@pytest.mark.parametrize(
    "said", ["Read every cell. Then let it rest.", "An hour at 1C, or half an hour.", "Each pack has a unit and a use."]
)
def test_a_plain_sentence_is_left_alone(said: str) -> None:
    assert not fault_of(said)


def test_no_message_is_hard_or_long_and_none_puzzles() -> None:
    found = list(messages())
    plain_text = [(place, said) for place, said in found if "</" not in said]
    faults = [f"{place}: {said}\n  {fault}" for place, said in plain_text if (fault := fault_of(FILLED.sub("3 A", said)))]
    assert len(plain_text) > 1000
    assert not faults, listed(faults) + f"\nAt most grade {HIGHEST_GRADE:g} and {MOST_WORDS} words a sentence."


def test_every_entry_is_asked_for_in_a_whole_sentence() -> None:
    faults = [
        f"{place}: {said} Give the entry `asked_as`, the thing that is asked for."
        for place, said in asking()
        if not ASKS.fullmatch(said) or (NO_THING.search(said) and not ENDS_AS_A_QUESTION.search(said))
    ]
    assert not faults, listed(faults)


@pytest.mark.parametrize(
    "label", ["The balance plugs go into", "If I stop after", "Bring it to", "When is it charged to", "Compare with a rate of"]
)
def test_a_label_that_names_no_thing_is_not_enough_to_ask_for_it(label: str) -> None:
    group = next(iter(entries_of(Inputs).values())).group
    said = asked_for(Entry(kind=Kind.CHOICE, label=label, group=group))
    assert not ASKS.fullmatch(said) or NO_THING.search(said)


def test_the_command_prints_each_message_with_its_place(capsys: pytest.CaptureFixture[str]) -> None:
    assert run([]) == 0
    printed = capsys.readouterr().out
    assert "day_plan/balance_plugs_into: Choose what the balance plugs go into." in printed
    assert re.search(r"^calc/rules/pack/cell_condition\.py:\d+: Only the whole pack was read", printed, re.MULTILINE)
    assert re.search(r"^site_builder/web/find\.js:\d+: Nothing found\.", printed, re.MULTILINE)
