"""The first page with ten packs is no longer than it may be, and no more taps and characters than may be lead from it to what is wanted."""

import pytest

from site_builder.measuring.flows import first_page, new_pilot, own_pack, two_in_series


@pytest.mark.parametrize("way", [first_page, new_pilot, own_pack, two_in_series])
def test_the_first_page_and_the_ways_from_it_are_as_short_as_they_must_be(far_page, visited, way):
    measured = list(way(far_page, visited.address))
    assert measured
    assert [one for one in measured if not one.is_held] == []
