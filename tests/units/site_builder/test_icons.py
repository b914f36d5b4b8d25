"""The icon is one drawing in four files, and the manifest names the files that are there."""

import json
import math
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from site_builder.building.icons import AMBER, INK, PAPER, TEAL, write_icons
from site_builder.building.manifest import write_manifest
from site_builder.reading.pages import read_pages

CONTENT = Path(__file__).parents[3] / "content"


@pytest.fixture
def icons(tmp_path):
    write_icons(tmp_path / "icons")
    return tmp_path / "icons"


def rgb(colour):
    return tuple(bytes.fromhex(colour[1:]))


def test_the_same_drawing_gives_the_same_bytes(icons, tmp_path):
    write_icons(tmp_path / "again")

    assert {file.name: file.read_bytes() for file in icons.iterdir()} == {
        file.name: file.read_bytes() for file in (tmp_path / "again").iterdir()
    }


def test_the_svg_and_the_png_show_the_same_colour_in_the_middle_of_each_shape(icons):
    image = Image.open(icons / "icon-512.png").convert("RGB")
    rectangles = list(ElementTree.parse(icons / "icon.svg").getroot())
    last = rectangles[-1]
    middle = tuple(round(float(last.get(edge)) + float(last.get(length)) / 2) for edge, length in (("x", "width"), ("y", "height")))

    assert image.getpixel(middle) == rgb(last.get("fill"))


def test_the_drawing_keeps_to_the_colours_of_the_app(icons):
    fills = {rectangle.get("fill") for rectangle in ElementTree.parse(icons / "icon.svg").getroot()}

    assert fills == {INK, PAPER, AMBER, TEAL}


@pytest.mark.parametrize("colour", [PAPER, AMBER])
def test_at_48_pixels_the_chalk_and_the_cell_still_fill_whole_pixels(icons, colour):
    small = Image.open(icons / "icon-192.png").convert("RGB").resize((48, 48), Image.Resampling.BOX)

    assert dict(map(reversed, small.getcolors(48 * 48)))[rgb(colour)] > 20


def test_a_round_mask_cuts_nothing_but_ground_from_the_maskable_icon(icons):
    image = Image.open(icons / "icon-maskable-512.png").convert("RGB")
    outside = [(x, y) for x in range(0, 512, 3) for y in range(0, 512, 3) if math.hypot(x - 255.5, y - 255.5) > 0.4 * 512]

    assert {image.getpixel(point) for point in outside} == {rgb(TEAL)}


def test_the_maskable_icon_has_no_see_through_corner(icons):
    assert Image.open(icons / "icon-maskable-512.png").getchannel("A").getextrema() == (255, 255)


@pytest.mark.usefixtures("icons")
def test_the_manifest_names_only_files_that_are_there_in_the_size_that_it_says(tmp_path):
    write_manifest(tmp_path, read_pages(CONTENT))
    manifest = json.loads((tmp_path / "manifest.webmanifest").read_text(encoding="utf-8"))
    painted = [icon for icon in manifest["icons"] if icon["type"] == "image/png"]

    assert (tmp_path / "icons" / "icon.svg").exists()
    assert [icon["sizes"] for icon in painted] == ["{}x{}".format(*Image.open(tmp_path / icon["src"]).size) for icon in painted]


def test_every_address_in_the_manifest_is_relative_to_it(tmp_path):
    write_manifest(tmp_path, read_pages(CONTENT))
    manifest = json.loads((tmp_path / "manifest.webmanifest").read_text(encoding="utf-8"))
    addresses = [manifest["start_url"], manifest["scope"], *(shortcut["url"] for shortcut in manifest["shortcuts"])]

    assert addresses == ["./index.html", "./", "./pack-in-trouble.html", "./charge-settings.html"]
