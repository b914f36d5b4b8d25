"""Job cards: what their front matter becomes, and what is sent back with file and line."""

import re
from xml.etree import ElementTree

import pytest

from calc.inputs.log_lines import COUNTED_TOGETHER
from site_builder.building.job_cards import card_entries, steps_html
from site_builder.engine.answer import ENVIRONMENT
from site_builder.harness.content import PAGES
from site_builder.reading.cards import ACTS, with_figures
from site_builder.reading.drawing_geometry import crossings_without_bridge
from site_builder.reading.faults import ContentFault
from site_builder.reading.pages import read_pages
from site_builder.setting_up.checkout import ROOT

FRONT = """\
+++
title = "Charging"
short = "Charging"
description = "A calculator's page."
order = 10
lead = "Enter."
calculator = "charge_settings"
worked_example = { pack = "brass-heron", charger = "small", supply = "field-battery" }
+++
"""
CARD = """\
+++
title = "Card"
short = "Card"
description = "Steps."
order = 20
lead = "Do one step."
%s
[[parts]]
title = "First"
[[parts.steps]]
key = "look"
act = "look"
title = "Look"
say = "%s"
%s+++
"""
OF_A_PACK = 'label_of = "pack"\nnumbers_from = "charge_settings"'
OF_PACKS = 'label_of = "packs"\nnumbers_from = "charge_settings"'


@pytest.fixture
def card(tmp_path):
    """Return a function that reads a card: what stands above its parts, its first step's sentence, what more that step has."""

    def read(above='numbers_from = "charge_settings"', say="No swelling.", more=""):
        (tmp_path / "pages").mkdir(exist_ok=True)
        (tmp_path / "pages" / "charging.md").write_text(FRONT, encoding="utf-8")
        (tmp_path / "pages" / "a-card.md").write_text(CARD % (above, say, more), encoding="utf-8")
        (tmp_path / "club.toml").write_text((ROOT / "content" / "club.toml").read_text(encoding="utf-8"), encoding="utf-8")
        return read_pages(tmp_path)[1]

    return read


def test_a_card_takes_the_example_of_the_calculator_that_its_numbers_come_from(card):
    page = card()
    assert page.asks == "charging"
    assert page.worked_example["capacity_mah"] == "2650"
    assert "Brass Heron" in page.example_about
    assert "capacity_mah" in card_entries(page)


def test_a_card_without_numbers_asks_for_nothing(card):
    page = card(above="")
    assert (page.asks, page.worked_example, card_entries(page)) == (None, {}, {})


def test_a_choice_that_the_job_makes_is_fixed_in_the_example_too(card):
    page = card(above='numbers_from = "charge_settings"\nfixed_entries = { chemistry = "life" }')
    assert page.worked_example["chemistry"] == "life"
    assert page.worked_example["capacity_mah"] == "2650"


def test_a_figure_stands_with_what_set_it_and_where_it_comes_from(card):
    html = steps_html(card(more='figure = "charge_current"\n'))
    place = re.search(r'data-from="charge_current">(.*?)</p>', html, re.DOTALL)[1]
    assert "2.6\u00a0A" in place and "Set by" in place and "the charge rate on the label" in place


def test_a_figure_in_a_sentence_is_the_figure_alone(card):
    html = steps_html(card(above='numbers_from = "charge_settings"\nstop_at_once = ["It reaches <temperature_stop>."]'))
    assert 'It reaches <b class="from" data-from="temperature_stop">45\u00a0°C</b>.' in html


def test_the_cautions_of_the_answer_stand_above_the_steps(card):
    html = steps_html(card())
    assert html.index("data-cautions") < html.index("A lead-acid battery gives off a gas") < html.index("data-step")


def test_boxes_are_written_into_with_their_unit(card):
    html = steps_html(card(more='writes = [{ title = "Cells", unit = "V", boxes = 3 }]\n'))
    assert "Cells, V" in html and html.count('<i class="box">') == 3


def test_a_step_names_what_it_asks_for_the_log_of_the_pack(card):
    html = steps_html(card(above=OF_A_PACK, more='logs_as = ["put_in_mah", "to_v"]\n'))
    assert re.findall(r'data-step="([^"]+)"[^>]* data-logs-as="([^"]+)"', html) == [("look", "put_in_mah to_v")]


def test_of_packs_that_are_charged_together_a_step_asks_what_is_each_ones_own(card):
    assert 'data-logs-as="to_v line_degc"' in steps_html(card(above=OF_PACKS, more='logs_as = ["to_v", "line_degc"]\n'))


@pytest.mark.parametrize("name", COUNTED_TOGETHER)
def test_what_a_charger_counts_of_several_packs_goes_into_no_log(card, name):
    with pytest.raises(ContentFault, match=f"`{name}` is counted of all packs together, and is no one pack's"):
        card(above=OF_PACKS, more=f'logs_as = ["{name}"]\n')


def test_the_first_step_of_a_card_with_numbers_compares_the_label_in_the_hand(card):
    assert re.findall(r'data-step="([^"]+)"', steps_html(card()))[0] == "which-pack"
    assert 'data-step="which-pack"' not in steps_html(card(above=""))


def test_the_likely_end_is_counted_down_from_the_answer_s_own_minutes(card):
    more = 'starts = ["end"]\n[[parts.steps]]\nkey = "end"\nact = "wait"\ntitle = "The likely end"\nsay = "Done by now."\nfigure = "charge_time"\n'
    html = steps_html(card(more=more))
    minutes = re.search(r'data-minutes-of="charge_time" data-minutes="(\d+)"', html)[1]
    assert f"about {minutes}\u00a0min" in html
    assert 'data-starts="end"' in html


def test_a_card_of_a_charge_has_what_is_compared_with_the_charger_on_top(card):
    html = steps_html(card(above='numbers_from = "charge_settings"', more='figure = "charge_time"\n'))
    shown = re.findall(r'data-from="(\w+)" data-on-top', html)
    assert shown == ["full_voltage", "charge_current", "capacity_cutout", "time_cutout", "temperature_stop"]
    assert "data-on-top" not in steps_html(card())


def test_what_a_figure_says_is_text():
    assert with_figures('<b class="from" data-from="one"></b>', {"one": "<1"}) == '<b class="from" data-from="one">&lt;1</b>'


@pytest.mark.parametrize(
    ("given", "line", "sentence"),
    [
        ({"more": "timer_min = 5\n"}, 11, "A timer's minutes have no source"),
        ({"more": 'starts = ["look"]\n'}, 11, "`look` is no step with a timer"),
        ({"more": "asks_count = true\n"}, 11, "A step that asks for the charger's count needs a `figure`"),
        (
            {"above": OF_A_PACK, "more": 'logs_as = ["put_in"]\n'},
            12,
            "A step cannot ask `put_in` for the line of a log. It can ask put_in_mah, ",
        ),
        ({"above": OF_A_PACK, "more": 'logs_as = ["day"]\n'}, 12, "A step cannot ask `day` for the line of a log"),
        ({"more": 'logs_as = ["to_v"]\n'}, 11, "`logs_as` goes into the log of a pack, and this card has none"),
        (
            {"above": 'label_of = "pack"', "more": 'logs_as = ["to_v"]\n'},
            15,
            "`logs_as` goes into the log of the pack that `numbers_from` asks",
        ),
        ({"say": "Wait 5 minutes."}, 11, "“5” has no source beside it"),
        ({"say": "Wait. {nobody}"}, 11, "{nobody} is not a source"),
        ({"more": 'writes = [{ title = "Cells", unit = "volt" }]\n'}, 11, "`volt` is no unit"),
        (
            {"more": '[[parts.steps]]\nkey = "look"\nact = "look"\ntitle = "Again"\nsay = "Once more."\n'},
            11,
            "Two steps have the key `look`",
        ),
        ({"more": '[[parts.steps]]\nkey = "rest"\nact = "dance"\ntitle = "Rest"\nsay = "Rest."\n'}, 16, "There is no picture `dance`"),
        ({"say": "See [there](nowhere.html)."}, 14, "The link to nowhere.html leads nowhere"),
        ({"above": 'numbers_from = "nothing"'}, 7, "There is no page of a calculator `nothing`"),
        ({"above": 'fixed_entries = { chemistry = "life" }'}, 7, "`fixed_entries` are entries of `numbers_from`"),
        (
            {"above": 'numbers_from = "charge_settings"\nfixed_entries = { chemistry = "lead" }'},
            8,
            "`chemistry` has no option `lead` in `charge_settings`",
        ),
        ({"above": 'numbers_from = "charge_settings"\nfixed_entries = { cells = "3" }'}, 8, "`cells` has no option `3`"),
        (
            {"more": '[[parts.steps]]\nkey = "wait"\nact = "wait"\ntitle = "Wait 5 minutes"\nsay = "Let it rest."\n'},
            16,
            "“5” in the title has no source",
        ),
        (
            {"more": '[[parts]]\ntitle = "For 5 minutes"\n[[parts.steps]]\nkey = "rest"\nact = "wait"\ntitle = "Rest"\nsay = "Wait."\n'},
            16,
            "“5” stands in a part's title",
        ),
        ({"more": "timer_min = 0\n"}, 15, "`parts.0.steps.0.timer_min` does not fit"),
        (
            {
                "say": "Notwithstanding considerable uncertainty, characterise electrochemical irregularities conscientiously before proceeding anywhere."
            },
            11,
            "This paragraph reads at grade",
        ),
    ],
)
def test_a_card_that_does_not_hold_is_sent_back(card, given, line, sentence):
    with pytest.raises(ContentFault) as caught:
        card(**given)
    assert sentence in caught.value.sentence
    assert caught.value.line == line


@pytest.mark.parametrize("given", [{"more": 'figure = "charge_speed"\n'}, {"say": "At <charge_speed>."}])
def test_a_figure_that_the_answer_does_not_have_is_sent_back(card, given):
    with pytest.raises(ContentFault, match=r"has no setting or range `charge_speed`\. It has charge_current, ") as caught:
        steps_html(card(**given))
    assert caught.value.line == 14 + ("more" in given)


def test_each_step_has_its_picture_and_each_picture_a_step():
    shown = [step.act for page in PAGES if page.card for part in page.card.parts for step in part.steps]
    charge = [
        line for file in ROOT.glob("calc/calculators/**/*charging_card*.py") for line in re.findall(r'act="([\w-]+)"', file.read_text())
    ]
    assert {*shown, *charge} == set(ACTS)
    # What the phone draws itself has no more than the charging card takes.
    assert set(vars(ENVIRONMENT.get_template("parts/acts.html").module)["PICTURES"]) == set(charge)


def test_a_picture_of_an_act_is_well_formed_and_stays_in_its_frame():
    for act, drawn in ACTS.items():
        svg = ElementTree.fromstring(f'<svg viewBox="0 0 48 48">{drawn}</svg>')
        assert crossings_without_bridge(svg) == [], act
        assert {one.tag for one in svg.iter()} == {"svg", "path"}


def test_a_step_shows_the_picture_of_its_act(card):
    assert f'<svg class="act-picture" aria-hidden="true" viewBox="0 0 48 48">{ACTS["look"]}</svg>' in steps_html(card())
