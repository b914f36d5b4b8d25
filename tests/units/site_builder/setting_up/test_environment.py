"""Making .venv: what is done once, what is refused, and what the person at the keyboard is told."""

import ast
import os
import subprocess
import sys

import pytest

from site_builder.setting_up import environment
from site_builder.setting_up.checkout import ROOT
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.python_version import refuse_old_python
from site_builder.setting_up.running import Finished, run
from site_builder.setting_up.stamps import digest, once


def test_a_step_is_done_again_when_what_it_was_made_from_changes_and_only_then(tmp_path):
    done = []
    for version in ("1.0", "1.0", "1.1"):
        once(tmp_path / "stamp", version, lambda version=version: done.append(version))
    assert done == ["1.0", "1.1"]


def test_an_interrupted_step_is_done_again_though_the_same_lock_was_installed_before(tmp_path):
    def interrupted():
        raise KeyboardInterrupt

    done = []
    stamp = tmp_path / "stamp"
    once(stamp, "first", lambda: done.append("first"))
    with pytest.raises(KeyboardInterrupt):
        once(stamp, "second", interrupted)
    once(stamp, "first", lambda: done.append("first again"))
    assert done == ["first", "first again"]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no lock of this kind")
def test_of_two_commands_started_at_once_one_does_the_step_and_the_other_waits_for_it(tmp_path):
    step = f"""
import time
from pathlib import Path
from site_builder.setting_up.stamps import once
here = Path({str(tmp_path)!r})
def step():
    with (here / "done").open("a") as done:
        done.write("once ")
    time.sleep(0.5)
once(here / "stamp", "1.0", step)
assert (here / "stamp").is_file()
"""
    both = [subprocess.Popen([sys.executable, "-c", step], cwd=ROOT) for _ in range(2)]
    assert [command.wait() for command in both] == [0, 0]
    assert (tmp_path / "done").read_text() == "once "


def test_what_moves_from_one_file_to_the_next_changes_the_digest(tmp_path):
    one, two = tmp_path / "one", tmp_path / "two"
    one.write_text("ab"), two.write_text("c")
    before = digest(one, two)
    one.write_text("a"), two.write_text("bc")
    assert digest(one, two) != before


@pytest.mark.parametrize("version", [(3, 10, 13), (3, 6, 15)])
def test_an_old_python_is_told_what_is_needed(version):
    with pytest.raises(SystemExit, match=rf"needs Python 3\.11 or later, and this is Python {version[0]}\.{version[1]}\. Install"):
        refuse_old_python(version)


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 2), (4, 0, 0)])
def test_a_newer_python_is_let_through(version):
    refuse_old_python(version)


@pytest.mark.parametrize("name", ["__main__.py", "setting_up/python_version.py"])
def test_an_old_python_can_read_what_refuses_it(name):
    ast.parse((ROOT / "site_builder" / name).read_text(encoding="utf-8"), feature_version=(3, 7))


@pytest.fixture
def seen(monkeypatch, tmp_path):
    """The programs that would run, in place of running them; the Python that they make is an empty file."""
    commands = []

    def make(command, *_):
        commands.append(list(map(str, command[1:])))
        environment.PYTHON.touch()
        return Finished(True, "")

    monkeypatch.setattr(environment, "VENV", tmp_path)
    monkeypatch.setattr(environment, "PYTHON", tmp_path / "python")
    monkeypatch.setattr(environment, "run", make)
    monkeypatch.setattr(environment.os, "execv", lambda _, command: commands.append(command))
    return commands


def enter(seen):
    """What is done for one command, in words."""
    seen.clear()
    environment.enter("test", ["test", "-k", "a cold pack"])
    return ["made" if "venv" in one else "installed" if "pip" in one else "handed over" for one in seen]


@pytest.mark.skipif(sys.platform == "win32", reason="there the command runs as a child")
def test_an_environment_is_made_and_filled_once_and_the_same_command_goes_on_inside(seen, tmp_path):
    assert enter(seen) == ["made", "installed", "handed over"]
    assert enter(seen) == ["handed over"]
    assert seen == [[str(tmp_path / "python"), "-m", "site_builder", "test", "-k", "a cold pack"]]


def test_an_environment_whose_python_went_away_or_is_another_is_made_anew(seen, monkeypatch):
    enter(seen)
    environment.PYTHON.unlink()
    assert "made" in enter(seen)
    monkeypatch.setattr(environment, "PYTHON_HERE", "4.0")
    assert "made" in enter(seen)


def test_inside_it_nothing_is_made_and_nothing_handed_over(seen, monkeypatch, tmp_path):
    monkeypatch.setattr(environment.sys, "prefix", str(tmp_path))
    assert enter(seen) == ["installed"]


def test_pip_is_asked_for_hashes(seen):
    enter(seen)
    assert "--require-hashes" in seen[1]


# What venv of Debian's Python 3.11 says without the package python3-venv.
WITHOUT_ENSUREPIP = """\
The virtual environment was not created successfully because ensurepip is not
available.  On Debian/Ubuntu systems, you need to install the python3-venv
package using the following command.

    apt install python3.11-venv

You may need to use sudo with that command.  After installing the python3-venv
package, recreate your virtual environment.

Failing command: .venv/bin/python3
"""


def test_a_python_without_venv_is_told_which_package_to_install(seen, monkeypatch, tmp_path):
    monkeypatch.setattr(environment, "run", lambda *_: Finished(False, WITHOUT_ENSUREPIP))
    with pytest.raises(SetUpFailed, match=r"could not be made(.|\n)*the same command again:(.|\n)*apt install python3\.11-venv"):
        enter(seen)
    assert not (tmp_path / "made").exists()


def test_a_pip_that_fails_is_told_and_leaves_no_stamp(seen, monkeypatch, tmp_path):
    enter(seen)
    (tmp_path / "installed-test").unlink()
    monkeypatch.setattr(environment, "run", lambda *_: Finished(False, "ERROR: [Errno 28] No space left on device"))
    with pytest.raises(SetUpFailed, match="the disk is full"):
        environment.enter("test", [])
    assert not (tmp_path / "installed-test").exists()


def test_progress_is_printed_as_it_comes_without_colours_and_each_line_once(capsys):
    story = "for line in ('\\x1b[2mCollecting a==1\\x1b[22m (from b)', 'Collecting a==1', 'other'): print(line)\nraise SystemExit(3)"
    finished = run([sys.executable, "-c", story], "^Collecting [^ ]+")
    assert not finished.well
    assert finished.output == "Collecting a==1 (from b)\nCollecting a==1\nother"
    assert capsys.readouterr().out == "  Collecting a==1\n"


def test_a_program_that_is_not_there_counts_as_failed(tmp_path):
    finished = run([tmp_path / "nowhere"])
    assert not finished.well
    assert "nowhere: No such file" in finished.output
