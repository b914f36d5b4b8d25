"""When the snapshot is made anew, what the plain start holds, and what is said if Python does not start."""

import io
import zipfile

import pytest

from site_builder.building import snapshot
from site_builder.setting_up.failures import SetUpFailed

MODULES = {"calc/__init__.pyc": b"1", "calc/packs.pyc": b"2", "wave.pyc": b"3", "site_builder/templates/answers/answer.html": b"4"}
EXAMPLES = [("voltages", {"cells": "4"})]


@pytest.fixture
def asked(monkeypatch):
    """The scripts that node was asked to run: a node that compiles to MODULES, and holds `calc` alone in the end."""
    scripts = []

    def node(script, *arguments):
        scripts.append(script)
        if script == "trim.mjs":
            for name in snapshot.LARGE:
                (arguments[1] / name).write_bytes(b"trimmed")
        elif script == "compile.mjs":
            arguments[-1].write_bytes(snapshot.zipped(MODULES, zipfile.ZIP_STORED))
        else:
            arguments[-2].write_bytes(b"a heap")
            arguments[-1].write_text("calc\ncalc.packs\nsys")

    monkeypatch.setattr(snapshot, "_node", node)
    return scripts


@pytest.fixture
def pyodide(tmp_path):
    folder = tmp_path / "pyodide"
    folder.mkdir()
    for name in (*snapshot.TAKEN_AS_THEY_ARE, *snapshot.LARGE):
        (folder / name).write_bytes(name.encode())
    events = b"import subprocess\ndef run(stdin=subprocess.PIPE): ...\n"
    library = {snapshot.ASYNCIO: b"from .unix_events import *", snapshot.ASYNCIO_EVENTS: events, "wave.py": b"wave = 1"}
    (folder / snapshot.LIBRARY).write_bytes(snapshot.zipped(library, zipfile.ZIP_STORED))
    return folder


def test_the_same_content_is_frozen_once(asked, pyodide, tmp_path):
    first = snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    assert snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept") == first
    assert asked == ["trim.mjs", "compile.mjs", "compile.mjs", "freeze.mjs"]


@pytest.mark.parametrize(("sources", "examples"), [(b"other sources", EXAMPLES), (b"sources", [("voltages", {"cells": "3"})])])
def test_other_sources_or_examples_are_frozen_anew_with_the_library_that_is_there(asked, pyodide, tmp_path, sources, examples):
    snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    asked.clear()
    snapshot.frozen_files(pyodide, sources, examples, tmp_path / "kept")
    assert asked == ["compile.mjs", "freeze.mjs"]


def test_another_pyodide_is_trimmed_and_its_library_compiled_anew(asked, pyodide, tmp_path):
    snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    asked.clear()
    (pyodide / "pyodide.asm.wasm").write_bytes(b"newer")
    snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    assert asked == ["trim.mjs", "compile.mjs", "compile.mjs", "freeze.mjs"]


@pytest.mark.usefixtures("asked")
def test_what_is_compiled_of_the_library_has_an_asyncio_that_imports_no_sockets(pyodide, tmp_path):
    snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    with zipfile.ZipFile(tmp_path / "kept" / "library-sources.zip") as compiled:
        assert compiled.read("wave.py") == b"wave = 1"
        assert b"tasks" in compiled.read(snapshot.ASYNCIO)
        assert b"unix_events" not in compiled.read(snapshot.ASYNCIO)
        assert compiled.read(snapshot.ASYNCIO_EVENTS) == b"def run(stdin=-1): ...\n"


@pytest.mark.usefixtures("asked")
def test_the_plain_start_holds_the_modules_of_the_snapshot_and_the_templates(pyodide, tmp_path):
    made = snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    with zipfile.ZipFile(io.BytesIO(made["plain-start.zip"])) as plain:
        assert {name: plain.read(name) for name in plain.namelist()} == {name: MODULES[name] for name in MODULES if name != "wave.pyc"}


@pytest.mark.usefixtures("asked")
def test_the_empty_archive_is_one_without_members(pyodide, tmp_path):
    made = snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
    with zipfile.ZipFile(io.BytesIO(made["empty.zip"])) as empty:
        assert empty.namelist() == []


def test_a_python_that_does_not_start_is_told_in_plain_sentences_and_tried_again(monkeypatch, pyodide, tmp_path):
    node = tmp_path / "node"
    node.write_text("#!/bin/sh\necho 'async function and so on'; echo 'Error: the library is torn'; exit 1\n")
    node.chmod(0o755)
    monkeypatch.setattr("site_builder.setting_up.node.node_program", lambda: node)
    for _ in range(2):
        with pytest.raises(SetUpFailed, match=r"Nothing was built\..*trim\.mjs:\n    Error: the library is torn$"):
            snapshot.frozen_files(pyodide, b"sources", EXAMPLES, tmp_path / "kept")
