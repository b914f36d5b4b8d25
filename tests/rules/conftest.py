"""What the rules of content read: the pages as they are published."""

import pytest

from site_builder.harness.content import PAGES
from site_builder.reading.pages import Page


@pytest.fixture(scope="session")
def pages() -> dict[str, Page]:
    return {page.key: page for page in PAGES}
