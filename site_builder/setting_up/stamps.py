"""Steps that are done once and again only when what they were done from has changed."""

import hashlib
from collections.abc import Callable
from pathlib import Path


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
    if stamp.is_file() and stamp.read_text(encoding="utf-8") == made_from:
        return
    stamp.unlink(missing_ok=True)
    step()
    stamp.parent.mkdir(parents=True, exist_ok=True)
    stamp.write_text(made_from, encoding="utf-8")
