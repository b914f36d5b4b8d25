"""Node from .venv, and what npm is asked for."""

import pytest

from site_builder.setting_up import node
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.running import run
from tests.units.site_builder.setting_up.small_programs import program


@pytest.fixture
def fetched(monkeypatch, tmp_path):
    """What npm is asked and where, beside a node that runs any script as a shell does."""
    program(tmp_path / "bin" / "node", 'exec /bin/sh "$@"')
    program(tmp_path / "lib/node_modules/npm/bin/npm-cli.js", "/bin/mkdir -p node_modules")
    monkeypatch.setattr(node, "_wheel", lambda: tmp_path)
    monkeypatch.setattr(node, "NPM", tmp_path)
    monkeypatch.setattr(node, "NODE_MODULES", tmp_path / "node_modules")
    return tmp_path / "lib/node_modules/npm/bin"


def test_node_is_the_one_that_the_lock_names():
    assert run([node.node_program(), "--version"]).output.startswith("v24.")


def test_without_it_the_command_that_brings_it_is_told(monkeypatch):
    monkeypatch.setattr(node, "find_spec", lambda _: None)
    with pytest.raises(SetUpFailed, match="python3 -m site_builder build installs it"):
        node.node_program()


def test_npm_runs_once_for_one_lock_and_no_script_of_a_package_runs(fetched, tmp_path):
    assert node.node_modules() == node.node_modules() == tmp_path / "node_modules"
    assert (fetched / "asked").read_text() == "npm-cli.js ci --ignore-scripts --no-audit --no-fund --include=dev\n"


def test_a_failing_npm_ends_in_plain_sentences_and_leaves_no_stamp(fetched, tmp_path):
    program(
        fetched / "npm-cli.js", "echo 'npm error code E404'; echo \"npm error 404  'pyodide@314.0.7' is not in this registry.\"; exit 1"
    )
    with pytest.raises(SetUpFailed, match=r"no such version(.|\n)*'pyodide@314\.0\.7' is not in this registry"):
        node.node_modules()
    assert not list(tmp_path.glob("node_modules/.fetched"))
