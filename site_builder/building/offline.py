"""The service worker of a build: what web/service_worker joins to, and before it the list of all files, by content.

The list is the version. A changed byte anywhere changes it, so the browser sees a new service worker; the same files
give the same bytes, so nothing is offered that is not new.
"""

import json
import re
from base64 import b64encode
from collections.abc import Callable
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path, PurePosixPath

from deflate import deflate_compress

from site_builder.building.bundling import begun_with, joined
from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.hosting import FOR_HOSTS
from site_builder.building.packing import HARDEST, PACKED
from site_builder.building.policy import HEADERS
from site_builder.building.snapshot import SNAPSHOT

SERVICE_WORKER = "service-worker.js"
SOURCE = Path(__file__).parent.parent / "web" / "service_worker" / "events.js"
FIRST_AID = ("pack-in-trouble.html", "safety-rules.html")
SPARE_ENGINE = "plain-start.zip"
FEW_PAGES = "few_pages.css"
# The sentences of the first page against a fire that stand wherever it cannot: what to do at once.
_AT_ONCE = re.compile(r'<div class="lead">(.*?)</div>|(<p class="act">.*?</p>)', re.DOTALL)


@dataclass(frozen=True, slots=True)
class KeptFile:
    """One file of dist/ as the service worker's list has it.

    `first`: it helps against a fire, so a first visit may end before everything else is saved. `packed`: the size of the
    .gz beside it, which is sent in its place, or None if there is none. `checksSelf`: it holds a checksum of its own, and
    whoever unpacks it refuses it damaged: it need not be read twice. The list leaves out what is False or None.
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
    listed = [{name: value for name, value in asdict(file).items() if value is not None and value is not False} for file in files]
    first_aid = {name: (dist / name).read_bytes() for name in FIRST_AID if (dist / name).is_file()}
    built = {
        "version": sha256(_as_script(listed).encode()).hexdigest()[:12],
        "headers": HEADERS,
        "files": listed,
        "firstAid": {name: b64encode(bytes(deflate_compress(page, HARDEST))).decode() for name, page in first_aid.items()},
        "firstWords": first_words(first_aid.get(FIRST_AID[0], b"").decode()),
    }
    script = f"const BUILT = {_as_script(built)};\n".encode() + joined(SOURCE, form="iife", names="short")
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
    turn = _turns(paths)
    files = [_kept_file(name, paths, turn(name)) for name in paths if _is_kept(name, paths)]
    return sorted(files, key=lambda file: (turn(file.path), file.path))


def _is_kept(name: str, paths: dict[str, Path]) -> bool:
    is_packed_copy = name.endswith(PACKED) and name.removesuffix(PACKED) in paths
    return name not in (SERVICE_WORKER, *FOR_HOSTS) and not is_packed_copy and not any(part.startswith(".") for part in name.split("/"))


def _kept_file(name: str, paths: dict[str, Path], turn: int) -> KeptFile:
    file, packed = paths[name], paths.get(name + PACKED)
    if file.suffix not in CONTENT_TYPES:
        raise ValueError(f"{name} has an ending that no content type is known for: add it to CONTENT_TYPES")
    content = file.read_bytes()
    return KeptFile(
        path=name,
        sha256=sha256(content).hexdigest(),
        size=len(content),
        type=CONTENT_TYPES[file.suffix],
        first=turn <= _SCRIPT,
        packed=packed.stat().st_size if packed else None,
        checksSelf=file.name == SNAPSHOT,
    )


# When a file is saved: what helps against a fire, then what can be read, then what calculates, then what only a damaged
# engine needs. What page.js begins with counts as first aid: a page without it cannot say how far the saving is.
_FIRST_AID, _STYLE, _SCRIPT, _LATER, _READABLE, _REST, _ENGINE, _SPARE = range(8)


def _turns(paths: dict[str, Path]) -> Callable[[str], int]:
    parts = {path.name: path.read_bytes() for name, path in paths.items() if name.endswith(".js") and name != SERVICE_WORKER}
    begins = begun_with("page.js", parts) if "page.js" in parts else set()

    def turn(name: str) -> int:
        if name in FIRST_AID:
            return _FIRST_AID
        if name.endswith(".css"):
            return _LATER if name.endswith(FEW_PAGES) else _STYLE
        if name.endswith(".js"):
            return _SCRIPT if PurePosixPath(name).name in begins else _LATER
        if name.endswith(".html"):
            return _READABLE
        if not name.startswith("engine-"):
            return _REST
        return _SPARE if name.endswith(SPARE_ENGINE) else _ENGINE

    return turn


def _as_script(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
