"""A job card: steps to tick in the order in which they are done, and in them figures of a calculator's answer.

`figure = "charge_current"` shows a setting or a range of the answer with what set it; `<time_cutout>` in a sentence stands for
its figure alone. What each of them is, the build fills in from the worked example and the page from the pilot's own entries.
"""

import re
from html import escape
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from calc.figures import quantities
from calc.figures.quantities import MINUTES, Figure, Quantity
from calc.figures.showing import Blank
from calc.inputs.fields import entries_of
from calc.inputs.log_lines import COUNTED_TOGETHER, SET_BY_THE_CARD, LineEntries
from site_builder.engine.answer import ENVIRONMENT
from site_builder.reading.faults import ContentFault, line_of
from site_builder.reading.marks import Words, marked_sources, number_in
from site_builder.reading.plainness import refuse_hard_words
from site_builder.reading.rendering import rendered
from site_builder.reading.tables import Strict

_FIGURE = re.compile(r"<([a-z]+(?:_[a-z]+)*)>")
# Where a figure will stand, in HTML; nothing that Markdown or the look for unmarked numbers takes for its own.
_PLACE = '<b class="from" data-from="{}"></b>'
_HELD = "\ue000{}\ue001"
_HELD_FIGURE = re.compile("\ue000([a-z_]+)\ue001")
# The range whose likely minutes are counted down, from the tick that starts the charge.
LIKELY_END = "charge_time"
_UNITS = {one.sign: one for one in vars(quantities).values() if isinstance(one, Quantity)}

# What a step may ask of the line that the card leaves in the log.
LOGGED = {name: entry for name, entry in entries_of(LineEntries).items() if name not in SET_BY_THE_CARD}

ACTS: dict[str, str] = vars(ENVIRONMENT.get_template("pages/acts.html").module)["PICTURES"]

Text = Annotated[str, Field(min_length=1)]
# Whose label is compared with the card; "none" where the job has neither a pack nor a battery in it.
LabelOf = Literal["", "pack", "packs", "battery", "none"]


class Writes(Strict):
    """What is written down on paper: its title, its unit if it has one, and how many boxes."""

    title: Text
    unit: str = ""
    boxes: Annotated[int, Field(ge=1, le=14)] = 1


class StepHead(Strict):
    """What a step is shown with as it is written.

    `act` names its picture in templates/pages/acts.html, and `done` holds the words on its tick. A timer that repeats begins anew after each look;
    the tick of a step `starts` and `stops` the timers of those that it names. `asks_count` asks what the charger counts, which must be the step's
    figure. Its tick says how it `leaves` the pack. `logs_as` names the entries of a log's line that are asked here, for the line that the card's end
    leaves with the pack.
    """

    key: Annotated[str, Field(pattern=r"^[a-z]+(-[a-z]+)*$")]
    act: Text
    title: Text
    timer_repeats: bool = False
    starts: tuple[Text, ...] = Field(default=(), strict=False)
    stops: tuple[Text, ...] = Field(default=(), strict=False)
    asks_count: bool = False
    leaves: Literal["", "flown", "stored"] = ""
    done: str = ""
    takes_note: bool = False
    logs_as: tuple[Text, ...] = Field(default=(), strict=False)


class CardStep(StepHead):
    """One thing to do. A step with a timer names its source in `say`, since its minutes are a number like any other."""

    say: Text
    figure: Text | None = None
    timer_min: Annotated[int, Field(ge=1)] | None = None
    writes: tuple[Writes, ...] = Field(default=(), strict=False)


class CardPart(Strict):
    """Steps under one heading."""

    title: Text
    steps: tuple[CardStep, ...] = Field(min_length=1, strict=False)


class ReadyStep(StepHead):
    """A step, ready for its template."""

    model_config = ConfigDict(arbitrary_types_allowed=True)

    say_html: str
    from_part: str | None
    timer: Figure | None
    on_top: bool
    writes: tuple[Blank, ...]


class ReadyPart(BaseModel):
    """A part, ready for its template."""

    model_config = ConfigDict(frozen=True)

    title: str
    steps: tuple[ReadyStep, ...]


class Card(BaseModel):
    """A job card, ready for its template. `asks_for` are the parts of the answer that it shows, `sources` those that it marks."""

    model_config = ConfigDict(frozen=True)

    parts: tuple[ReadyPart, ...]
    stop_html: tuple[str, ...]
    changes_pack: bool
    label_of: LabelOf
    asks_for: tuple[str, ...]
    sources: tuple[str, ...]


def card_of(parts: tuple[CardPart, ...], stop_at_once: tuple[str, ...], changes_pack: bool, label_of: LabelOf, file: Path) -> Card | None:
    """Return the card that a page's front matter holds, or None.

    Raises:
        ContentFault: two steps have one key; a number has no mark; a unit is not known; no log has what is to go into it; a sentence is hard to read.
    """
    if not parts:
        return None
    stops = tuple(_Sentences(says, file, _line(file, says)) for says in stop_at_once)
    steps = [step for part in parts for step in part.steps]
    for part in parts:
        if number := number_in(part.title):
            sentence = f"“{number}” stands in a part's title, which has no place for a source. Say it in a step."
            raise ContentFault(file, sentence, _line(file, f'title = "{part.title}'))
    says = {step.key: _Sentences(step.say, file, _line_of_step(step, file)) for step in steps}
    for place, step in enumerate(steps):
        _refuse_wrong_step(step, steps[:place], says[step.key], file)
        _refuse_wrong_links(step, steps, file)
        _refuse_wrong_log(step, label_of, file)
    every = (*stops, *says.values())
    named = [name for sentences in every for name in sentences.figures] + [step.figure for step in steps if step.figure]
    return Card(
        parts=tuple(
            ReadyPart(title=part.title, steps=tuple(_ready(step, says[step.key].html, file) for step in part.steps)) for part in parts
        ),
        stop_html=tuple(one.html for one in stops),
        changes_pack=changes_pack,
        label_of=label_of,
        asks_for=tuple(dict.fromkeys(named)),
        sources=tuple(dict.fromkeys(source for sentences in every for source in sentences.sources)),
    )


def _refuse_wrong_step(step: CardStep, before: list[CardStep], says: "_Sentences", file: Path) -> None:
    """Refuse a key that a step before has, an act that has no picture, and a number with no source."""
    if step.act not in ACTS:
        sentence = f"There is no picture `{step.act}` of an act. These are there: {', '.join(ACTS)}."
        raise ContentFault(file, sentence, _line_of_step(step, file))
    if step.key in (other.key for other in before):
        raise ContentFault(file, f"Two steps have the key `{step.key}`. Give one of them another.", _line_of_step(step, file))
    if (number := number_in(step.title)) and not says.sources:
        sentence = f"“{number}” in the title has no source beside it. Add a mark such as {{practice}} to `say`."
        raise ContentFault(file, sentence, _line_of_step(step, file))
    if step.timer_min and not says.sources:
        sentence = "A timer's minutes have no source beside them. Add a mark such as {practice} to `say`."
        raise ContentFault(file, sentence, _line_of_step(step, file))


def _refuse_wrong_links(step: CardStep, steps: list[CardStep], file: Path) -> None:
    """Refuse a step that begins or ends a timer which no step has, or asks for a count that it does not hold."""
    timed = {other.key for other in steps if other.timer_min or other.figure == LIKELY_END}
    for other in (*step.starts, *step.stops):
        if other not in timed:
            raise ContentFault(file, f"`{other}` is no step with a timer. Correct it.", _line_of_step(step, file))
    if step.asks_count and not step.figure:
        raise ContentFault(file, "A step that asks for the charger's count needs a `figure` to hold it against.", _line_of_step(step, file))


def _refuse_wrong_log(step: CardStep, label_of: LabelOf, file: Path) -> None:
    """Refuse what no line of a log has, or no step may ask of it."""
    line = _line_of_step(step, file)
    if step.logs_as and label_of not in ("pack", "packs"):
        raise ContentFault(file, "`logs_as` goes into the log of a pack, and this card has none. Take it out, or correct `label_of`.", line)
    for name in step.logs_as:
        if name not in LOGGED:
            sentence = f"A step cannot ask `{name}` for the line of a log. It can ask {', '.join(LOGGED)}, as in calc/inputs/log_lines.py."
            raise ContentFault(file, sentence, line)
        if label_of == "packs" and name in COUNTED_TOGETHER:
            raise ContentFault(file, f"`{name}` is counted of all packs together, and is no one pack's. Take it out of `logs_as`.", line)


class _Sentences:
    """Sentences of a card as they were read: their HTML, with a place for each figure, and what they name."""

    def __init__(self, text: str, file: Path, line: int) -> None:
        words = Words(_FIGURE.sub(lambda found: _HELD.format(found[1]), text), file, line)
        refuse_hard_words(words)
        self.figures = tuple(_FIGURE.findall(text))
        self.sources = marked_sources(words)
        html = _HELD_FIGURE.sub(lambda found: _PLACE.format(found[1]), rendered(words).html)
        self.html = html.removeprefix("<p>").removesuffix("</p>")


def with_figures(html: str, figures: dict[str, str]) -> str:
    """Return sentences with each place for a figure filled in."""
    return re.sub(r'(data-from="([a-z_]+)">)(?=</b>)', lambda found: found[1] + escape(figures[found[2]]), html)


def _ready(step: CardStep, say_html: str, file: Path) -> ReadyStep:
    for one in step.writes:
        if one.unit and one.unit not in _UNITS:
            sentence = f"`{one.unit}` is no unit of calc/figures/quantities.py. Write its sign as it stands there."
            raise ContentFault(file, sentence, _line_of_step(step, file))
    return ReadyStep(
        **{name: getattr(step, name) for name in StepHead.model_fields},
        say_html=say_html,
        from_part=step.figure,
        timer=Figure(step.timer_min, MINUTES) if step.timer_min else None,
        on_top=step.figure == LIKELY_END,
        writes=tuple(Blank(title=one.title, quantity=_UNITS.get(one.unit), boxes=one.boxes) for one in step.writes),
    )


def _line_of_step(step: CardStep, file: Path) -> int:
    return line_of(file, rf'key\s*=\s*"{step.key}"') or 1


def _line(file: Path, says: str) -> int:
    return line_of(file, rf".*{re.escape(says[:40])}") or 1
