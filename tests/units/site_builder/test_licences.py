"""The works of others that go to the phone, each with its licence and its notice."""

import json

import pytest

from site_builder.building.bundle import LIBRARIES
from site_builder.building.licences import FROM_NPM, SPDX, TEXTS, bundled, licence_files
from site_builder.setting_up.node import node_modules

PARTS = bundled(node_modules())
FILES = licence_files(node_modules())


def test_all_that_is_installed_and_bundled_is_listed_with_its_version():
    by_name = {part.name.lower(): part for part in PARTS}
    assert {*FROM_NPM, *LIBRARIES, "python"} <= set(by_name)
    assert all(by_name[name].version for name in (*FROM_NPM, *LIBRARIES, "python"))
    assert by_name["pyodide"].licence == "MPL-2.0"


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_the_text_of_each_licence_is_there_whole(part):
    texts = FILES[TEXTS].decode()
    assert f"\n{part.licence.removesuffix(' WITH LLVM-exception')}\n" in texts
    assert part.notice.strip() in texts


def test_the_list_for_programs_names_each_work_once():
    said = json.loads(FILES[SPDX])
    assert [package["name"] for package in said["packages"]] == [part.name for part in PARTS]
    assert said["spdxVersion"] == "SPDX-2.3"
    assert all(package["licenseDeclared"] for package in said["packages"])
