"""Firefox and WebKitGTK on a machine made of a few small programs: found, fetched by root on Debian, or left out with a word."""

import pytest

from site_builder.setting_up import other_browsers
from site_builder.harness.journey import engines


@pytest.fixture
def machine(monkeypatch, tmp_path):
    """A Debian with neither browser, whose administrator asks."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(other_browsers, "is_root_on_debian", lambda: True)
    monkeypatch.setattr(other_browsers, "_ROOT", tmp_path)
    program(tmp_path / "apt-get", f"echo $@ >> {tmp_path}/asked")
    return tmp_path


def program(file, script="exit 0"):
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(f"#!/bin/sh\n{script}\n")
    file.chmod(0o755)


def asked(machine):
    return (machine / "asked").read_text().splitlines() if (machine / "asked").exists() else []


def put_webkit(machine):
    program(machine / "usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser")
    program(machine / "Xvfb")


def test_apt_is_asked_for_what_is_missing(machine):
    other_browsers.fetch_other_browsers()
    get = "install -y --no-install-recommends"
    assert asked(machine) == ["update", f"{get} firefox-esr", "update", f"{get} libwebkit2gtk-4.1-0 xvfb"]


def test_what_is_there_is_taken(machine):
    program(machine / "firefox")
    put_webkit(machine)
    other_browsers.fetch_other_browsers()
    assert asked(machine) == []
    assert [engine.missing for engine in engines("chromium")] == [None, None, None]


def test_webkit_without_a_screen_is_fetched(machine):
    put_webkit(machine)
    (machine / "Xvfb").unlink()
    other_browsers.fetch_other_browsers()
    assert any("xvfb" in line for line in asked(machine))


def test_apt_is_left_alone_by_anyone_else(machine, monkeypatch):
    monkeypatch.setattr(other_browsers, "is_root_on_debian", lambda: False)
    other_browsers.fetch_other_browsers()
    assert asked(machine) == []


def test_what_apt_cannot_give_is_left_out_with_what_to_install(machine, capsys):
    program(machine / "apt-get", "echo 'E: Unable to locate package'; exit 100")
    other_browsers.fetch_other_browsers()
    assert "apt-get could not install firefox-esr:\n    E: Unable to locate package" in capsys.readouterr().out
    _, firefox, webkit = engines("chromium")
    assert firefox.missing == "Firefox is not on this machine. On Debian, as root: apt-get install firefox-esr"
    assert webkit.missing == "WebKitGTK is not on this machine. On Debian, as root: apt-get install libwebkit2gtk-4.1-0 xvfb"
