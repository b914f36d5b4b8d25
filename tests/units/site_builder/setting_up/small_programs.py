"""A machine made of a few small programs: each notes what it was asked, then does what its script says."""

from __future__ import annotations

from pathlib import Path


def program(file: Path, script: str = "") -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(f"#!/bin/sh\necho {file.name} $@ >> {file.parent}/asked\n{script}\n")
    file.chmod(0o755)


def asked(machine: Path) -> str:
    return (machine / "asked").read_text() if (machine / "asked").exists() else ""
