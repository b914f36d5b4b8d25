"""A number says how sure we are of it."""

from __future__ import annotations

import pytest

from calc.facts.cited import Provenance, practice


def test_a_fact_of_the_trade_says_that_no_document_states_it() -> None:
    cited = practice(49, "120 °F")
    assert (cited.value, cited.source, cited.where) == (49, "practice", "120 °F")
    assert cited.provenance.value == "common practice, no source"


@pytest.mark.parametrize("words", ["read in the source", "computed from the source", "from memory", "common practice, no source"])
def test_every_degree_of_being_sure_has_its_words(words: str) -> None:
    assert words in {one.value for one in Provenance}
