"""The two folders that a browser loads from, each named after the hash of its content.

`code-…` holds our scripts, those of the pages joined into one and those of the worker, our style and its typeface. `engine-…` holds Pyodide,
its start, and what that starts from: calc, the engine, its templates, the pure-Python parts of Jinja2 and MarkupSafe, and what encodes QR codes.
"""

from __future__ import annotations

import ast
import json
import zipfile
from hashlib import sha256
from importlib import import_module
from pathlib import Path

from site_builder.building.bundling import STARTS, joined, joined_parts
from site_builder.building.own_file import file_schema
from site_builder.building.own_things import own_facts
from site_builder.building.snapshot import Examples, frozen_files, zipped
from site_builder.setting_up.checkout import ROOT, TEMPLATES, WEB

SHARED_FOLDERS = ("answers", "parts")  # `pages` is the build's alone
LIBRARIES = ("jinja2", "markupsafe")
# What encodes QR codes comes when the first is wanted. Of the library that is what encodes: our own template draws.
QR_LIBRARY = "segno"
QR_MODULES = ("consts", "encoder")  # the second imports the first
# Jinja2 would keep compiled templates in files, and imports what that takes. There are no files here.
BYTECODE_CACHE = "jinja2/bccache.py"
BYTECODE_CACHE_NAMES = b"class BytecodeCache: ...\nFileSystemBytecodeCache = MemcachedBytecodeCache = BytecodeCache\n"
# Made for legibility, under the SIL Open Font Licence. The Latin part; what it lacks (Ω) falls back to the phone's own.
TYPEFACE = Path("@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2")


def code_files(node_modules: Path) -> dict[str, bytes]:
    """Return our scripts and style by file name, and the typeface. The service worker is written for itself, at the root."""
    return {
        **joined_parts(tuple(WEB / name for name in STARTS), names="short", facts=page_facts()),
        "worker.js": joined(WEB / "worker.js"),
        "few_pages.css": joined(WEB / "few_pages.css", names="short"),
        "fieldslate.css": joined(WEB / "fieldslate.css", names="short"),
        "typeface.woff2": (node_modules / TYPEFACE).read_bytes(),
    }


def page_facts() -> str:
    """Return what the scripts of the pages have from the build, as JSON.

    The schema is a text, which stands in the one script that reads it: an object would come with the script of every page.
    """
    return json.dumps({"OWN_FACTS": json.dumps(own_facts()), "FILE_SCHEMA": json.dumps(json.dumps(file_schema()))})


def engine_files(node_modules: Path, examples: Examples) -> dict[str, bytes]:
    """Return Pyodide's files and ours by file name; `examples` are the calculators and worked examples of the pages."""
    files = {file.name: file.read_bytes() for file in sorted(WEB.glob("*.mjs"))}
    files["qr_encoder.json"] = qr_encoder()
    return files | frozen_files(node_modules / "pyodide", sources(), examples)


def in_folder(name: str, files: dict[str, bytes]) -> tuple[str, dict[str, bytes]]:
    """Return the folder's name, which carries the hash of what is in it, and the files by their path."""
    digest = sha256()
    for file, content in sorted(files.items()):
        digest.update(file.encode() + b"\0" + sha256(content).digest())
    folder = f"{name}-{digest.hexdigest()[:12]}"
    return folder, {f"{folder}/{file}": content for file, content in files.items()}


def sources() -> bytes:
    """Return an archive of the Python that runs in the browser, and of its templates."""
    modules = sorted((ROOT / "calc").rglob("*.py"))
    modules += [ROOT / "site_builder" / "__init__.py", *sorted((ROOT / "site_builder" / "engine").rglob("*.py"))]
    modules += [file for folder in SHARED_FOLDERS for file in sorted((TEMPLATES / folder).glob("*.html"))]
    members = {file.relative_to(ROOT).as_posix(): file.read_bytes() for file in modules}
    for library in LIBRARIES:
        folder = Path(import_module(library).__file__ or "").parent
        members |= {f"{library}/{file.name}": file.read_bytes() for file in sorted(folder.glob("*.py"))}
    members[BYTECODE_CACHE] = BYTECODE_CACHE_NAMES
    return zipped(members, zipfile.ZIP_STORED)


def qr_encoder() -> bytes:
    """Return the modules that encode QR codes, as JSON: the text of each by its name, without what nobody reads in a browser."""
    folder = Path(import_module(QR_LIBRARY).__file__ or "").parent
    texts = {name: _without_docstrings((folder / f"{name}.py").read_text(encoding="utf-8")) for name in QR_MODULES}
    return json.dumps(texts).encode()


def _without_docstrings(source: str) -> str:
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)) and ast.get_docstring(node) is not None:
            node.body[:1] = [] if len(node.body) > 1 else [ast.Pass()]
    return ast.unparse(tree)
