"""Steps that are done once and again only when what they were done from has changed."""

import hashlib
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

if sys.platform != "win32":
    import fcntl


def digest(*files: Path) -> str:
    """Return one SHA-256 for the contents of all the files, in the order given."""
    return hashlib.sha256(b"".join(hashlib.sha256(file.read_bytes()).digest() for file in files)).hexdigest()


def once(stamp: Path, made_from: str, step: Callable[[], None]) -> None:
    """Do `step` unless the stamp says that it was finished for the same `made_from`.

    The old stamp goes first and the new one comes last, so a step that was interrupted is done again.
    """
    if _is_done(stamp, made_from):
        return
    with alone(__file__):
        if _is_done(stamp, made_from):  # by a command that was started beside this one
            return
        stamp.unlink(missing_ok=True)
        step()
        stamp.parent.mkdir(parents=True, exist_ok=True)
        stamp.write_text(made_from, encoding="utf-8")


@contextmanager
def alone(code: str) -> Iterator[None]:
    """Let one command of this checkout at a time do what a file of code does: two that write into one folder spoil it.

    Windows has no such lock.
    """
    with Path(code).open(encoding="utf-8") as file:
        if sys.platform != "win32":
            fcntl.flock(file, fcntl.LOCK_EX)
        yield


def _is_done(stamp: Path, made_from: str) -> bool:
    return stamp.is_file() and stamp.read_text(encoding="utf-8") == made_from
