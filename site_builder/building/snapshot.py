"""Python made ready for the browser by Pyodide itself, in node: trimmed, compiled, and kept as a snapshot of its memory.

A start from the snapshot imports nothing and reads no file, so it takes a fraction of the time. Where it fails, plain-start.zip
starts Python from nothing: it holds what the snapshot holds, as compiled modules. The same content gives the same bytes, on
every machine and with every node.
"""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from pathlib import Path

from site_builder.building.packing import packed
from site_builder.setting_up.checkout import CACHE, ROOT, WEB
from site_builder.setting_up.node import run_node
from site_builder.setting_up.running import say
from site_builder.setting_up.stamps import digest, once

# A page's calculator and its worked example.
Examples = list[tuple[str, dict[str, str]]]

IN_NODE = ROOT / "site_builder" / "snapshot"
SCRIPTS = [*sorted(IN_NODE.iterdir()), *sorted(WEB.glob("*.mjs"))]
PACKING = Path(__file__).with_name("packing.py")
KEPT = CACHE / "frozen"
TRIMMED = "pyodide"
LIBRARY = "python_stdlib.zip"
# Packed, and not called .gz: a host that takes that for a way of sending would have the browser unpack it.
SNAPSHOT = "snapshot.bin"
# The earliest date that a zip file can hold: the same content must give the same bytes.
NO_DATE = (1980, 1, 1, 0, 0, 0)
# A host that compresses nothing has these packed as well.
LARGE = ("pyodide.asm.mjs", "pyodide.asm.wasm")
PYODIDE_FILES = ("pyodide.mjs", *LARGE)
# Python is started from these in node, too: what the pages have is what was tried.
TAKEN_AS_THEY_ARE = ("pyodide.mjs", "pyodide-lock.json")
EMPTY_ZIP = b"PK\5\6" + bytes(18)
# Pyodide runs its loop of events by the browser's own. Of asyncio it wants what waits, and none of what speaks to sockets,
# to other programs or in TLS, all of which the package would import.
ASYNCIO = "asyncio/__init__.py"
ASYNCIO_EVENTS = "asyncio/events.py"
ASYNCIO_KEPT = ("coroutines", "events", "exceptions", "futures", "locks", "queues", "runners", "tasks", "timeouts")
ASYNCIO_INIT = "".join(f"from .{name} import *\n" for name in ASYNCIO_KEPT) + (
    "from .events import _BaseDefaultEventLoopPolicy as DefaultEventLoopPolicy\n"
)
# What other modules import at their top, and nothing here ever calls: each has the few names that are looked up when it is imported.
NEVER_CALLED = {
    "difflib.py": "def get_close_matches(*_, **__): return []\n",
    "ipaddress.py": "",
    "logging/__init__.py": "DEBUG = 10\nclass StreamHandler: ...\nclass Logger:\n    def __getattr__(self, name): return lambda *_, **__: None\n"
    "def getLogger(name=None): return Logger()\nerror = warning = getLogger().error\n",
    # Pyodide's loader of packages names what unpacks them; no package is ever loaded.
    "shutil.py": "_unpack_zipfile = None\ndef register_archive_format(*_, **__): ...\nregister_unpack_format = register_archive_format\n"
    "def get_unpack_formats(): return []\n",
    "socket.py": "AF_UNSPEC, AI_PASSIVE = 0, 1\n",
    "tempfile.py": "NamedTemporaryFile = None\n",
    "zipfile/__init__.py": "class ZipFile: ...\n",
}


def frozen_files(pyodide: Path, sources: bytes, examples: Examples, kept: Path = KEPT) -> dict[str, bytes]:
    """Return the files that the browser starts Python from, by name, made anew only if something changed.

    `sources` is the archive of our modules, templates and libraries; `kept` is the folder for what was made.
    """
    kept.mkdir(parents=True, exist_ok=True)
    published = [pyodide / name for name in (*TAKEN_AS_THEY_ARE, *LARGE, LIBRARY)]
    compiled_from = digest(*published, *SCRIPTS, Path(__file__), PACKING)
    once(kept / "library.made", compiled_from, lambda: _trim_and_compile_library(pyodide, kept))
    (kept / "sources.zip").write_bytes(sources)
    (kept / "examples.json").write_text(json.dumps(examples), encoding="utf-8")
    frozen_from = digest(kept / "sources.zip", kept / "examples.json", kept / "library.made")
    once(kept / "snapshot.made", frozen_from, lambda: _freeze(pyodide, kept))
    made = ("plain-start.zip", *(f"{name}.gz" for name in (*LARGE, "plain-start.zip")))
    files = {name: (kept / TRIMMED / name).read_bytes() for name in PYODIDE_FILES}
    files |= {name: (kept / name).read_bytes() for name in made}
    return files | {SNAPSHOT: (kept / "snapshot.bin.gz").read_bytes(), "empty.zip": EMPTY_ZIP}


def zipped(members: dict[str, bytes], compression: int) -> bytes:
    """Return an archive of these files by name, in the order of their names and with no date."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as into:
        for name, content in sorted(members.items()):
            into.writestr(zipfile.ZipInfo(name, NO_DATE), content, compression, compresslevel=9)
    return archive.getvalue()


def _trim_and_compile_library(pyodide: Path, kept: Path) -> None:
    say("Trimming Pyodide and compiling its library")
    trimmed = kept / TRIMMED
    trimmed.mkdir(exist_ok=True)
    for name in TAKEN_AS_THEY_ARE:
        shutil.copyfile(pyodide / name, trimmed / name)
    _node("trim.mjs", pyodide, trimmed, *(script for script in SCRIPTS if script.suffix == ".mjs"))
    for name in LARGE:
        (kept / f"{name}.gz").write_bytes(packed((trimmed / name).read_bytes()))
    library = _members(pyodide / LIBRARY)
    # Its events name a constant of `subprocess`, which imports `locale` and more.
    events = library[ASYNCIO_EVENTS].replace(b"import subprocess\n", b"").replace(b"subprocess.PIPE", b"-1")
    library |= {ASYNCIO: ASYNCIO_INIT.encode(), ASYNCIO_EVENTS: events}
    library |= {name: text.encode() for name, text in NEVER_CALLED.items()}
    (kept / "library-sources.zip").write_bytes(zipped(library, zipfile.ZIP_STORED))
    _node("compile.mjs", trimmed, pyodide / LIBRARY, kept / "library-sources.zip", kept / "library.zip")


def _freeze(published: Path, kept: Path) -> None:
    pyodide = kept / TRIMMED
    say("Starting Python once, for the snapshot that the pages start from")
    _node("compile.mjs", pyodide, published / LIBRARY, kept / "sources.zip", kept / "ours.zip")
    members = _members(kept / "library.zip") | _members(kept / "ours.zip")
    (kept / "all.zip").write_bytes(zipped(members, zipfile.ZIP_STORED))
    _node("freeze.mjs", pyodide, kept / "all.zip", kept / "examples.json", kept / "snapshot.bin", kept / "modules.txt")
    held = set((kept / "modules.txt").read_text(encoding="utf-8").split())
    plain = {name: content for name, content in members.items() if name.endswith(".html") or _module(name) in held}
    spare = zipped(plain, zipfile.ZIP_STORED)  # packed as a whole it is smaller, and Python starts from it sooner
    (kept / "plain-start.zip").write_bytes(spare)
    (kept / "plain-start.zip.gz").write_bytes(packed(spare))
    (kept / "snapshot.bin.gz").write_bytes(packed((kept / "snapshot.bin").read_bytes()))


def _members(archive: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(archive) as members:
        return {name: members.read(name) for name in members.namelist()}


def _module(name: str) -> str:
    """Return the module that a member of an archive is: "json/__init__.pyc" is `json`."""
    return name.removesuffix(".pyc").removesuffix("/__init__").replace("/", ".")


def _node(script: str, *arguments: Path) -> None:
    run_node(IN_NODE / script, *arguments, meant=f"Python did not start in Pyodide, in {script}")
