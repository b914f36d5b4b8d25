"""Each drawing is tried on two questions that it must answer by itself; `content/drawings/questions.toml` holds them with their answers."""

import tomllib
from collections.abc import Iterable
from pathlib import Path

from site_builder.reading.faults import ContentFault, line_of

_EACH = 2


def refuse_untried_drawing(content: Path, made: Iterable[str]) -> None:
    """Refuse a drawing that has not its two questions and answers, and questions about one that is not there.

    Args:
        content: its folder `drawings` holds the drawings, and the file of questions.
        made: the names of the drawings that no file holds.

    Raises:
        ContentFault: it names the drawing.
    """
    file = content / "drawings" / "questions.toml"
    asked: dict[str, dict[str, str]] = tomllib.loads(file.read_text(encoding="utf-8"))
    drawings = {drawing.stem for drawing in file.parent.glob("*.svg")} | set(made)
    for name in sorted(drawings):
        questions = asked.get(name, {})
        if len(questions) != _EACH or not all(questions.values()):
            sentence = f"The drawing {name} needs two questions that it answers by itself, each with its answer. Write them."
            raise ContentFault(file, sentence, _line_of(file, name))
    for name in asked:
        if name not in drawings:
            raise ContentFault(file, f"There is no drawing {name}. Take its questions out, or correct the name.", _line_of(file, name))


def _line_of(file: Path, name: str) -> int | None:
    return line_of(file, rf'\["?{name}"?\]')
