"""The pages of the kinds of pack, and the glossary: what must stand there, in which order, with the numbers of calc."""

import re
from itertools import pairwise

import pytest

from calc.facts.chemistries import CHEMISTRIES, NICKEL_METAL_HYDRIDE, Chemistry
from site_builder.harness.content import PAGES
from tests.rules.spoken import spoken

# A page of a kind is known by the chemistry whose voltages it shows.
SHOWN = {page.key: re.findall(r"\]\(voltages/(\w+)\)", page.file.read_text(encoding="utf-8")) for page in PAGES if page.section == "know"}
KINDS = {key: shown[0] for key, shown in SHOWN.items() if shown and shown[0] in CHEMISTRIES}
# The kinds of which a page may name the voltage beside its own: what it is taken for.
TAKEN_FOR = {"high-voltage": ("lipo",)}


def written(page):
    """Return the words that were typed, without the tables and curves that the build made."""
    made = re.compile(r'<section class="answer-part">.*?</section>', re.DOTALL)
    return spoken(" ".join((page.title, page.description, page.lead_html, made.sub("", page.body_html))))


def part(page, heading):
    """Return the words below one heading, up to the next."""
    return page.body_html.split(f">{heading}</h2>")[1].split("<h2")[0]


def voltages_of(kind: Chemistry):
    return {getattr(kind, name).value for name in kind.__dataclass_fields__ if name.endswith("_cell_v")}


def test_each_chemistry_of_calc_has_a_page():
    missing = sorted(set(CHEMISTRIES) - set(KINDS.values()))
    assert not missing, (
        f"no page of the section `know` shows ![...](voltages/{missing[0]}): write it, with the headings of content/pages/iron-phosphate.md"
    )


@pytest.mark.parametrize(("key", "chemistry"), KINDS.items())
def test_a_kind_shows_its_voltages_then_its_curve_then_what_a_wrong_mode_does(pages, key, chemistry):
    html = pages[key].body_html
    places = [
        html.index(f"<caption>{CHEMISTRIES[chemistry].name}, one cell</caption>"),
        html.index('class="picture"'),
        html.index(f"<caption>{CHEMISTRIES[chemistry].name}, in each mode of a charger</caption>"),
    ]
    assert all(before < after for before, after in pairwise(places))


@pytest.mark.parametrize(("key", "chemistry"), KINDS.items())
def test_a_voltage_in_the_words_is_one_that_calc_has_for_this_kind(pages, key, chemistry):
    known = voltages_of(CHEMISTRIES[chemistry]).union(*(voltages_of(CHEMISTRIES[other]) for other in TAKEN_FOR.get(key, ())))
    said = [float(volts) for volts in re.findall(r"(\d+(?:\.\d+)?) V\b", written(pages[key]))]

    assert said and set(said) <= known


@pytest.mark.parametrize(("key", "chemistry"), KINDS.items())
def test_a_kind_begins_with_the_voltage_that_the_charger_must_show(pages, key, chemistry):
    assert f"{CHEMISTRIES[chemistry].full_cell_v.value:.2f} V per cell" in spoken(pages[key].lead_html)


@pytest.mark.parametrize("key", KINDS)
def test_a_kind_leads_to_help_for_each_way_past_its_limits(pages, key):
    html = pages[key].body_html

    for where in ("pack-in-trouble.html#charged-too-far", "pack-in-trouble.html#run-too-flat", "cold-day.html"):
        assert f'href="{where}"' in html


@pytest.mark.parametrize("key", [*KINDS, "other-kinds"])
def test_a_kind_ends_with_when_to_stop_and_who_to_ask(pages, key):
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", pages[key].body_html)[-1] == "When to stop, and who to ask"


def test_a_usual_pack_in_the_high_voltage_mode_is_called_overcharged_where_the_mode_is_explained(pages):
    assert "A usual pack in the high-voltage mode is overcharged" in spoken(part(pages["high-voltage"], "The wrong mode"))


def test_iron_phosphate_says_before_all_else_that_every_other_mode_overcharges_it(pages):
    assert "Every other lithium mode overcharges it" in spoken(pages["iron-phosphate"].lead_html)
    lower = [
        key for key, other in CHEMISTRIES.items() if key != "life" and other.full_cell_v.value <= CHEMISTRIES["life"].full_cell_v.value
    ]
    assert not lower, f"{lower} are full below iron phosphate: say otherwise in content/pages/iron-phosphate.md, and here"


def test_five_iron_phosphate_cells_can_read_like_four_of_lithium_polymer(pages):
    assert "Five of these cells can read like four of lithium-polymer" in written(pages["iron-phosphate"])
    four = [4 * volts for volts in CHEMISTRIES["lipo"].resting.likely.cell_v]
    half_full = 5 * CHEMISTRIES["life"].resting.likely.cell_v[20]

    assert four[0] < half_full < four[-1]


def test_three_packs_of_different_kinds_can_read_alike(pages):
    assert "Three lithium-polymer cells, four of iron phosphate and ten of nickel can read alike" in written(pages["other-kinds"])
    lipo, life = CHEMISTRIES["lipo"].resting.likely.cell_v, CHEMISTRIES["life"].resting.likely.cell_v
    highest = min(3 * lipo[-1], 4 * life[-1], 10 * NICKEL_METAL_HYDRIDE.on_charge_high_cell_v.value)
    lowest = max(3 * lipo[0], 4 * life[0], 10 * NICKEL_METAL_HYDRIDE.cutoff_cell_v.value)

    assert lowest < highest


def test_a_kind_that_cannot_be_told_is_not_charged(pages):
    assert "do not charge it" in spoken(pages["other-kinds"].lead_html)
    assert "Do not charge it" in spoken(part(pages["other-kinds"], "A kind that you cannot tell"))


def test_lithium_metal_is_told_apart_from_packs_where_water_is_named(pages):
    metal = spoken(part(pages["other-kinds"], "Lithium metal, not rechargeable"))

    assert metal.index("Do not put water on a burning boxful of them") < metal.index("A pack that can be charged is not of this kind")


# The glossary


def words_of(page):
    return re.findall(r'<h3 id="([^"]+)">(.*?)</h3>(.*?)(?=<h[23]|$)', page.body_html, re.DOTALL)


def test_the_glossary_goes_by_the_alphabet_and_each_word_stands_under_its_letters(pages):
    names = [name.replace("-", "").replace("C rate", "C") for _, name, _ in words_of(pages["glossary"])]

    assert names == sorted(names, key=str.lower)
    for group in re.split(r"<h2", pages["glossary"].body_html)[1:]:
        letters = re.findall(r"[A-Z]", re.search(r">([^<]+)</h2>", group)[1])
        assert all(letters[0] <= name[0] <= letters[-1] for name in re.findall(r"<h3[^>]*>(.*?)</h3>", group))


def test_a_word_is_said_in_one_to_three_short_sentences(pages):
    for _, name, says in words_of(pages["glossary"]):
        said = re.sub(r"\s*See [^.]*\.", "", spoken(says)).strip()
        assert 1 <= len(re.split(r"(?<=[.])\s", said)) <= 3 and len(said.split()) <= 40, name


@pytest.mark.parametrize(
    "word",
    [
        "C rate",
        "Cell count",
        "Balance lead, balance plug",
        "Resting voltage",
        "Sag",
        "Internal resistance",
        "Taper",
        "Storage band",
        "Puffed",
    ],
)
def test_a_word_of_the_trade_is_there_with_an_address(pages, word):
    assert word in [name for address, name, _ in words_of(pages["glossary"]) if address]


def test_a_rate_of_one_is_a_current_that_the_reader_can_check(pages):
    # 2200 mAh in one hour is 2.2 A, by the meaning of the word.
    [says] = [says for _, name, says in words_of(pages["glossary"]) if name == "C rate"]
    assert "2.2 A for a pack of 2200 mAh" in spoken(says)
