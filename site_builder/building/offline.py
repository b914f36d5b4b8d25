"""The service worker of a build: the list of all its files, by content, put into web/service_worker.js.

The list is the version. A changed byte anywhere changes it, so the browser sees a new service worker; the same files
give the same bytes, so nothing is offered that is not new.
"""

import json
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path

from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.policy import CONTENT_SECURITY_POLICY

SERVICE_WORKER = "service-worker.js"
SOURCE = Path(__file__).parent.parent / "web" / "service_worker.js"

@dataclass(frozen=True, slots=True)
class KeptFile:
    """One file of dist/ as the service worker's list has it."""

    path: str
    sha256: str
    size: int
    type: str


def write_service_worker(dist: Path) -> list[KeptFile]:
    """Write dist/service-worker.js and return its list, in the order in which a first visit saves the files."""
    files = files_to_keep(dist)
    version = sha256(_as_script([asdict(file) for file in files]).encode()).hexdigest()[:12]
    script = SOURCE.read_text(encoding="utf-8")
    script = _filled_in(script, '/* version */ ""', version)
    script = _filled_in(script, '/* policy */ ""', CONTENT_SECURITY_POLICY)
    script = _filled_in(script, "/* files */ []", [asdict(file) for file in files])
    (dist / SERVICE_WORKER).write_bytes(script.encode())
    return files


def first_visit_bytes(dist: Path) -> int:
    """Return the bytes of a first visit, as a host that compresses nothing sends them: each content once, and the list."""
    sizes = {file.sha256: file.size for file in files_to_keep(dist)}
    return sum(sizes.values()) + (dist / SERVICE_WORKER).stat().st_size


def files_to_keep(dist: Path) -> list[KeptFile]:
    """Return every file of a built dist/ but the service worker itself and dotfiles, most needed first."""
    paths = (path for path in dist.rglob("*") if path.is_file() and _is_kept(path.relative_to(dist)))
    files = [_kept_file(path, path.relative_to(dist).as_posix()) for path in paths]
    return sorted(files, key=lambda file: (_turn(file.path), file.path))


def _is_kept(path: Path) -> bool:
    return path.as_posix() != SERVICE_WORKER and not any(part.startswith(".") for part in path.parts)


def _kept_file(file: Path, path: str) -> KeptFile:
    if file.suffix not in CONTENT_TYPES:
        raise ValueError(f"{path} has an ending that no content type is known for: add it to CONTENT_TYPES")
    content = file.read_bytes()
    return KeptFile(path, sha256(content).hexdigest(), len(content), CONTENT_TYPES[file.suffix])


def _turn(path: str) -> int:
    """Return when a file is saved: what helps against a fire before what can be read, and that before what calculates."""
    turns = (
        path == "pack-in-trouble.html",
        path == "safety-rules.html",
        path.endswith(".css"),
        path.endswith(".html"),
        path.endswith(".js"),
        not path.startswith("engine-"),
    )
    return turns.index(True) if True in turns else len(turns)


def _filled_in(script: str, mark: str, value: object) -> str:
    if script.count(mark) != 1:
        raise ValueError(f"{SOURCE.name} must hold {mark} exactly once")
    return script.replace(mark, _as_script(value))


def _as_script(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
