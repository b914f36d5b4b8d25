"""From `python3 -m site_builder <command>` to the command's own module, inside .venv."""

import ast
import os
import subprocess
import sys

import pytest

from site_builder import __main__ as commands
from site_builder.commands import test as testing
from site_builder.setting_up import environment
from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.failures import SetUpFailed

BEFORE_THE_VENV = [ROOT / "site_builder" / "__main__.py", *(ROOT / "site_builder" / "setting_up").rglob("*.py")]


@pytest.mark.parametrize("file", BEFORE_THE_VENV, ids=lambda file: file.name)
def test_what_runs_before_the_venv_imports_only_the_standard_library(file):
    tree = ast.parse(file.read_text(encoding="utf-8"))
    modules = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    modules |= {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    others = {module for module in modules if module.split(".")[0] not in sys.stdlib_module_names}
    assert {module for module in others if not module.startswith("site_builder.setting_up")} == set()


def test_a_bare_python_lists_the_commands():
    asked = subprocess.run([sys.executable, "-S", "-m", "site_builder"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert asked.returncode == 2
    assert set(commands.COMMANDS) <= set(asked.stdout.split())


@pytest.mark.parametrize(("arguments", "code"), [([], 2), (["--help"], 0), (["bake"], 2)])
def test_a_word_that_is_no_command_gets_the_list(arguments, code, capsys):
    assert commands.main(arguments) == code
    assert "python3 -m site_builder <command>" in capsys.readouterr().out


def test_a_failed_set_up_is_told_without_a_traceback(monkeypatch, capsys):
    def fail(*_):
        raise SetUpFailed("The disk is full.")

    monkeypatch.setattr(environment, "enter", fail)
    assert commands.main(["build"]) == 1
    assert capsys.readouterr().err == "The disk is full.\n"


def test_an_interrupted_command_says_that_it_goes_on(monkeypatch, capsys):
    def interrupt(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(environment, "enter", interrupt)
    assert commands.main(["build"]) == 130
    assert "goes on from here" in capsys.readouterr().err


@pytest.mark.skipif(os.name == "nt", reason="Windows has no lock of this kind")
def test_of_two_builds_started_at_once_the_second_waits_for_the_first(tmp_path):
    # Each empties dist/ before it fills it.
    build = f"""
import time
from pathlib import Path
from site_builder.commands import build
def write(*_):
    for word in ("begins", "ends"):
        with (Path({str(tmp_path)!r}) / "order").open("a") as order:
            order.write(word + " ")
        time.sleep(1)
build.site.build = write
assert build.run([]) == 0
"""
    both = [subprocess.Popen([sys.executable, "-c", build], cwd=ROOT) for _ in range(2)]
    assert [command.wait() for command in both] == [0, 0]
    assert (tmp_path / "order").read_text() == "begins ends begins ends "


def test_pytest_gets_the_arguments_and_the_browser_and_gives_the_code(monkeypatch):
    order = []
    monkeypatch.setattr(testing, "find_browser", lambda: ROOT / "chromium")
    monkeypatch.setattr(testing, "fetch_other_browsers", lambda: order.append("other browsers"))
    monkeypatch.setattr(testing.build, "run", lambda _: order.append("build"))

    def call(command, cwd, env):
        order.append((command[1:], cwd, env["FIELDSLATE_BROWSER"]))
        return 5

    monkeypatch.setattr(testing.subprocess, "call", call)
    assert testing.run(["-k", "cold"]) == 5
    assert order == [
        "other browsers",
        "build",
        (
            ["-m", "pytest", "-n", str((os.cpu_count() or 1) + 1), "--dist", "loadfile", "--no-loadscope-reorder", "-k", "cold"],
            ROOT,
            str(ROOT / "chromium"),
        ),
    ]


def test_the_tests_keep_what_python_compiled_where_a_machine_says_not_to(monkeypatch):
    told = []
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setattr(testing, "node_modules", lambda: None)
    monkeypatch.setattr(testing.subprocess, "call", lambda _, env, **__: told.append(env["PYTHONDONTWRITEBYTECODE"]) or 0)
    assert testing.run(["--quick"]) == 0
    assert told == [""]  # Python takes an empty one for none


def test_the_quick_tests_have_what_npm_fetches_before_several_of_them_ask_for_it(monkeypatch):
    order = []
    monkeypatch.setattr(testing, "node_modules", lambda: order.append("npm"))
    monkeypatch.setattr(testing.subprocess, "call", lambda command, **_: order.append(command[-4:]) or 0)
    assert testing.run(["--quick", "-x"]) == 0
    assert order == ["npm", [*testing.QUICK_TESTS, "-x"]]
