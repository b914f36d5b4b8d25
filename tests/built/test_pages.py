"""Every page of dist/ as it stands: complete without a script, nothing inline, nothing from elsewhere, trouble one tap away."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

import pytest

from site_builder.building.bundling import STARTS, begun_with
from site_builder.building.licences import SPDX, TEXTS
from site_builder.building.own_file import SCHEMA
from site_builder.building.policy import META_POLICY
from site_builder.harness.content import PAGES
from site_builder.setting_up.checkout import DIST

ADDRESSES = [page.address for page in PAGES]
LOADING = {"script": "src", "link": "href", "img": "src", "iframe": "src", "audio": "src", "source": "src", "object": "data"}
ELSEWHERE = re.compile(r"(?:[a-z][a-z0-9+.-]*:)?//|(?:data|javascript|blob):", re.IGNORECASE)


@dataclass
class Element:
    tag: str
    attributes: dict[str, str]
    template: str = ""  # what stands in one is a document of its own, of which one at a time is put into the page
    words: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        return " ".join("".join(self.words).split())


class Built(HTMLParser):
    """The elements of a page, in order, each with the words inside it."""

    VOID = ("meta", "link", "input", "img", "br", "hr", "source")

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[Element] = []
        self._open: list[Element] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        template = next((one.attributes.get("id", "unnamed") for one in reversed(self._open) if one.tag == "template"), "")
        element = Element(tag, {name: value or "" for name, value in attrs}, template)
        self.elements.append(element)
        if tag not in self.VOID:
            self._open.append(element)

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop().tag != tag:
            pass

    def handle_data(self, data: str) -> None:
        for element in self._open:
            element.words.append(data)

    def all(self, tag: str) -> list[Element]:
        return [element for element in self.elements if element.tag == tag]


@pytest.fixture(scope="module", params=ADDRESSES)
def built(request: pytest.FixtureRequest) -> Built:
    file: Path = DIST / request.param
    if not file.is_file():
        pytest.fail(f"dist/{request.param} is not built: run the tests with python3 -m site_builder test")
    return Built(file.read_text(encoding="utf-8"))


def test_a_page_has_a_title_a_description_and_a_language(built: Built) -> None:
    [html], title = built.all("html"), built.all("title")[0]  # a picture has a title of its own, further down
    described = [one.attributes["content"] for one in built.all("meta") if one.attributes.get("name") == "description"]
    assert html.attributes["lang"].startswith("en") and title.text
    assert len(described) == 1 and len(described[0]) > 20


def test_a_page_has_one_main_part_with_the_only_first_heading(built: Built) -> None:
    [main], [heading] = built.all("main"), built.all("h1")
    assert main.attributes["id"] == "main" and heading.text and heading.text in main.text


def test_a_page_leads_to_the_trouble_page_in_one_tap(built: Built) -> None:
    links = [one for one in built.all("a") if one.attributes.get("href") == "pack-in-trouble.html"]
    assert any("trouble" in link.text.lower() for link in links)


def test_a_page_carries_the_content_security_policy_itself(built: Built) -> None:
    policies = [one.attributes["content"] for one in built.all("meta") if one.attributes.get("http-equiv") == "Content-Security-Policy"]
    assert policies == [META_POLICY]
    assert "require-trusted-types-for 'script'" in META_POLICY
    assert "unsafe-inline" not in META_POLICY and "'unsafe-eval'" not in META_POLICY


def test_a_page_holds_no_script_and_no_style_of_its_own(built: Built) -> None:
    scripts = [one for one in built.all("script") if not one.attributes.get("src") or one.text]
    styled = [one for one in built.elements if "style" in one.attributes or any(name.startswith("on") for name in one.attributes)]
    assert scripts + built.all("style") + styled == []


def test_a_page_loads_nothing_from_elsewhere(built: Built) -> None:
    loaded = [one.attributes[LOADING[one.tag]] for one in built.elements if one.tag in LOADING and LOADING[one.tag] in one.attributes]
    assert loaded and [address for address in loaded if ELSEWHERE.match(address) or address.startswith("/")] == []


def test_a_page_links_only_to_pages_of_its_own_to_the_licences_and_to_the_schema(built: Built) -> None:
    links = [one.attributes["href"] for one in built.all("a") if "href" in one.attributes]
    foreign = [address for address in links if ELSEWHERE.match(address) or address.startswith("/")]
    files = {re.split(r"[?#]", address)[0] for address in links} - {""}
    assert foreign == [] and files <= {*ADDRESSES, TEXTS, SPDX, SCHEMA}


def test_an_anchor_within_a_page_is_there(built: Built) -> None:
    named = [(one.template, one.attributes["id"]) for one in built.elements if "id" in one.attributes]
    ids = [name for template, name in named if not template]
    wanted = {one.attributes["href"][1:] for one in built.all("a") if one.attributes.get("href", "").startswith("#")}
    assert len(named) == len(set(named)), "an id stands twice"
    assert not {name for template, name in named if template} & set(ids), "an id of a template stands in the page as well"
    assert wanted <= set(ids)


def test_an_entry_has_a_label_and_is_typed_as_text(built: Built) -> None:
    labelled = {one.attributes.get("for") for one in built.all("label")}
    named = [one for one in built.all("input") + built.all("select") if one.attributes.get("name")]
    inputs = [one for one in named if one.attributes.get("type") != "hidden"]  # a card takes what stands in another page's form
    assert {one.attributes["id"] for one in inputs} <= labelled
    assert {one.attributes["type"] for one in inputs if one.tag == "input"} <= {"text"}
    assert not any("required" in one.attributes for one in inputs)


def test_a_page_of_few_has_the_style_of_few(built: Built) -> None:
    of_few = [
        one
        for one in built.elements
        if one.attributes.get("class") in ("act-picture", "screen") or one.attributes.get("id") in ("running-cards", "save-and-share")
    ]
    sheets = [one.attributes["href"].rpartition("/")[2] for one in built.all("link") if one.attributes.get("rel") == "stylesheet"]
    assert sheets == (["few_pages.css", "fieldslate.css"] if of_few else ["fieldslate.css"])


def test_a_warning_stands_above_a_caution(built: Built) -> None:
    below: list[str] = []
    had_caution = False
    for one in built.elements:
        had_caution = had_caution and not (one.tag == "ul" and one.attributes.get("class") == "cautions")
        kind = one.attributes.get("class") if one.tag == "li" else None
        below += [one.text] if kind == "grave" and had_caution else []
        had_caution = had_caution or kind == "mild"
    assert below == []


def test_a_page_starts_with_two_scripts_that_ask_for_no_other(built: Built) -> None:
    # Each one more would go through the service worker, one after the other, before the calculator could start.
    named = [element.attributes["src"] for element in built.elements if element.tag == "script"]
    assert [Path(name).name for name in named] == list(STARTS)
    parts = {Path(name).name: (DIST / name).read_bytes() for name in named}
    assert begun_with("page.js", parts) == {"page.js"}
    assert begun_with("starting.js", parts) == set(STARTS)


# The name of HTML among the languages of XML. Nothing is ever asked for there: a script compares it with what an element says of itself.
XHTML = '"http://www.w3.org/1999/xhtml"'


def test_our_scripts_and_style_name_no_address_elsewhere() -> None:
    scripts = [file for file in DIST.glob("code-*/*") if file.suffix not in (".gz", ".woff2")]
    files = [*scripts, DIST / "service-worker.js", DIST / "manifest.webmanifest"]
    assert len(files) > 3, "dist/ is not built: run the tests with python3 -m site_builder test"
    text_of = {file.name: file.read_text(encoding="utf-8").replace(XHTML, "") for file in files}
    named = [name for name, text in text_of.items() if re.search(r"https?:|[\"'`(]//", text)]
    assert named == [], f"{named} name an address: everything the app needs is its own"
