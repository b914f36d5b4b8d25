"""What a page may weigh: all of it counts, its form too."""

from pathlib import Path

import pytest

from site_builder.building.page_html import refuse_heavy_page
from site_builder.reading.faults import ContentFault

PAGE = Path("content/pages/storing.md")


def test_a_page_over_sixty_kilobytes_is_sent_back_by_its_name_and_weight():
    with pytest.raises(ContentFault, match=r"storing\.md: The page weighs 60\.1 kB, and 60 kB is the most"):
        refuse_heavy_page(PAGE, "<p>" + "é" * 30_048 + "</p>")


def test_a_page_of_sixty_kilobytes_passes():
    refuse_heavy_page(PAGE, "a" * 60_000)


def test_a_form_is_counted():
    with pytest.raises(ContentFault, match=r"weighs 80\.0 kB"):
        refuse_heavy_page(PAGE, "<p>Words.</p><form>" + "<p>\n</p>" * 10_000 + "</form>")
