"""The works of others that go to the phone: what is said of them is so, and their page leads to their texts."""

import pytest

from site_builder.building.licences import COMPILED_IN, SPDX, TEXTS, bundled
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.node import node_modules


@pytest.mark.parametrize("part", [part for part in COMPILED_IN if part.mark], ids=lambda part: part.name)
def test_what_is_said_to_be_compiled_in_is_in_the_webassembly(part):
    [compiled] = DIST.glob("engine-*/pyodide.asm.wasm")
    assert part.mark in compiled.read_bytes()


def test_the_page_names_each_work_and_leads_to_the_texts():
    page = (DIST / "licences.html").read_text(encoding="utf-8")
    assert all(part.name.replace("'", "&#39;") in page for part in bundled(node_modules()))
    assert f'href="{TEXTS}"' in page and f'href="{SPDX}"' in page
