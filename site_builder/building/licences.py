"""What of others goes to the phone, and on what terms: a list for the page, the texts whole, and an SPDX document.

Versions, names of licences and notices are read at each build from what is installed and from the very files that are sent. A library that
is linked into Pyodide is known by a mark that its code holds: one that is no longer there stops the build. Where a notice stands in what
is sent, it is given to the letter; where none does, that is said, and its holder is named from memory.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.metadata import distribution
from pathlib import Path
from typing import Any
from zipfile import ZipFile

from site_builder.building.loaded_folders import LIBRARIES, QR_LIBRARY
from site_builder.building.snapshot import LIBRARY

FROM_NPM = ("pyodide", "minisearch", "idb", "fflate", "morphdom", "qr", "@fontsource-variable/atkinson-hyperlegible-next")
TEXTS = "licences.txt"
SPDX = "licences.spdx.json"
_LICENCE_FILES = ("LICENSE-MIT", "LICENSE", "LICENSE.txt", "LICENSE.md")
_NO_DATE = "1980-01-01T00:00:00Z"  # SPDX wants one; the same content must give the same bytes
_WITH_EXCEPTION = " WITH LLVM-exception"
_SPARE = "plain-start.zip"
_WASM, _SCRIPT = "pyodide.asm.wasm", "pyodide.asm.mjs"
_INSIDE = {_WASM: "Pyodide's WebAssembly", _SCRIPT: "Pyodide's script"}


@dataclass(frozen=True, slots=True)
class Bundled:
    """One work of others. `notice` is what it brings along itself, if anything, and `holder` who holds the copyright, from memory."""

    name: str
    version: str
    licence: str
    inside: str
    notice: str
    holder: str = ""


@dataclass(frozen=True, slots=True)
class Linked:
    """A library inside of a file of Pyodide's. `mark` is a pattern of what its code holds; a group in it is the version."""

    name: str
    licence: str
    mark: bytes
    holder: str
    notice: bytes = b""
    file: str = _WASM


# The licence that each is under is from memory, but for the first three, whose own were read at their projects.
LINKED = (
    Linked("Emscripten's libraries", "MIT", rb"emscripten_resize_heap", "Copyright (c) 2010-2014 Emscripten authors"),
    Linked("Expat", "MIT", rb"expat_([\d.]+)", "Copyright (c) 1998, 1999, 2000 Thai Open Source Software Center Ltd and Clark Cooper"),
    Linked("libffi", "MIT", rb"ffi_prep_cif_var", "Copyright (c) 1996-2008 Red Hat, Inc and others"),
    Linked("musl", "MIT", rb"Illegal byte sequence\0Domain error\0Result not representable", "Copyright (c) Rich Felker and others"),
    Linked("LLVM's libraries for C and C++", "Apache-2.0 WITH LLVM-exception", rb"lib/(?:compiler-rt|libcxxabi)/", "LLVM's contributors"),
    Linked("mimalloc", "MIT", rb"mimalloc: error: ", "Copyright (c) Microsoft Corporation, Daan Leijen"),
    Linked("zlib", "Zlib", rb"deflate ([\d.]+) Copyright", "", notice=rb"(?:de|in)flate [\d.]+ Copyright [^\0]+"),
    Linked("bzip2", "bzip2-1.0.6", rb"([\d.]+), \d+-\w+-\d{4}", "Copyright (C) Julian R Seward"),
    Linked("libmpdec", "BSD-2-Clause", rb"/_decimal/libmpdec/", "Copyright (c) Stefan Krah"),
    Linked("HACL*", "MIT", rb"/_hacl/Hacl_", "Copyright (c) INRIA, Microsoft Corporation and contributors"),
    Linked("XZ Utils' liblzma", "0BSD", rb"Call to liblzma failed", "Lasse Collin, in the public domain"),
    Linked(
        "Zstandard, with xxHash", "BSD-3-Clause", rb"ZSTD_compressBegin_usingCDict", "Copyright (c) Meta Platforms, Inc. and affiliates"
    ),
    Linked("SQLite", "blessing", rb"SQLite format 3", "in the public domain"),
    Linked("The data of Unicode", "Unicode-3.0", rb"\0(1\d\.0\.0)\0", "Copyright (c) Unicode, Inc."),
    Linked("error-stack-parser", "MIT", rb"ErrorStackParser", "Copyright (c) Eric Wendelin and other contributors", file=_SCRIPT),
    Linked("stackframe", "MIT", rb'"StackFrame"', "Copyright (c) Eric Wendelin and other contributors", file=_SCRIPT),
)
# Python's own, in its code in C, as `sys.copyright` and beside it.
_OF_PYTHON = (rb"Copyright \(c\) 2001 Python Software Foundation\.[^\0]+", rb"SRE [\d.]+ Copyright [^\0]+")
_NOTICE = re.compile(r"(?i)copyright\b.*\b(19|20)\d\d\b|\(c\) copyright|licensed to")


def bundled(node_modules: Path, engine: Mapping[str, bytes]) -> tuple[Bundled, ...]:
    """Return all that goes to the phone and is not ours, what is installed first. `engine` is what the engine is made of, by file name."""
    info = json.loads((node_modules / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    from_npm = [_from_npm(node_modules / name) for name in FROM_NPM]
    notices = [*_found(engine[_WASM], _OF_PYTHON), *_notices_of_modules(node_modules / "pyodide" / LIBRARY, engine[_SPARE])]
    library = Bundled("Python", info["python"], "Python-2.0.1", "the engine", "\n\n".join(dict.fromkeys(notices)))
    emscripten = info["platform"].removeprefix("emscripten_").replace("_", ".")
    linked = [_linked(part, engine[part.file], emscripten if part is LINKED[0] else "") for part in LINKED]
    return (*from_npm, library, *map(_from_python, (*LIBRARIES, QR_LIBRARY)), *linked)


def licence_files(node_modules: Path, parts: tuple[Bundled, ...]) -> dict[str, bytes]:
    """Return the texts of all licences as one file, and the list of who is under which in the form of SPDX."""
    names = sorted({part.licence.removesuffix(_WITH_EXCEPTION) for part in parts})
    whole = [_headed(part) for part in parts] + [f"{'=' * 80}\n{name}\n\n{_text(node_modules, name)}" for name in names]
    return {TEXTS: "\n".join(whole).encode(), SPDX: (json.dumps(_spdx(parts), indent=1) + "\n").encode()}


def _headed(part: Bundled) -> str:
    says = part.notice.strip() or f"It brings no notice along. From memory: {part.holder}"
    return f"{part.name} {part.version}".strip() + f", in {part.inside}: {part.licence}\n\n{says}\n"


def _linked(part: Linked, content: bytes, version: str) -> Bundled:
    mark = re.search(part.mark, content)
    if not mark:
        raise ValueError(f"{part.name} is no longer in {part.file}, or not as it was: look what is, and correct LINKED")
    found = mark[1].decode() if mark.lastindex else version
    notice = "\n".join(_found(content, [part.notice])) if part.notice else ""
    return Bundled(part.name, found, part.licence, _INSIDE[part.file], notice, part.holder)


def _found(content: bytes, patterns: tuple[bytes, ...] | list[bytes]) -> list[str]:
    return [found[0].decode().strip() for pattern in patterns for found in re.finditer(pattern, content)]


def _notices_of_modules(library: Path, spare: bytes) -> Iterator[str]:
    """Give what the modules that are sent say of their copyright, in their sources: compiled, they have lost it."""
    with ZipFile(io.BytesIO(spare)) as sent, ZipFile(library) as sources:
        for name in sorted({name.removesuffix("c") for name in sent.namelist()} & set(sources.namelist())):
            for notice in _notices(sources.read(name).decode()):
                yield f"{name}: {notice}"


def _notices(source: str) -> Iterator[str]:
    """Give each comment that is a notice, whole, and each line of other text that is one."""
    for comment in re.findall(r"(?m)(?:^[ \t]*#.*\n)+", source):
        if _NOTICE.search(comment):
            yield "\n".join(line.strip().lstrip("#").strip() for line in comment.splitlines()).strip()
    for line in source.splitlines():
        if _NOTICE.search(line) and not line.lstrip().startswith("#"):
            yield line.strip()


def _from_npm(folder: Path) -> Bundled:
    says = json.loads((folder / "package.json").read_text(encoding="utf-8"))
    notice = next((file.read_text(encoding="utf-8") for name in _LICENCE_FILES if (file := folder / name).is_file()), "")
    licence = says["license"].strip("()").split(" OR ")[0]  # of several the first, whose text is the one that is given
    return Bundled(says["name"], says["version"], licence, "the scripts" if notice else "the engine", notice or _source(says))


def _source(says: dict[str, Any]) -> str:
    repository = says.get("repository", "")
    return f"Its source: {repository.get('url', '') if isinstance(repository, dict) else repository}"


def _from_python(name: str) -> Bundled:
    found = distribution(name)
    notices = [file for file in found.files or () if "licenses" in file.parts or file.name in _LICENCE_FILES]
    licence = (found.metadata.get_all("License-Expression") or ["BSD-3-Clause"])[0]  # Jinja2 says it by its text alone
    return Bundled(
        found.metadata["Name"], found.version, licence, "the engine", "\n".join(file.read_text(encoding="utf-8") for file in notices)
    )


def _text(node_modules: Path, name: str) -> str:
    file = node_modules / "spdx-license-list" / "licenses" / f"{name}.json"
    text: str = json.loads(file.read_text(encoding="utf-8"))["licenseText"]
    return text.strip() + "\n"


def _spdx(parts: tuple[Bundled, ...]) -> dict[str, Any]:
    packages = [
        {
            "SPDXID": f"SPDXRef-{number}",
            "name": part.name,
            "versionInfo": part.version or "as linked",
            "downloadLocation": "NOASSERTION",
            "filesAnalyzed": False,
            "licenseConcluded": part.licence,
            "licenseDeclared": part.licence,
            "copyrightText": part.notice.strip() or "NOASSERTION",
        }
        for number, part in enumerate(parts, 1)
    ]
    return {
        "spdxVersion": "SPDX-2.3",
        "dataLicense": "CC0-1.0",
        "SPDXID": "SPDXRef-DOCUMENT",
        "name": "Fieldslate",
        "documentNamespace": "urn:fieldslate:licences",
        "creationInfo": {"created": _NO_DATE, "creators": ["Tool: site_builder"]},
        "packages": packages,
        "relationships": [
            {"spdxElementId": "SPDXRef-DOCUMENT", "relationshipType": "DESCRIBES", "relatedSpdxElement": package["SPDXID"]}
            for package in packages
        ],
    }
