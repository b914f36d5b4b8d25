"""The content as it is published, read once for all that share it: it takes a second."""

from site_builder.building.site import CONTENT
from site_builder.reading.pages import read_pages

CLUB = CONTENT / "club.toml"
PAGES = read_pages(CONTENT)
