"""Where node and npm come from, and what npm is asked for, on a machine made of a few small programs."""

import pytest

from site_builder.setting_up import node
from site_builder.setting_up.failures import SetUpFailed


def program(file, script):
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(f"#!/bin/sh\n{script}\n")
    file.chmod(0o755)


def own_node(monkeypatch, tmp_path):
    """A machine whose PATH is tmp_path, and on which installing our own node writes two programs."""

    class Own(node.Environment):
        def install(self, _):
            program(self.programs / "node", "")
            program(self.programs / "npm", "")

    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(node, "OWN_NODE", Own(tmp_path / "own"))
    return node.OWN_NODE


def test_a_failing_npm_ends_in_plain_sentences_and_leaves_no_stamp(monkeypatch, tmp_path):
    program(tmp_path / "node", "echo v24.0.0")
    program(tmp_path / "npm", "echo 'npm error code E404'; echo \"npm error 404  'pyodide@314.0.7' is not in this registry.\"; exit 1")
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(node, "FETCHED", tmp_path / "fetched")
    with pytest.raises(SetUpFailed, match=r"could not install pyodide@314\.0\.7"):
        node.node_modules()
    assert not list(tmp_path.glob("fetched/**/.fetched"))


def test_npm_runs_once_for_one_lock(monkeypatch, tmp_path):
    program(tmp_path / "node", "echo v24.0.0")
    program(tmp_path / "npm", f"echo \"$@\" >> {tmp_path}/asked; /bin/mkdir -p node_modules")
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(node, "FETCHED", tmp_path / "fetched")
    assert node.node_modules() == node.node_modules() == tmp_path / "fetched" / "node_modules"
    assert (tmp_path / "asked").read_text() == "ci --ignore-scripts --no-audit --no-fund --include=dev\n"


@pytest.mark.parametrize("version", ["v16.20.2", "no version at all"])
def test_a_node_that_is_too_old_is_not_used(monkeypatch, tmp_path, version):
    program(tmp_path / "node", f"echo {version}")
    program(tmp_path / "npm", "")
    own = own_node(monkeypatch, tmp_path)
    assert node.node_program() == own.programs / "node"


def test_a_node_without_npm_is_not_used(monkeypatch, tmp_path):
    program(tmp_path / "node", "echo v24.0.0")
    own = own_node(monkeypatch, tmp_path)
    assert node.node_program() == own.programs / "node"


def test_the_node_of_the_machine_is_used(monkeypatch, tmp_path):
    program(tmp_path / "node", "echo v20.20.2")
    program(tmp_path / "npm", "")
    own_node(monkeypatch, tmp_path)
    assert node.node_program() == tmp_path / "node"
