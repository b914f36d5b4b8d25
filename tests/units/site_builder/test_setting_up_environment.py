"""Making .venv: what is done once, what is refused, and what the person at the keyboard is told."""

import ast

import pytest

from site_builder.setting_up import environment
from site_builder.setting_up.checkout import LOCKS, ROOT
from site_builder.setting_up.environment import Environment, pip_progress, refuse_without_venv
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.python_version import refuse_old_python
from site_builder.setting_up.running import Finished
from site_builder.setting_up.stamps import digest, once


def test_a_finished_step_is_not_done_again(tmp_path):
    done = []
    for _ in range(2):
        once(tmp_path / "stamp", "a lock", lambda: done.append("step"))
    assert done == ["step"]


def test_a_changed_lock_is_installed_again(tmp_path):
    lock = tmp_path / "run.txt"
    done = []
    for version in ("1.0", "1.0", "1.1"):
        lock.write_text(f"jinja2=={version}")
        once(tmp_path / "stamp", digest(lock), lambda: done.append(lock.read_text()))
    assert done == ["jinja2==1.0", "jinja2==1.1"]


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


def test_what_moves_from_one_file_to_the_next_changes_the_digest(tmp_path):
    one, two = tmp_path / "one", tmp_path / "two"
    one.write_text("ab"), two.write_text("c")
    before = digest(one, two)
    one.write_text("a"), two.write_text("bc")
    assert digest(one, two) != before


@pytest.mark.parametrize("version", [(3, 10, 13), (3, 6, 15), (2, 7, 18)])
def test_an_old_python_is_told_what_is_needed(version):
    with pytest.raises(SystemExit, match=rf"needs Python 3\.11 or later, and this is Python {version[0]}\.{version[1]}\. Install"):
        refuse_old_python(version)


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 2), (4, 0, 0)])
def test_a_newer_python_is_let_through(version):
    refuse_old_python(version)


@pytest.mark.parametrize("name", ["__main__.py", "setting_up/python_version.py"])
def test_an_old_python_can_read_what_refuses_it(name):
    ast.parse((ROOT / "site_builder" / name).read_text(encoding="utf-8"), feature_version=(3, 7))


def test_a_python_without_venv_is_told_which_package_to_install(monkeypatch):
    monkeypatch.setattr(environment.importlib.util, "find_spec", lambda name: None if name == "ensurepip" else name)
    monkeypatch.setattr(environment, "python_here", lambda: "3.12")
    with pytest.raises(SetUpFailed, match=r"apt install python3\.12-venv"):
        refuse_without_venv()


@pytest.fixture
def programs_run(monkeypatch, tmp_path):
    """The programs that an environment would run, recorded instead; the Python that they make is an empty file."""
    commands = []

    def run(command, **_):
        commands.append([str(word) for word in command[1:4]])
        made = Environment(tmp_path / "own").python
        made.parent.mkdir(parents=True, exist_ok=True)
        made.touch()
        return Finished(0, "")

    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "run", run)
    return commands


MADE, INSTALLED = ["-m", "venv", "--clear"], ["-m", "pip", "install"]


def test_an_environment_is_made_and_filled_once(programs_run, tmp_path):
    for _ in range(2):
        Environment(tmp_path / "own").install(LOCKS / "run.txt")
    assert programs_run == [MADE, INSTALLED]


def test_an_environment_whose_python_went_away_is_made_anew(programs_run, tmp_path):
    own = Environment(tmp_path / "own")
    own.install(LOCKS / "run.txt")
    own.python.unlink()
    own.install(LOCKS / "run.txt")
    assert programs_run.count(MADE) == 2


def test_an_environment_of_another_python_is_made_anew(programs_run, tmp_path, monkeypatch):
    own = Environment(tmp_path / "own")
    own.install(LOCKS / "run.txt")
    monkeypatch.setattr(environment, "python_here", lambda: "4.0")
    own.install(LOCKS / "run.txt")
    assert programs_run.count(MADE) == 2


def test_pip_is_asked_for_hashes(monkeypatch, tmp_path):
    asked = []
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "run", lambda command, **_: asked.append(command) or Finished(0, ""))
    Environment(tmp_path / "own")._install(LOCKS / "run.txt")
    assert "--require-hashes" in asked[0]


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("Collecting jinja2==3.1.6 (from -r run.txt (line 7))", "  jinja2 3.1.6"),
        ("Processing ./wheels/jinja2-3.1.6-py3-none-any.whl (from -r run.txt (line 7))", "  jinja2 3.1.6"),
        ("  Downloading jinja2-3.1.6-py3-none-any.whl (134 kB)", None),
    ],
)
def test_progress_names_each_package(line, shown):
    assert pip_progress(line) == shown
