"""The works of others that go to the phone, each with its licence and its notice."""

import json
import re
from zipfile import ZipFile

import pytest

from site_builder.building.licences import FROM_NPM, LINKED, SPDX, TEXTS, bundled, licence_files
from site_builder.building.loaded_folders import LIBRARIES, QR_LIBRARY
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.node import node_modules

[ENGINE_FOLDER] = DIST.glob("engine-*")
ENGINE = {file.name: file.read_bytes() for file in ENGINE_FOLDER.iterdir()}
PARTS = bundled(node_modules(), ENGINE)
FILES = licence_files(node_modules(), PARTS)
TEXT = FILES[TEXTS].decode()

A_NOTICE = re.compile(r"(?i)copyright\b.{0,40}\b(19|20)\d\d\b|\(c\) (copyright|(19|20)\d\d\b)")


def test_all_that_is_installed_and_bundled_is_listed_with_its_version():
    by_name = {part.name.lower(): part for part in PARTS}
    assert {*FROM_NPM, *LIBRARIES, "python"} <= set(by_name)
    assert all(by_name[name].version for name in (*FROM_NPM, *LIBRARIES, "python"))
    assert by_name["pyodide"].licence == "MPL-2.0"


# What each says of itself when Pyodide's own Python asks it: zlib.ZLIB_VERSION, pyexpat.EXPAT_VERSION, unicodedata.unidata_version and
# sys._emscripten_info, read once.
@pytest.mark.parametrize(
    ("name", "version"), [("zlib", "1.3.1"), ("Expat", "2.7.3"), ("The data of Unicode", "16.0.0"), ("Emscripten's libraries", "5.0.3")]
)
def test_a_version_is_read_from_what_is_sent(name, version):
    [part] = [part for part in PARTS if part.name == name]
    assert part.version == version


@pytest.mark.parametrize("name", ["pyodide.asm.wasm", "pyodide.asm.mjs", "pyodide.mjs"])
def test_no_notice_that_stands_in_a_file_of_pyodides_is_left_out(name):
    lines = {line.decode().strip() for line in re.findall(rb"[\x20-\x7e]{10,}", ENGINE[name])}
    assert [line for line in lines if A_NOTICE.search(line) and line not in TEXT] == []


def test_no_notice_of_a_module_that_is_sent_is_left_out():
    with ZipFile(ENGINE_FOLDER / "plain-start.zip") as sent, ZipFile(node_modules() / "pyodide" / "python_stdlib.zip") as sources:
        modules = {name.removesuffix("c") for name in sent.namelist()} & set(sources.namelist())
        found = {
            (name, line.strip("# ").strip())
            for name in modules
            for line in sources.read(name).decode().splitlines()
            if re.search(r"(?i)copyright.*\b20\d\d\b", line)
        }
    assert len(found) > 10
    assert [one for one in found if one[1] not in TEXT] == []


def test_a_library_that_is_no_longer_linked_stops_the_build():
    without = ENGINE | {"pyodide.asm.wasm": ENGINE["pyodide.asm.wasm"].replace(b"expat_", b"other_")}
    with pytest.raises(ValueError, match=r"Expat is no longer in pyodide\.asm\.wasm"):
        bundled(node_modules(), without)


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_the_text_of_each_licence_is_there_whole(part):
    assert f"\n{part.licence.removesuffix(' WITH LLVM-exception')}\n" in TEXT
    assert part.notice.strip() in TEXT
    assert part.notice or part.holder


def test_the_list_for_programs_names_each_work_once():
    said = json.loads(FILES[SPDX])
    assert [package["name"] for package in said["packages"]] == [part.name for part in PARTS]
    assert said["spdxVersion"] == "SPDX-2.3"
    assert all(package["licenseDeclared"] for package in said["packages"])


def test_the_page_names_each_work_and_leads_to_the_texts():
    page = (DIST / "licences.html").read_text(encoding="utf-8")
    assert all(part.name.replace("'", "&#39;") in page for part in PARTS)
    assert page.count("without a notice of its own") == len([part for part in PARTS if not part.notice])
    assert len(PARTS) == len(FROM_NPM) + 1 + len((*LIBRARIES, QR_LIBRARY)) + len(LINKED)
    assert f'href="{TEXTS}"' in page
    assert f'href="{SPDX}"' in page
