"""Pyodide without the names that nobody uses: what stays, what goes, and a script that is not as it was."""

import re
from pathlib import Path

import pytest

from site_builder.building.snapshot import IN_NODE
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.node import node_program, run_node
from site_builder.setting_up.running import run

NAMES = ["used", "unused", "memory_of_ours", *(f"n{number}" for number in range(1000))]


def a_webassembly(names: list[str]) -> bytes:
    """Return one whose only function, () -> (), goes out under each of these names."""
    exports = b"".join(bytes([len(name)]) + name.encode() + bytes([0, 0]) for name in names)
    return (
        b"\0asm\1\0\0\0"
        + section(1, b"\1\x60\0\0")
        + section(3, b"\1\0")
        + section(7, number(len(names)) + exports)
        + section(10, b"\1\2\0\x0b")
    )


def section(kind: int, content: bytes) -> bytes:
    return bytes([kind]) + number(len(content)) + content


def number(value: int) -> bytes:
    return bytes([value]) if value < 128 else bytes([value & 127 | 128]) + number(value >> 7)


def a_script(takes: str | None = None) -> str:
    variables = ",".join(f"_{name}" for name in NAMES)
    takes = takes or ";".join(f'_{name}=Module["_{name}"]=wasmExports["{name}"]' for name in NAMES)
    return f"var {variables};function assignWasmExports(wasmExports){{{takes}}}_used();"


@pytest.fixture
def trimmed(tmp_path):
    """Return a function that trims a Pyodide of the given script, and says what is left: its script and its exports."""

    def trim(script: str) -> tuple[str, set[str]]:
        (tmp_path / "pyodide.asm.wasm").write_bytes(a_webassembly(NAMES))
        (tmp_path / "pyodide.asm.mjs").write_text(script, encoding="utf-8")
        (tmp_path / "pyodide.mjs").write_text("", encoding="utf-8")
        (tmp_path / "ours.mjs").write_text("export const place = ({ memory_of_ours }) => memory_of_ours;", encoding="utf-8")
        (tmp_path / "to").mkdir()
        run_node(IN_NODE / "trim.mjs", tmp_path, tmp_path / "to", tmp_path / "ours.mjs", meant="Nothing was trimmed")
        return (tmp_path / "to" / "pyodide.asm.mjs").read_text(encoding="utf-8"), exports(tmp_path / "to" / "pyodide.asm.wasm")

    return trim


def exports(wasm: Path) -> set[str]:
    module = "new WebAssembly.Module(require('fs').readFileSync(process.argv[1]))"
    source = f"console.log(WebAssembly.Module.exports({module}).map(({{ name }}) => name).join(' '))"
    return set(run([node_program(), "-e", source, wasm]).output.split())


def test_what_a_script_uses_is_left_and_nothing_else(trimmed):
    script, names = trimmed(a_script())
    assert names == {"used", "memory_of_ours"}
    assert set(re.findall(r'wasmExports\["(\w+)"\]', script)) == names
    assert script.startswith("var _used,_memory_of_ours;") and script.endswith("_used();")


def test_a_take_into_more_than_one_variable_stays(trimmed):
    takes = 'table=Module["table"]=ours=wasmExports["unused"];_n1=Module["_n1"]=wasmExports["n1"]'
    script, names = trimmed(a_script(takes))
    assert '{table=Module["table"]=ours=wasmExports["unused"]}' in script
    assert "unused" in names


def test_a_script_that_takes_its_names_in_another_way_is_sent_back(trimmed):
    with pytest.raises(SetUpFailed, match=r"look how it takes its names now, and correct trim\.mjs"):
        trimmed(a_script().replace("assignWasmExports", "takeThem"))
