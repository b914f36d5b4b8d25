"""The first page, the safety rules and the page for a pack in trouble: what must be said, and in which order."""

import re


def spoken(html):
    """Return the words that a person hears, without the marks."""
    return re.sub(r"<[^>]+>", " ", re.sub(r'<a class="source.*?</a>', "", html))


def sections(html):
    return re.split(r"(?=<h2)", html)[1:]


def test_home_has_four_uses_and_the_pages_come_in_the_order_of_the_navigation(pages):
    assert [page.key for page in pages.values() if page.in_bar] == ["charge-settings", "voltages", "cards", "safety-rules"]
    assert next(iter(pages)) == "index"
    assert [page.order for page in pages.values()] == sorted(page.order for page in pages.values())


def test_the_safety_rules_can_be_read_aloud_in_about_three_minutes(pages):
    words = len(spoken(pages["safety-rules"].body_html).split())

    # Common practice, no source: 130 to 150 words a minute for a text that is read to others.
    assert 300 <= words <= 450
    assert 10 <= pages["safety-rules"].body_html.count("<li>") <= 14


def test_every_safety_rule_names_its_source(pages):
    rules = re.findall(r"<li>.*?</li>", pages["safety-rules"].body_html, re.DOTALL)

    assert [rule for rule in rules if 'class="source' not in rule] == []


def test_the_trouble_page_says_water_distance_breathing_and_calling(pages):
    said = spoken(pages["pack-in-trouble"].lead_html + pages["pack-in-trouble"].body_html).lower()

    assert all(word in said for word in ("water", "distance", "do not breathe", "call"))
    assert not re.search(r"(do not|never|don't) (use|put|pour|throw) (any )?water", said)


def test_each_trouble_begins_with_the_act_and_goes_on_to_never_leave_watch_and_after(pages):
    every = sections(pages["pack-in-trouble"].body_html)
    afterwards = next(place for place, one in enumerate(every) if 'id="afterwards"' in one)
    troubles = every[1:afterwards]

    assert len(troubles) == 9

    for trouble in troubles:
        assert re.match(r'<h2 id="[^"]+">[^<]+</h2>\s*<p class="act">', trouble)
        places = [trouble.index(part) for part in ('class="never"', 'class="leave"', "<strong>Watch", "<strong>After")]
        assert places == sorted(places)


def test_the_fire_comes_first_with_distance_call_and_smoke_before_water(pages):
    fire = spoken(sections(pages["pack-in-trouble"].body_html)[0])

    assert "Call the fire service" in fire.split("Distance")[0]
    places = [fire.index(word) for word in ("25\u00a0m", "emergency number", "Do not breathe", "water", "15\u00a0minutes")]
    assert places == sorted(places)


def test_the_mains_are_off_before_a_burning_pack_is_cooled_with_water(pages):
    fire = spoken(sections(pages["pack-in-trouble"].body_html)[0])

    assert fire.index("switch off at the socket") < fire.index("cool it with water")


def test_the_trouble_page_needs_no_calculator(pages):
    assert pages["pack-in-trouble"].calculator == ""
