"""What of others goes to the phone, and on what terms: a list for the page, the texts whole, and an SPDX document.

Versions, names of licences and notices are read from what is installed, at each build. What is compiled into Pyodide's WebAssembly brings no
notice along: it is listed here, each with a mark that the WebAssembly holds, so that a line which is no longer true is noticed.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from importlib.metadata import distribution
from pathlib import Path
from typing import Any

from site_builder.building.bundle import LIBRARIES

FROM_NPM = ("pyodide", "minisearch", "idb", "@fontsource-variable/atkinson-hyperlegible-next")
TEXTS = "licences.txt"
SPDX = "licences.spdx.json"
_LICENCE_FILES = ("LICENSE", "LICENSE.txt", "LICENSE.md")
_NO_DATE = "1980-01-01T00:00:00Z"  # SPDX wants one; the same content must give the same bytes
_WITH_EXCEPTION = " WITH LLVM-exception"


@dataclass(frozen=True, slots=True)
class Bundled:
    """One work of others. `notice` is its own text of the licence, or who holds the copyright, or "" where no one is named."""

    name: str
    version: str
    licence: str
    inside: str
    notice: str
    mark: bytes = b""


_INSIDE = "Pyodide's WebAssembly"
# Licences of the trade's best known libraries, from memory but for the first three, whose notices were read at their projects.
COMPILED_IN = (
    Bundled("Emscripten's libraries", "", "MIT", _INSIDE, "Copyright (c) 2010-2014 Emscripten authors", b"emscripten"),
    Bundled("Expat", "", "MIT", _INSIDE, "Copyright (c) 1998, 1999, 2000 Thai Open Source Software Center Ltd and Clark Cooper", b"expat.ExpatError"),
    Bundled("libffi", "", "MIT", _INSIDE, "Copyright (c) 1996-2008 Red Hat, Inc and others", b"ffi_call"),
    Bundled("musl", "", "MIT", _INSIDE, "Copyright (c) Rich Felker and others"),
    Bundled("LLVM's libraries for C and C++", "", "Apache-2.0 WITH LLVM-exception", _INSIDE, ""),
    Bundled("zlib", "", "Zlib", _INSIDE, "Copyright (C) Jean-loup Gailly and Mark Adler", b"Jean-loup Gailly"),
    Bundled("bzip2", "", "bzip2-1.0.6", _INSIDE, "Copyright (C) Julian R Seward", b"bzip2/libbzip2"),
    Bundled("libmpdec", "", "BSD-2-Clause", _INSIDE, "Copyright (c) Stefan Krah", b"libmpdec"),
    Bundled("HACL*", "", "MIT", _INSIDE, "Copyright (c) INRIA, Microsoft Corporation and contributors", b"Hacl_"),
    Bundled("XZ Utils' liblzma", "", "0BSD", _INSIDE, "", b"liblzma"),
    Bundled("Zstandard", "", "BSD-3-Clause", _INSIDE, "Copyright (c) Meta Platforms, Inc. and affiliates", b"ZSTD_"),
    Bundled("SQLite", "", "blessing", _INSIDE, "", b"SQLite format 3"),
    Bundled("stackframe and error-stack-parser", "", "MIT", "Pyodide's script", "Copyright (c) Eric Wendelin and other contributors"),
)


def bundled(node_modules: Path) -> tuple[Bundled, ...]:
    """Return all that goes to the phone and is not ours, what is installed first."""
    from_npm = [_from_npm(node_modules / name) for name in FROM_NPM]
    python = json.loads((node_modules / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]["python"]
    library = Bundled("Python", python, "Python-2.0.1", "the engine", "Copyright (c) Python Software Foundation; all rights reserved")
    return (*from_npm, library, *map(_from_python, LIBRARIES), *COMPILED_IN)


def licence_files(node_modules: Path) -> dict[str, bytes]:
    """Return the texts of all licences as one file, and the list of who is under which in the form of SPDX."""
    parts = bundled(node_modules)
    names = sorted({part.licence.removesuffix(_WITH_EXCEPTION) for part in parts})
    whole = [_headed(part) for part in parts] + [f"{'=' * 80}\n{name}\n\n{_text(node_modules, name)}" for name in names]
    return {TEXTS: "\n".join(whole).encode(), SPDX: (json.dumps(_spdx(parts), indent=1) + "\n").encode()}


def _headed(part: Bundled) -> str:
    return f"{part.name} {part.version}".strip() + f", in {part.inside}: {part.licence}\n\n{part.notice.strip()}\n"


def _from_npm(folder: Path) -> Bundled:
    says = json.loads((folder / "package.json").read_text(encoding="utf-8"))
    notice = next((file.read_text(encoding="utf-8") for name in _LICENCE_FILES if (file := folder / name).is_file()), _source(says))
    return Bundled(says["name"], says["version"], says["license"], "the scripts" if notice else "the engine", notice)


def _source(says: dict[str, Any]) -> str:
    repository = says.get("repository", "")
    return f"Its source: {repository.get('url', '') if isinstance(repository, dict) else repository}"


def _from_python(name: str) -> Bundled:
    found = distribution(name)
    notices = [file for file in found.files or () if "licenses" in file.parts or file.name in _LICENCE_FILES]
    licence = (found.metadata.get_all("License-Expression") or ["BSD-3-Clause"])[0]  # Jinja2 says it by its text alone
    return Bundled(found.metadata["Name"], found.version, licence, "the engine", "\n".join(file.read_text(encoding="utf-8") for file in notices))


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
            {"spdxElementId": "SPDXRef-DOCUMENT", "relationshipType": "DESCRIBES", "relatedSpdxElement": package["SPDXID"]} for package in packages
        ],
    }
