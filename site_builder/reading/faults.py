"""How the reader of the words says no."""

import re
from pathlib import Path


class ContentFault(Exception):
    """Words or entries in `content` that cannot be published: the file, the line where it is known, and what to do."""

    def __init__(self, file: Path, sentence: str, line: int | None = None) -> None:
        self.file, self.line, self.sentence = file, line, sentence
        super().__init__(f"{file}:{line}: {sentence}" if line else f"{file}: {sentence}")


def line_of(file: Path, beginning: str) -> int | None:
    """Return the first line that begins as this pattern says, or None."""
    lines = file.read_text(encoding="utf-8").splitlines()
    return next((number for number, line in enumerate(lines, 1) if re.match(beginning, line)), None)
