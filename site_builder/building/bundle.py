"""The two folders that a browser loads from, each named after the hash of its content.

`code-…` holds our scripts and style as they stand in web/, so their plain relative imports hold. `engine-…` holds Pyodide and
one archive with calc, the engine, its templates, and the pure-Python parts of Jinja2 and MarkupSafe.
"""

from __future__ import annotations

import io
import zipfile
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path

from site_builder.engine.answer import SHARED_FOLDERS, TEMPLATES
from site_builder.setting_up.checkout import ROOT

WEB = ROOT / "site_builder" / "web"
PYODIDE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "pyodide-lock.json", "python_stdlib.zip")
LIBRARIES = ("jinja2", "markupsafe")
# The earliest date that a zip file can hold: the same content must give the same bytes.
_NO_DATE = (1980, 1, 1, 0, 0, 0)


def code_files() -> dict[str, bytes]:
    """Return our scripts and style by file name. The service worker is written for itself, at the root."""
    files = sorted(WEB.glob("*.js")) + sorted(WEB.glob("*.css"))
    return {file.name: file.read_bytes() for file in files if file.name != "service_worker.js"}


def engine_files(node_modules: Path) -> dict[str, bytes]:
    """Return Pyodide's files and our archive by file name."""
    pyodide = {name: (node_modules / "pyodide" / name).read_bytes() for name in PYODIDE_FILES}
    return pyodide | {"fieldslate.zip": archive()}


def in_folder(name: str, files: dict[str, bytes]) -> tuple[str, dict[str, bytes]]:
    """Return the folder's name, which carries the hash of what is in it, and the files by their path."""
    digest = sha256()
    for file, content in sorted(files.items()):
        digest.update(file.encode() + b"\0" + sha256(content).digest())
    folder = f"{name}-{digest.hexdigest()[:12]}"
    return folder, {f"{folder}/{file}": content for file, content in files.items()}


def archive() -> bytes:
    """Return the zip file of the Python that runs in the browser, the same bytes for the same content."""
    modules = sorted((ROOT / "calc").rglob("*.py"))
    modules += [ROOT / "site_builder" / "__init__.py", *sorted((ROOT / "site_builder" / "engine").rglob("*.py"))]
    modules += [file for folder in SHARED_FOLDERS for file in sorted((TEMPLATES / folder).glob("*.html"))]
    members = {file.relative_to(ROOT).as_posix(): file.read_bytes() for file in modules}
    for library in LIBRARIES:
        folder = Path(find_spec(library).origin).parent
        members |= {f"{library}/{file.name}": file.read_bytes() for file in sorted(folder.glob("*.py"))}
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as zipped:
        for name, content in sorted(members.items()):
            zipped.writestr(zipfile.ZipInfo(name, _NO_DATE), content, zipfile.ZIP_DEFLATED)
    return packed.getvalue()
