"""The service worker of a build: the list of all its files, by content, put into web/service_worker.js.

The list is the version. A changed byte anywhere changes it, so the browser sees a new service worker; the same files
give the same bytes, so nothing is offered that is not new.
"""

import json
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path

from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.packing import PACKED
from site_builder.building.policy import CONTENT_SECURITY_POLICY

SERVICE_WORKER = "service-worker.js"
SOURCE = Path(__file__).parent.parent / "web" / "service_worker.js"
FIRST_AID = ("pack-in-trouble.html", "safety-rules.html")
SPARE_ENGINE = "plain-start.zip"


@dataclass(frozen=True, slots=True)
class KeptFile:
    """One file of dist/ as the service worker's list has it.

    `first`: it helps against a fire, so a first visit may end before everything else is saved. `packed`: the size of the
    .gz beside it, which is sent in its place, or None if there is none.
    """

    path: str
    sha256: str
    size: int
    type: str
    first: bool
    packed: int | None


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
    sizes = {file.sha256: file.packed or file.size for file in files_to_keep(dist)}
    return sum(sizes.values()) + (dist / SERVICE_WORKER).stat().st_size


def files_to_keep(dist: Path) -> list[KeptFile]:
    """Return every file of a built dist/ but the service worker, dotfiles and packed copies, most needed first."""
    paths = {path.relative_to(dist).as_posix(): path for path in dist.rglob("*") if path.is_file()}
    files = [_kept_file(name, paths) for name in paths if _is_kept(name, paths)]
    return sorted(files, key=lambda file: (_turn(file.path), file.path))


def _is_kept(name: str, paths: dict[str, Path]) -> bool:
    is_packed_copy = name.endswith(PACKED) and name.removesuffix(PACKED) in paths
    return name != SERVICE_WORKER and not is_packed_copy and not any(part.startswith(".") for part in name.split("/"))


def _kept_file(name: str, paths: dict[str, Path]) -> KeptFile:
    file, packed = paths[name], paths.get(name + PACKED)
    if file.suffix not in CONTENT_TYPES:
        raise ValueError(f"{name} has an ending that no content type is known for: add it to CONTENT_TYPES")
    content = file.read_bytes()
    return KeptFile(
        path=name,
        sha256=sha256(content).hexdigest(),
        size=len(content),
        type=CONTENT_TYPES[file.suffix],
        first=_turn(name) < _READABLE,
        packed=packed.stat().st_size if packed else None,
    )


# When a file is saved: what helps against a fire, then what can be read, then what calculates, then what only a damaged
# engine needs. Scripts count as first aid: a page without them cannot say how far the saving is.
_FIRST_AID, _STYLE, _SCRIPT, _READABLE, _REST, _ENGINE, _SPARE = range(7)


def _turn(name: str) -> int:
    if name in FIRST_AID:
        return _FIRST_AID
    if name.endswith(".css"):
        return _STYLE
    if name.endswith(".js"):
        return _SCRIPT
    if name.endswith(".html"):
        return _READABLE
    if not name.startswith("engine-"):
        return _REST
    return _SPARE if name.endswith(SPARE_ENGINE) else _ENGINE


def _filled_in(script: str, mark: str, value: object) -> str:
    if script.count(mark) != 1:
        raise ValueError(f"{SOURCE.name} must hold {mark} exactly once")
    return script.replace(mark, _as_script(value))


def _as_script(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
