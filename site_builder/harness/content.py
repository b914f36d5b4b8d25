"""The content as it is published, read once for all that share it: it takes a second."""

from site_builder.reading.pages import read_pages
from site_builder.setting_up.checkout import CONTENT

CLUB = CONTENT / "club.toml"
PAGES = read_pages(CONTENT)
