"""The reading grade, against sentences whose words and syllables a reader counts on the fingers."""

import pytest

from site_builder.reading.plainness import reading_grade


@pytest.mark.parametrize(
    ("sentences", "grade"),
    [
        # 6 words, 6 syllables, 1 sentence: 0.39 x 6 + 11.8 x 1 - 15.59.
        (["Get back and stay in sight"], -1.45),
        # 3 words, 9 syllables: 0.39 x 3 + 11.8 x 9 / 3 - 15.59.
        (["Understand fantastic hospital"], 20.98),
        # The same twice: a mean stays what it is.
        (["Understand fantastic hospital", "Understand fantastic hospital"], 20.98),
    ],
)
def test_the_grade_is_that_of_the_formula(sentences, grade):
    assert reading_grade([sentence.split() for sentence in sentences]) == pytest.approx(grade, abs=0.01)


def test_nothing_said_is_plain():
    assert reading_grade([]) == 0
