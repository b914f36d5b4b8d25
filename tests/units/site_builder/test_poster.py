"""The poster: what hangs on the wall says what the pages say, and its QR code leads where the publisher said."""

import argparse
from pathlib import Path

import pytest

from site_builder.commands import build
from site_builder.commands.build import published_address
from site_builder.engine.qr_code import qr_code

CONTENT = Path(__file__).parents[3] / "content"


@pytest.mark.parametrize(
    ("typed", "address"),
    [
        ("https://club.example", "https://club.example/"),
        (" https://club.example/packs/fieldslate/ ", "https://club.example/packs/fieldslate/"),
        ("https://club.example:8443/packs", "https://club.example:8443/packs/"),
    ],
)
def test_an_address_is_that_of_the_folder(typed, address):
    assert published_address(typed) == address


@pytest.mark.parametrize(
    "typed",
    [
        "http://club.example/",
        "club.example",
        "https:///packs",
        "https://club.example/index.html",
        "https://club.example/?a=1",
        "https://club.example/#top",
    ],
)
def test_an_address_that_a_phone_could_not_keep_from_is_refused(typed):
    with pytest.raises(argparse.ArgumentTypeError):
        published_address(typed)


def test_the_build_says_what_is_wrong_with_an_address(capsys):
    with pytest.raises(SystemExit):
        build.run(["--address", "club.example"])
    assert "begin it with https://" in capsys.readouterr().err


def test_the_code_has_the_size_of_the_standard_and_its_quiet_margin():
    # ISO/IEC 18004: version v has 17 + 4 v modules a side; byte mode at level M holds 42 characters in version 3, 62 in version 4
    # (capacities from memory). Four modules of margin on each side.
    assert 'viewBox="0 0 37 37"' in qr_code("https://club.example/" + "a" * 21)
    assert 'viewBox="0 0 41 41"' in qr_code("https://club.example/" + "a" * 22)


def test_the_code_is_black_on_white_and_has_no_style_that_the_policy_forbids():
    svg = qr_code("https://club.example/")

    assert 'fill="#fff"' in svg and 'fill="#000"' in svg
    assert "style" not in svg and "id=" not in svg and svg.startswith("<svg ")
