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
    whole = hashlib.sha256()
    for file in files:
        whole.update(hashlib.sha256(file.read_bytes()).digest())
    return whole.hexdigest()


def once(stamp: Path, made_from: str, step: Callable[[], None]) -> None:
    """Do `step` unless the stamp says that it was finished for the same `made_from`.

    The old stamp goes first and the new one comes last, so a step that was interrupted is done again.
    """
    if _is_done(stamp, made_from):
        return
    with _alone():
        if _is_done(stamp, made_from):  # by a command that was started beside this one
            return
        stamp.unlink(missing_ok=True)
        step()
        stamp.parent.mkdir(parents=True, exist_ok=True)
        stamp.write_text(made_from, encoding="utf-8")


def _is_done(stamp: Path, made_from: str) -> bool:
    return stamp.is_file() and stamp.read_text(encoding="utf-8") == made_from


@contextmanager
def _alone() -> Iterator[None]:
    """Let one command of this checkout at a time do a step: two that fetch into one folder spoil it. Windows has no such lock."""
    with Path(__file__).open(encoding="utf-8") as this_file:
        if sys.platform != "win32":
            fcntl.flock(this_file, fcntl.LOCK_EX)
        yield
