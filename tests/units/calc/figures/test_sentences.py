"""A sentence is text to whoever prints it, and keeps its figures for whoever shows them in other units."""

from copy import deepcopy

from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.figures.sentences import worded
from calc.inputs.refusals import within_sentence

STOP = worded("Stop at {}.", Figure(49, DEGREES_CELSIUS))


def test_a_sentence_is_its_text() -> None:
    assert STOP == "Stop at 49\u00a0°C." and isinstance(STOP, str)


def test_a_sentence_that_goes_on_keeps_its_figures() -> None:
    longer = STOP + " Then wait."
    assert longer == "Stop at 49\u00a0°C. Then wait."
    assert longer.figures[0].figures == STOP.figures


def test_a_sentence_within_a_sentence_keeps_its_figures() -> None:
    assert within_sentence(STOP) == "stop at 49\u00a0°C."
    assert within_sentence(STOP).figures == STOP.figures


def test_a_copy_of_a_sentence_is_the_same_sentence() -> None:
    copied = deepcopy(STOP)
    assert copied == STOP and copied.figures == STOP.figures
