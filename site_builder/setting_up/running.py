"""Other programs, run to their end while a few plain lines say how far they are."""

import os
import re
import subprocess
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

COLOURS = r"\x1b\[[0-9;]*m"


@dataclass(frozen=True, slots=True)
class Finished:
    code: int
    output: str

    @property
    def well(self) -> bool:
        return self.code == 0


def say(line: str) -> None:
    """Print a line of progress now: a pipe would otherwise hold it back until the end."""
    print(line, flush=True)


def run(
    command: Sequence[str | Path],
    shown: Callable[[str], str | None] = lambda _: None,
    environment: dict[str, str] | None = None,
    folder: Path | None = None,
) -> Finished:
    """Run a program and return its code and output; print what `shown` makes of each line, and nothing for None.

    A program that cannot be started counts as one that failed: its output then says why.
    """
    lines = []
    try:
        with subprocess.Popen(
            [str(word) for word in command],
            stdin=subprocess.DEVNULL,  # a question that nobody can answer must not wait for ever
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
            env=os.environ | (environment or {}),
            cwd=folder,
        ) as program:
            for line in program.stdout or ():
                lines.append(re.sub(COLOURS, "", line).rstrip())
                progress = shown(lines[-1])
                if progress:
                    say(progress)
    except OSError as error:
        return Finished(code=127, output=f"{command[0]}: {error.strerror}")
    return Finished(program.returncode, "\n".join(lines))
