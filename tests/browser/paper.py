"""What a PDF of Chromium's says: sheet by sheet, each run of text with its size on the paper.

It reads the drawing operators of ISO 32000-1 that set text, and the table by which each font leads from its codes to letters.
"""

import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

POINTS_AN_INCH = 72
MM_AN_INCH = 25.4

_OBJECT = re.compile(rb"(?:^|\n)(\d+) 0 obj\n(.*?)\nendobj", re.DOTALL)
_TOKEN = re.compile(rb"/[^\s/<>\[\]()]+|<[0-9A-Fa-f]*>|[\[\]]|[^\s/<>\[\]()]+")
_IDENTITY = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Run:
    """Letters that are set in one go."""

    text: str
    size_pt: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of paper with what is printed on it."""

    width_mm: float
    height_mm: float
    runs: tuple[Run, ...]

    def has(self, words: str) -> bool:
        """Return whether these words stand on it one after the other, wherever a line ends."""
        return _bare(words) in _bare("".join(run.text for run in self.runs))

    def sizes_of(self, words: str) -> set[float]:
        """Return the sizes, pt, of the runs that make up these words where they stand first.

        Raises:
            ValueError: they do not stand on it.
        """
        letters = [(letter, run.size_pt) for run in self.runs for letter in _bare(run.text)]
        begins = "".join(letter for letter, _ in letters).index(_bare(words))
        return {size for _, size in letters[begins : begins + len(_bare(words))]}


def sheets_of(pdf: bytes) -> list[Sheet]:
    """Return the sheets of a PDF in their order."""
    objects = {int(number): body for number, body in _OBJECT.findall(pdf)}
    pages = [body for body in objects.values() if re.search(rb"/Type /Page\b(?!s)", body)]
    return [_sheet(page, objects) for page in pages]


def _bare(text: str) -> str:
    """Return a text without spaces, and without what the style sheet alone sets: brackets, colons and the sign of common practice."""
    return re.sub(r"[\s\u00ad\[\]:\u25c7]+", "", text)


def _sheet(page: bytes, objects: dict[int, bytes]) -> Sheet:
    [box] = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", page)
    width, height = (float(side) / POINTS_AN_INCH * MM_AN_INCH for side in box)
    [contents] = re.findall(rb"/Contents (\d+)", page)
    return Sheet(width, height, tuple(_runs(objects[int(contents)], objects, _IDENTITY)))


def _stream(body: bytes) -> bytes:
    _, _, rest = body.partition(b"stream\n")
    return zlib.decompress(rest.rpartition(b"\nendstream")[0])


def _letters(font: bytes, objects: dict[int, bytes]) -> tuple[int, dict[int, str]]:
    """Return how many hexadecimal digits a code of this font has, and the letters of each code."""
    found = re.search(rb"/ToUnicode (\d+)", font)
    if not found:
        return 2, {}
    table = _stream(objects[int(found[1])]).decode("ascii")
    digits = len(re.findall(r"begincodespacerange\s*<(\w+)>", table)[0])
    letters = {}
    for part in re.findall(r"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        letters |= {int(code, 16): _text(text) for code, text in re.findall(r"<(\w+)> <(\w+)>", part)}
    for part in re.findall(r"beginbfrange(.*?)endbfrange", table, re.DOTALL):
        for first, last, text in re.findall(r"<(\w+)> <(\w+)> <(\w+)>", part):
            codes = range(int(first, 16), int(last, 16) + 1)
            letters |= {code: chr(int(text, 16) + place) for place, code in enumerate(codes)}
    return digits, letters


def _text(hexadecimal: str) -> str:
    return bytes.fromhex(hexadecimal).decode("utf-16-be")


def _runs(drawn: bytes, objects: dict[int, bytes], at: tuple[float, ...]) -> Iterator[Run]:
    kept: list[tuple[float, ...]] = []
    size, text, set_at = 0.0, "", _IDENTITY
    digits, letters = 2, dict[int, str]()
    for operator, operands in _operators(_stream(drawn)):
        match operator:
            case b"q":
                kept.append(at)
            case b"Q":
                at = kept.pop()
            case b"cm":
                at = _times(_numbers(operands), at)
            case b"Tf":
                digits, letters = _letters(_named(operands[-2], objects), objects)
                size = float(operands[-1])
            case b"Tm":
                set_at = _numbers(operands)
            case b"Tj" | b"TJ":
                text += _set(operands, digits, letters)
            case b"ET":
                across, up = _times(set_at, at)[:2]
                yield Run(text, round(size * (across**2 + up**2) ** 0.5, 2))
                text = ""
            case b"Do":
                yield from _runs_of_a_part(_named(operands[-1], objects), objects, at)


def _runs_of_a_part(part: bytes, objects: dict[int, bytes], at: tuple[float, ...]) -> Iterator[Run]:
    return _runs(part, objects, at) if b"/Subtype /Form" in part else iter(())


def _operators(drawn: bytes) -> Iterator[tuple[bytes, list[bytes]]]:
    """Yield each operator with what stands before it."""
    operands: list[bytes] = []
    for token in _TOKEN.findall(drawn):
        if token[:1] in b"/<[]-.0123456789":
            operands.append(token)
        else:
            yield token, operands
            operands = []


def _set(operands: list[bytes], digits: int, letters: dict[int, str]) -> str:
    codes = [one.strip(b"<>") for one in operands if one.startswith(b"<")]
    return "".join(letters.get(int(code[n : n + digits], 16), "\ufffd") for code in codes for n in range(0, len(code), digits))


def _named(name: bytes, objects: dict[int, bytes]) -> bytes:
    """Return what a name stands for, "/F12" say: this browser calls each by its number."""
    return objects[int(name[2:])]


def _numbers(operands: list[bytes]) -> tuple[float, ...]:
    return tuple(float(one) for one in operands[-6:])


def _times(one: tuple[float, ...], other: tuple[float, ...]) -> tuple[float, ...]:
    (a, b, c, d, e, f), (g, h, i, j, k, m) = one, other
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)
