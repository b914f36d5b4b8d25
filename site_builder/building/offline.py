"""The service worker of a build: what web/service_worker joins to, and before it the list of all files, by content.

The list is the version. A changed byte anywhere changes it, so the browser sees a new service worker; the same files
give the same bytes, so nothing is offered that is not new.
"""

import json
import re
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path, PurePosixPath

from site_builder.building.bundling import is_of_every_page, joined
from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.hosting import FOR_HOSTS
from site_builder.building.packing import PACKED
from site_builder.building.policy import HEADERS
from site_builder.building.snapshot import SNAPSHOT

SERVICE_WORKER = "service-worker.js"
SOURCE = Path(__file__).parent.parent / "web" / "service_worker" / "events.js"
FIRST_AID = ("pack-in-trouble.html", "safety-rules.html")
SPARE_ENGINE = "plain-start.zip"
# The sentences of the first page against a fire that stand wherever it cannot: what to do at once.
_AT_ONCE = re.compile(r'<div class="lead">(.*?)</div>|(<p class="act">.*?</p>)', re.DOTALL)


@dataclass(frozen=True, slots=True)
class KeptFile:
    """One file of dist/ as the service worker's list has it.

    `first`: it helps against a fire, so a first visit may end before everything else is saved. `packed`: the size of the
    .gz beside it, which is sent in its place, or None if there is none. `checksSelf`: it holds a checksum of its own, and
    whoever unpacks it refuses it damaged: it need not be read twice.
    """

    path: str
    sha256: str
    size: int
    type: str
    first: bool
    packed: int | None
    checksSelf: bool  # noqa: N815  # the name that the service worker reads


def write_service_worker(dist: Path) -> list[KeptFile]:
    """Write dist/service-worker.js and return its list, in the order in which a first visit saves the files."""
    files = files_to_keep(dist)
    listed = [asdict(file) for file in files]
    first_aid = {name: (dist / name).read_text(encoding="utf-8") for name in FIRST_AID if (dist / name).is_file()}
    built = {
        "version": sha256(_as_script(listed).encode()).hexdigest()[:12],
        "headers": HEADERS,
        "files": listed,
        "firstAid": first_aid,
        "firstWords": first_words(first_aid.get(FIRST_AID[0], "")),
    }
    script = f"const BUILT = {_as_script(built)};\n".encode() + joined(SOURCE, form="iife")
    (dist / SERVICE_WORKER).write_bytes(script)
    return files


def first_words(page: str) -> str:
    """Return the HTML of what the page against a fire says first: its lead, and the first act that it asks for."""
    found = list(_AT_ONCE.finditer(page))
    return "\n".join((one[1] or one[2]).strip() for one in found[:2])


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
    return name not in (SERVICE_WORKER, *FOR_HOSTS) and not is_packed_copy and not any(part.startswith(".") for part in name.split("/"))


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
        first=_turn(name) <= _SCRIPT,
        packed=packed.stat().st_size if packed else None,
        checksSelf=file.name == SNAPSHOT,
    )


# When a file is saved: what helps against a fire, then what can be read, then what calculates, then what only a damaged
# engine needs. The scripts of every page count as first aid: a page without them cannot say how far the saving is.
_FIRST_AID, _STYLE, _SCRIPT, _LATER_SCRIPT, _READABLE, _REST, _ENGINE, _SPARE = range(8)


def _turn(name: str) -> int:
    if name in FIRST_AID:
        return _FIRST_AID
    if name.endswith(".css"):
        return _STYLE
    if name.endswith(".js"):
        return _SCRIPT if is_of_every_page(PurePosixPath(name).name) else _LATER_SCRIPT
    if name.endswith(".html"):
        return _READABLE
    if not name.startswith("engine-"):
        return _REST
    return _SPARE if name.endswith(SPARE_ENGINE) else _ENGINE


def _as_script(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
