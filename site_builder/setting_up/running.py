"""Other programs, run to their end while a few plain lines say how far they are."""

import os
import re
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

COLOURS = r"\x1b\[[0-9;]*m"


@dataclass(frozen=True, slots=True)
class Finished:
    well: bool
    output: str


def say(line: str) -> None:
    """Print a line of progress now: a pipe would otherwise hold it back until the end."""
    print(line, flush=True)


def run(
    command: Sequence[str | Path], shown: str = "", environment: Mapping[str, str] | None = None, folder: Path | None = None
) -> Finished:
    """Run a program and return whether it ended well and what it said; print whatever in it matches `shown`, if that is given, as progress.

    A program that cannot be started counts as one that failed: its output then says why.
    """
    lines: list[str] = []
    told = ""
    try:
        with subprocess.Popen(
            list(map(str, command)),
            stdin=subprocess.DEVNULL,  # a question that nobody can answer must not wait for ever
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
            env={**os.environ, **(environment or {})},
            cwd=folder,
        ) as program:
            for line in program.stdout or ():
                lines.append(re.sub(COLOURS, "", line).rstrip())
                progress = re.search(shown, lines[-1]) if shown else None
                if progress and progress[0] != told:
                    told = progress[0]
                    say(f"  {told}")
    except OSError as error:
        return Finished(False, f"{command[0]}: {error.strerror}")
    return Finished(program.returncode == 0, "\n".join(lines))
