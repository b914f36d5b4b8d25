"""Compare the answers of this checkout with those of another commit: every number, unit and limit, then the sentences.

The questions are those that tests/both_sides puts to both sides. After a restructuring no number may differ; the command fails
if one does. Sentences that differ are listed and fail nothing.
"""

import argparse
import io
import json
import os
import subprocess
import sys
import tarfile
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from site_builder.comparing import plain_answers
from site_builder.comparing.differences import Difference, differences
from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.running import say


@dataclass(frozen=True, slots=True)
class Question:
    """A calculator's key, entries as typed and chosen units."""

    key: str
    entries: Mapping[str, str]
    units: Mapping[str, str]


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder compare", description=__doc__)
    parser.add_argument("commit", help="any name that git has for it")
    says = "an entry, a field or a calculator that has another name now; as often as needed"
    parser.add_argument("--renamed", metavar="OLD=NEW", action="append", default=[], help=says)
    asked = parser.parse_args(arguments)
    renamed = dict(one.split("=", 1) for one in asked.renamed)

    from tests.both_sides.cases import cases  # its draws take a minute, and whoever asks for --help does not want them

    say("Drawing the questions")
    questions = [Question(case.key, case.entries, case.units) for case in cases()]
    with TemporaryDirectory() as folder:
        old = Path(folder) / "old"
        _unpack_calc(asked.commit, old)
        say(f"Asking calc {len(questions)} questions, as it was and as it is")
        before = _asked(old, [_with_old_names(question, renamed) for question in questions], Path(folder) / "before")
        after = _asked(ROOT, questions, Path(folder) / "after")
        found = differences(_answers(before, Path(folder) / "before"), _answers(after, Path(folder) / "after"), renamed)
    return report(found, questions, asked.commit)


def _unpack_calc(commit: str, folder: Path) -> None:
    packed = subprocess.run(["git", "archive", commit, "calc"], cwd=ROOT, capture_output=True, check=False)
    if packed.returncode:
        raise SetUpFailed(f"git does not give out calc of {commit}: {packed.stderr.decode().strip()}")
    with tarfile.open(fileobj=io.BytesIO(packed.stdout)) as archive:
        archive.extractall(folder, filter="data")


def _with_old_names(question: Question, renamed: Mapping[str, str]) -> Question:
    old = {new: was for was, new in renamed.items()}
    entries = {old.get(name, name): text for name, text in question.entries.items()}
    return replace(question, key=old.get(question.key, question.key), entries=entries)


def _asked(tree: Path, questions: Sequence[Question], folder: Path) -> subprocess.Popen[bytes]:
    """Have a tree's calc answer in a process of its own: two commits' modules have the same names."""
    folder.mkdir()
    (folder / "questions.json").write_text(json.dumps([asdict(one) for one in questions]), encoding="utf-8")
    command = [sys.executable, "-P", plain_answers.__file__, str(folder / "questions.json"), str(folder / "answers.json")]
    return subprocess.Popen(command, env=os.environ | {"PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"})


def _answers(asked: subprocess.Popen[bytes], folder: Path) -> list[list[list[str]]]:
    if asked.wait():
        raise SetUpFailed(f"Calc as {'it was' if folder.name == 'before' else 'it is'} did not answer: the lines above say why.")
    answers: list[list[list[str]]] = json.loads((folder / "answers.json").read_text(encoding="utf-8"))
    return answers


def report(found: Sequence[Difference], questions: Sequence[Question], commit: str) -> int:
    """Print what differs, numbers first; return 1 if a number does."""
    numbers = [one for one in found if one.changes_a_number]
    words = [one for one in found if not one.changes_a_number]
    for title, listed in (("NUMBERS, UNITS AND LIMITS", numbers), ("SENTENCES", words)):
        groups: dict[tuple[str, ...], list[Difference]] = {}
        for one in listed:
            groups.setdefault((questions[one.question].key, *one.told_with) if one.kind == "number" else one.told_with, []).append(one)
        say(f"\n{title} that differ from {commit}: {len(groups) or 'none'}")
        for group in groups.values():
            _say_group(group, questions)
    say(f"\n{len({one.question for one in numbers})} of {len(questions)} answers differ in a number, unit or limit.")
    return 1 if numbers else 0


def _say_group(group: Sequence[Difference], questions: Sequence[Question]) -> None:
    first = group[0]
    asked = questions[first.question]
    answers = len({one.question for one in group})
    say(f"  in {answers} {'answer' if answers == 1 else 'answers'}, as {asked.key} {first.place}")
    say(f"    was {first.was or '(nothing)'}\n    now {first.now or '(nothing)'}")
    if first.changes_a_number:
        say(f"    asked {json.dumps(asked.entries, ensure_ascii=False)} {asked.units or ''}".rstrip())
