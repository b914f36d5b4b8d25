"""The how-to pages and the charging place: what must stand on each, and in which order it is done."""

import re
import tomllib
from itertools import pairwise
from math import exp, log

import pytest

from calc.calculators.parts.charging_card_looks import steps_afterwards
from calc.facts.chemistries import CHEMISTRIES
from calc.facts.pack_heat import HEAT_TRANSFER_W_PER_M2_K, SPECIFIC_HEAT_J_PER_KG_K
from calc.facts.practice import AIR_LEAST_DEGC, AIR_MOST_DEGC
from calc.physics.pack.pack_heat import body_of
from site_builder.building.job_cards import steps_html
from site_builder.harness.content import CLUB, PAGES
from site_builder.reading.shared_rules import RULES_FILE, read_shared_rules
from site_builder.setting_up.checkout import CONTENT
from tests.rules.spoken import spoken

# A page of the section is held to these rules as soon as it is there; these stand in another section, and are done step by step too.
STEPS = sorted({page.key for page in PAGES if page.section == "how"} | {"travelling", "handing-in", "battery-care", "charging-place"})
CARDS = [page for page in PAGES if page.card]
LAST = "When to stop, and who to ask"


def part(page, heading):
    """Return the words below one heading, up to the next."""
    return page.body_html.split(f">{heading}</h2>")[1].split("<h2")[0]


def assert_in_this_order(text, *words):
    places = [text.index(word) for word in words]
    assert all(before < after for before, after in pairwise(places)), list(zip(words, places, strict=True))


# Every page


@pytest.mark.parametrize("key", STEPS)
def test_a_how_to_has_numbered_steps_and_ends_with_when_to_stop(pages, key):
    page = pages[key]
    headings = re.findall(r"<h2[^>]*>(.*?)</h2>", page.body_html)

    assert "<ol>" in page.body_html, f"content/pages/{key}.md has no numbered steps: write them as 1. 2. 3."
    assert headings[-1] == LAST, f"content/pages/{key}.md ends without “## {LAST}”: write that part"
    assert "ask" in spoken(part(page, headings[-1])).lower().split()


@pytest.mark.parametrize("key", STEPS)
def test_a_how_to_leads_to_the_page_that_gives_its_numbers(pages, key):
    linked = set(re.findall(r'href="([a-z-]+)\.html', pages[key].body_html))

    # A balance extension has no number of its own: it leads to the page on which the cells are read.
    calculators = {other.key for other in pages.values() if other.calculator} | {"reading-cells"}
    assert linked & calculators, f"content/pages/{key}.md leads to no calculator: link the one that gives its numbers"


@pytest.mark.parametrize("key", sorted({*STEPS} - {"travelling", "balance-extension", "reading-a-label", "battery-care"}))
def test_a_how_to_on_packs_leads_to_the_trouble_page(pages, key):
    assert 'href="pack-in-trouble.html' in pages[key].body_html, f"content/pages/{key}.md does not lead to pack-in-trouble.html: link it"


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.key)
def test_a_page_leads_to_each_card(card):
    leading = [page.key for page in PAGES if f'href="{card.address}' in page.body_html]
    assert leading, f"no page leads to {card.file.name}: link it in the page of its job"


@pytest.mark.parametrize(
    "card", [one for one in CARDS if any(step.starts for part in one.card.parts for step in part.steps)], ids=lambda card: card.key
)
def test_a_card_that_starts_a_charge_shows_what_is_set_and_what_ends_it_before_the_start(card):
    html = steps_html(card)
    before = html[: html.index("data-starts")]
    shown = set(re.findall(r'data-from="(\w+)"', before.split("Stop at once if")[0])) | set(
        re.findall(r'class="step-figure" data-from="(\w+)"', before)
    )
    wanted = [{"chemistry_mode"}, {"full_voltage", "storage_voltage"}, {"charge_current", "joint_current"}, {"cells"}]
    wanted += [{"capacity_cutout"}, {"time_cutout"}, {"temperature_stop"}]

    assert not [keys for keys in wanted if not keys & shown], (
        f"{card.file.name} starts a charge and does not show these: add a step for each"
    )


def begins_a_charge(card, step):
    return bool(step.starts) or (card.numbers_from, step.key) == ("storage", "stay")


@pytest.mark.parametrize(
    "card",
    [one for one in CARDS if any(begins_a_charge(one, step) for part in one.card.parts for step in part.steps)],
    ids=lambda card: card.key,
)
def test_a_card_says_in_which_order_to_plug_in_before_a_charge_and_to_unplug_after_it(card):
    steps = [step for part in card.card.parts for step in part.steps]
    [start] = [place for place, step in enumerate(steps) if begins_a_charge(card, step)]
    told = [f"{step.title} {spoken(step.say_html)}".lower() for step in steps]

    assert any("lead into the charger" in one for one in told[:start]), f"{card.file.name} says nowhere how to plug in"
    assert any(re.search(r"balance (lead|plugs), ", one) for one in told[start:]), f"{card.file.name} says nowhere how to unplug"


@pytest.mark.parametrize(
    "card",
    [one for one in CARDS if any(begins_a_charge(one, step) for part in one.card.parts for step in part.steps)],
    ids=lambda card: card.key,
)
def test_a_card_has_each_pack_looked_over_and_its_cells_read_before_a_plug_goes_in(card):
    told = [f"{step.title} {spoken(step.say_html)}".lower() for part in card.card.parts for step in part.steps]
    plugged = next(place for place, one in enumerate(told) if "lead into the charger" in one)

    assert any(re.search(r"\bswell|\bswollen", one) for one in told[:plugged]), f"{card.file.name} has no pack looked over"
    assert any(re.search(r"\b(read|measure) every cell\b", one) for one in told[:plugged]), f"{card.file.name} has no cell read"


def test_the_cards_plug_in_and_unplug_in_the_order_of_the_charging_card():
    rules = read_shared_rules(CONTENT / RULES_FILE)
    (unplugged,) = [step.say for step in steps_afterwards() if step.key == "unplug"]

    assert_in_this_order(rules["plug-in"], "supply", "main lead into the charger", "pack onto", "balance plug")
    assert_in_this_order(rules["unplug"], "stopped", f"{unplugged[0].lower()}{unplugged[1:]}")


def test_the_card_for_storage_chooses_the_way_that_it_names_before_the_current(pages):
    steps = spoken(steps_html(pages["putting-away-card"]))

    assert_in_this_order(steps, "Which way", "choose the charge to storage or the discharge", "For the way that you have chosen")


def test_a_doubtful_pack_is_charged_to_the_voltage_for_storage_and_no_full_one_stands_on_its_card(pages):
    html = steps_html(pages["long-rest-card"])

    assert "11.40 to 11.52\u00a0V" in html.split('data-step="ends-at"')[1].split("</li>")[0]
    assert "full_voltage" not in html


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.key)
def test_a_card_says_whose_label_is_in_the_hand_and_has_a_step_that_compares_it(card):
    steps = [step for part in card.card.parts for step in part.steps]
    first = steps_html(card).split('<ol class="steps">')[1].split("</li>")[0]
    compared = re.search(r'data-step="which-pack"', first)

    assert card.card.label_of in ("pack", "packs", "battery", "none"), f"{card.file.name} has no `label_of`"
    if card.card.label_of == "none":
        assert not card.numbers_from
    elif card.numbers_from:
        assert compared and f"the card of another {card.card.label_of.removesuffix('s')}" in first
    else:
        assert any(step.act == "label" and step.key == "label" for step in steps), f"{card.file.name} has no step `label`: add it"


def test_the_label_compared_on_the_card_of_the_battery_is_the_battery_s(pages):
    first = steps_html(pages["battery-care-card"]).split('<ol class="steps">')[1].split("</li>")[0]

    assert "this is the card of another battery" in first and "pack" not in spoken(first)


@pytest.mark.parametrize("key", STEPS)
def test_each_step_names_its_source_or_leads_to_its_page(pages, key):
    # A plain order such as "Red to red." needs neither; more than one in five would be too many.
    lists = re.findall(r"<ol>.*?</ol>", pages[key].body_html, re.DOTALL)
    steps = [step for block in lists for step in block.split("<li>")[1:]]
    bare = [spoken(step) for step in steps if "<a " not in step]

    assert len(steps) >= 9
    assert len(bare) <= len(steps) / 5, bare


# Charging


def test_a_new_pack_is_looked_at_and_measured_before_it_is_charged_and_read_again_after(pages):
    steps = spoken(part(pages["first-charge"], "In this order"))

    assert_in_this_order(
        steps, "Look before", "Check the main lead", "Read every cell.", "1C at most", "charging card", "watch", "read every cell again"
    )


def test_in_series_the_packs_are_alike_and_the_balance_plugs_come_last_and_off_first(pages):
    page = pages["charging-in-series"]
    steps = spoken(part(page, "In this order"))

    assert "same kind, the same capacity and the same age" in spoken(part(page, "What you need"))
    assert_in_this_order(
        steps,
        "Charge lead into the charger first",
        "series lead",
        "Measure across",
        "onto the charge lead",
        "Balance plugs, one by one",
        "Start",
    )
    assert_in_this_order(steps.split("Take apart")[1], "stop", "balance plugs", "packs off the charge lead", "series lead")


@pytest.mark.parametrize("key", ["charging-in-series", "charging-in-parallel", "series-card", "parallel-card"])
def test_a_swollen_pack_is_not_charged_alone_where_several_are_to_be_joined(pages, key):
    steps = spoken(steps_html(pages[key]) if pages[key].card else part(pages[key], "In this order"))

    assert "Swollen, dented, leaking or smelling: it is not charged at all." in steps


@pytest.mark.parametrize("key", ["packs-in-series", "packs-in-parallel"])
def test_a_damaged_pack_is_not_charged_one_by_one_either(pages, key):
    told = spoken(part(pages[key], "When not to"))

    assert_in_this_order(told, "charge them one by one", "A swollen or damaged pack is not charged at all")
    assert "amaged" not in told.split("charge them one by one")[0]


@pytest.mark.parametrize("key", ["charging-in-series", "charging-in-parallel"])
def test_a_charge_of_several_packs_is_stopped_before_they_are_taken_apart(pages, key):
    assert_in_this_order(spoken(part(pages[key], "In this order")).split("Take apart")[1].lower(), "stop", "balance plugs")


@pytest.mark.parametrize("key", ["series-card", "parallel-card"])
def test_a_card_of_several_packs_stops_the_charge_before_they_are_taken_apart(pages, key):
    apart = steps_html(pages[key]).split('data-step="apart"')[1].split("<p>")[1].split("</p>")[0]

    assert_in_this_order(spoken(apart), "Stop", "balance plugs")


def test_a_pack_that_a_charger_refuses_is_looked_at_and_felt_before_its_plugs_are_touched(pages):
    steps = spoken(part(pages["will-not-charge"], "In this order"))

    assert_in_this_order(steps, "Look and smell", "Read the message", "Feel the pack", "unplug the balance lead")


def test_a_pack_that_is_too_cold_for_its_charger_is_not_sent_into_the_shade(pages):
    (told,) = [item for item in pages["will-not-charge"].body_html.split("<li>") if "Temperature:" in item]

    assert_in_this_order(told, "too cold", "cold-day.html", "into the shade")


def test_a_cell_that_reads_nothing_is_not_judged_before_its_wire_was_looked_for(pages):
    # For the cell check 0.00 V is a cell below its floor, and the pack is out of use from then on.
    steps = part(pages["will-not-charge"], "In this order")
    (judged,) = [step for step in steps.split("<li>") if "cell-check.html" in step]

    assert "A cell that reads nothing comes first" in spoken(judged) and "#a-cell-that-reads-nothing" in judged


@pytest.mark.parametrize("key", ["charging-in-series", "charging-in-parallel"])
def test_each_short_circuit_that_joining_can_make_says_what_to_do(pages, key):
    told = [item for item in part(pages[key], "What can go wrong").split("<li>") if re.search(r"melt|short", item)]

    assert len(told) >= 1
    assert not [spoken(item) for item in told if "pack-in-trouble.html#short-circuit" not in item]


@pytest.mark.parametrize("key", ["charging-in-series", "packs-in-series"])
def test_how_long_a_balancer_works_has_its_number_and_its_source_on_each_page_that_says_it(pages, key):
    (said,) = re.findall(r"<li>(?:(?!<li>).)*?balancer works.*?</li>", pages[key].body_html, re.DOTALL)

    assert "At 0.2 A to 0.5 A a balancer works on that for three to eight hours" in spoken(said)
    assert "ai-2020" in said and "by-trade" in said


def test_nobody_reaches_in_where_a_pack_on_a_board_is_the_wrong_way_round(pages):
    trouble = spoken(part(pages["pack-in-trouble"], "Plugged in backwards"))
    board = part(pages["charging-in-parallel"], "What can go wrong")

    assert_in_this_order(
        trouble, "On a board, or joined to another pack: do not reach in", "unplug it at once", "Step back, and go to Short circuit"
    )
    told = [item for item in board.split("<li>") if "another cell count" in item or "backwards" in item]
    assert len(told) == 2
    for item in told:
        assert "Do not reach in: step back" in spoken(item) and "pack-in-trouble.html#short-circuit" in item


def test_in_parallel_main_leads_go_in_first_then_a_wait_then_the_balance_plugs(pages):
    page = pages["charging-in-parallel"]
    steps = spoken(part(page, "In this order"))

    assert "Never join unequal cell counts" in spoken(part(page, "What you need"))
    assert_in_this_order(
        steps, "Count the cells", "Read every cell", "Main leads into the board", "Wait.", "Then the balance plugs", "Set the charger"
    )


def test_a_pack_that_lay_for_a_year_waits_a_night_between_a_slow_charge_and_a_full_one(pages):
    steps = spoken(part(pages["a-long-rest"], "In this order"))

    assert_in_this_order(
        steps,
        "Look, feel, smell",
        "A cell below its floor: stop",
        "to storage only",
        "lie overnight",
        "Read every cell again",
        "charge it full",
    )


@pytest.mark.parametrize("key", ["a-long-rest", "putting-away"])
def test_a_step_that_brings_a_pack_to_storage_leads_to_the_page_that_stops_it_there(pages, key):
    # The charge settings stop at full.
    assert 'href="storage.html"' in part(pages[key], "In this order")


# Heat and cold


def test_the_cold_page_says_the_limits_that_calc_uses(pages):
    steps = spoken(part(pages["cold-day"], "Before you charge"))
    limits = CHEMISTRIES["lipo"].temperatures

    assert f"At {limits.charge_least_degc.value:g} °C (32 °F) or below: no charge" in steps
    assert f"Air below {AIR_LEAST_DEGC.value:g} °C (32 °F)" in steps
    assert f"From {limits.charge_least_degc.value:g} to {limits.charge_slow_below_degc.value:g} °C (32 to 50 °F): half" in steps


def test_the_hot_page_says_the_limits_that_calc_uses(pages):
    said = spoken(pages["hot-car"].body_html)
    limits = CHEMISTRIES["lipo"].temperatures

    assert f"ends at {limits.charge_most_degc.value:g} °C (113 °F) in the cell" in said
    assert f"Above {limits.discharge_most_degc.value:g} °C (140 °F) nothing is allowed" in said
    assert f"below {limits.charge_most_degc.value:g} °C (113 °F) in the pack and {AIR_MOST_DEGC.value:g} °C (104 °F) in the air" in said


def test_the_heat_of_a_parked_car_is_that_of_the_study_in_degrees_celsius(pages):
    said = spoken(part(pages["hot-car"], "How hot it gets"))
    # McLaren 2005, abstract: outside 72 to 96 °F, a rise of about 40 °F, 117 °F reached on the coolest days.
    outside = [(fahrenheit - 32) / 1.8 for fahrenheit in (72, 96)]

    assert f"{outside[0]:.0f} to {outside[1]:.0f} °C (72 to 96 °F) outside" in said
    assert f"about {40 / 1.8:.0f} °C (40 °F) hotter" in said
    assert f"{(117 - 32) / 1.8:.0f} °C (117 °F) inside" in said


def test_a_warm_pack_can_be_cold_before_ten_minutes_are_over_in_freezing_air(pages):
    # The club's pack by its watt-hours, in the wind, by the lumped body of the textbooks: t = C / G ln(25 / 10).
    pouch = CHEMISTRIES["lipo"].energy_per_mass_wh_per_kg.likely.value
    heat = SPECIFIC_HEAT_J_PER_KG_K.likely.value
    body = body_of(mass_kg=29.4 / pouch, specific_heat_j_per_kg_k=heat, heat_transfer_w_per_m2_k=HEAT_TRANSFER_W_PER_M2_K.most.value)
    minutes = body.heat_capacity_j_per_k / body.cooling_w_per_k * log(25 / 10) / 60

    assert 5 < minutes < 10
    assert "off within five minutes. In freezing air a warm pack of 2650 mAh can be down at 10 °C (50 °F) within ten" in spoken(
        part(pages["cold-day"], "Before you fly")
    )


def test_a_large_frozen_pack_is_warm_enough_to_charge_slowly_after_two_hours_in_a_room(pages):
    # 111 Wh, from 0 °C in a room at 20 °C: even in still air it then is at 10 °C, where the cold no longer halves the current.
    pouch = CHEMISTRIES["lipo"].energy_per_mass_wh_per_kg.likely.value
    degc = [
        20 - 20 * exp(-120 * 60 * body.cooling_w_per_k / body.heat_capacity_j_per_k)
        for still in (HEAT_TRANSFER_W_PER_M2_K.least.value, HEAT_TRANSFER_W_PER_M2_K.likely.value)
        for body in [
            body_of(mass_kg=111 / pouch, specific_heat_j_per_kg_k=SPECIFIC_HEAT_J_PER_KG_K.likely.value, heat_transfer_w_per_m2_k=still)
        ]
    ]

    assert "Give a large pack two hours." in spoken(part(pages["cold-day"], "Before you charge"))
    assert [round(one) for one in degc] == [10, 19]


# Leads


def test_the_spark_at_the_plug_is_what_ohm_and_five_time_constants_say(pages):
    said = spoken(part(pages["into-the-model"], "Sparks at the plug"))

    assert f"{6 * 4.2:g} V, through 0.05 Ω it is {6 * 4.2 / 0.05:.0f} A" in said
    assert f"through 10 Ω the same pack gives {6 * 4.2 / 10:.1f} A at most, and 2000 µF are full after a tenth of a second" in said
    assert pytest.approx(0.1) == 5 * 10 * 2000e-6


def test_a_pack_is_plugged_into_a_model_that_is_held_with_the_transmitter_on_first(pages):
    steps = spoken(part(pages["into-the-model"], "In this order"))

    assert_in_this_order(steps, "without a propeller", "Have the model held", "Transmitter on first", "behind the propeller", "then unplug")


def test_one_lead_is_closed_before_the_other_is_cut(pages):
    page = pages["soldering"]
    steps = spoken(part(page, "In this order"))

    assert "Never cut both at once" in spoken(page.lead_html)
    assert "two bare at once" in spoken(page.lead_html)
    assert_in_this_order(
        steps, "Cut only the red lead", "Slide the sleeve", "Tin the wire", "Shrink it", "Only now cut black", "Check with a meter"
    )


def test_an_extension_is_made_without_a_pack_and_tested_before_one_is_joined(pages):
    page = pages["balance-extension"]

    assert "without a pack near it" in spoken(page.lead_html)
    assert_in_this_order(spoken(part(page, "In this order")), "Test it without a pack", "without a charger", "Now on the charger")


def test_the_battery_is_joined_red_first_and_parted_black_first(pages):
    steps = spoken(part(pages["battery-care"], "Join it at the field"))

    assert_in_this_order(steps, "Lead into the charger first", "red to plus", "black to minus last", "black off first")


# Carrying and disposing


def test_packs_stay_in_the_cabin_and_out_of_a_bag_that_is_taken_away(pages):
    steps = spoken(part(pages["travelling"], "By air"))

    assert_in_this_order(steps, "Before you book", "Leave at home", "Cover each contact", "stays with you", "Take the packs out first")


def test_a_harmed_pack_is_neither_charged_nor_emptied_nor_posted(pages):
    harmed = spoken(part(pages["handing-in"], "If it is harmed"))

    assert_in_this_order(harmed, "Do not charge it, do not empty it", "outdoors", "Call first", "Never by post")


def test_disposal_forbids_the_bin_and_teaches_no_salt_water(pages):
    never = spoken(part(pages["handing-in"], "Never"))

    assert "household bin" in never
    assert "salt water. No authority named on these pages teaches it" in never


# The label drawn


def test_the_label_drawn_is_that_of_the_club_pack(pages):
    pack = tomllib.loads(CLUB.read_text(encoding="utf-8"))["packs"]["brass-heron"]
    drawn = re.findall(r"<text[^>]*>([^<]+)</text>", part(pages["reading-a-label"], "A label and its parts"))
    said = spoken(part(pages["reading-a-label"], "A label and its parts"))
    nominal_v = int(pack["cells"]) * CHEMISTRIES[pack["chemistry"]].nominal_cell_v.value
    watt_hours = nominal_v * int(pack["capacity_mah"]) / 1000

    for words in (
        pack["name"],
        f"{pack['cells']}S",
        f"{nominal_v:.1f} V",
        f"{pack['capacity_mah']} mAh",
        f"{watt_hours:.1f} Wh",
        f"Charge {pack['label_charge_rate_c']}C",
        f"Discharge {pack['label_discharge_rate_c']}C",
    ):
        assert words in drawn
    assert f"here that is {int(pack['capacity_mah']) / 1000 * float(pack['label_charge_rate_c']):.2f} A" in said


# The charging place


def test_the_charging_place_says_never_overnight_and_stay_before_all_else(pages):
    lead = spoken(pages["charging-place"].lead_html)

    assert all(words in lead for words in ("Stay, awake", "way out behind you", "Never overnight"))


def test_the_charging_place_names_surface_container_water_extinguisher_alarm_and_way_out(pages):
    said = spoken(part(pages["charging-place"], "Everywhere")) + spoken(part(pages["charging-place"], "At home"))

    for words in ("Surface:", "Clear space:", "Container:", "Water:", "Extinguisher:", "Way out:", "smoke alarm", "Not a bedroom"):
        assert words in said


def test_nothing_is_charged_in_a_vehicle(pages):
    vehicle = spoken(part(pages["charging-place"], "In a vehicle: do not"))

    assert all(words in vehicle for words in ("Not in the boot", "not while you drive", "stands outside"))


def test_the_distances_drawn_are_those_of_the_words(pages):
    page = pages["charging-place"]
    drawn = re.findall(r">([\d.]+ m)</text>", page.body_html)
    said = spoken(re.sub(r"<svg.*?</svg>", "", page.body_html, flags=re.DOTALL))

    assert sorted(drawn) == ["1 m", "2 m", "2.5 m", "5 m"]
    for words in ("within 1 m", "Other packs: 2.5 m away", "Sit two metres away", "5 m from cars"):
        assert words in said


def test_mains_is_off_before_water_is_used(pages):
    water = re.search(r"Water:.*?Extinguisher", spoken(part(pages["charging-place"], "Everywhere")))[0]

    assert "switch off at the socket before you use it" in water
