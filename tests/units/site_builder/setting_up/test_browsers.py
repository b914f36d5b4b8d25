"""Which browsers are found or fetched, on a machine made of a few small programs."""

import pytest

from site_builder.harness.journey import engines
from site_builder.setting_up import browsers
from site_builder.setting_up.failures import SetUpFailed
from tests.units.site_builder.setting_up.small_programs import asked, program

STARTS = "echo Chromium 150"
INSTALL = "apt-get install -y --no-install-recommends"


@pytest.fixture
def machine(monkeypatch, tmp_path):
    """A Debian with no browser, whose administrator asks, and which has no Chromium built for no screen; Playwright cannot download."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("PLAYWRIGHT_NODEJS_PATH", "to be put back")
    monkeypatch.setattr(browsers, "is_root_on_debian", lambda: True)
    monkeypatch.setattr(browsers, "SYSTEM", tmp_path)
    monkeypatch.setattr(browsers.sys, "executable", str(tmp_path / "python"))
    playwright(tmp_path, download="exit 1")
    apt_gives(tmp_path, "chromium")
    return tmp_path


def apt_gives(machine, name):
    """The apt-get that has one browser and no other."""
    program(machine / "apt-get", f'case "$*" in *" {name}") {writes(machine / name)};; *install*) exit 100;; esac')


@pytest.fixture
def anybodys_machine(machine, monkeypatch):
    """The same, where it is not its administrator who asks."""
    monkeypatch.setattr(browsers, "is_root_on_debian", lambda: False)
    return machine


def playwright(machine, download):
    """The Python that stands in for Playwright: -c asks for its browser's path, -m has it download."""
    program(machine / "python", f'case "$*" in *install*) {download};; -c*) echo {machine}/downloaded;; esac')


def writes(file, script=STARTS):
    return f"printf '#!/bin/sh\\n{script}\\n' > {file}; /bin/chmod +x {file}"


@pytest.mark.parametrize("name", browsers.CHROMIUM_NAMES)
def test_a_browser_on_the_path_is_taken_and_nothing_is_fetched(anybodys_machine, name):
    program(anybodys_machine / name, STARTS)
    assert browsers.find_browser() == anybodys_machine / name
    assert "install" not in asked(anybodys_machine)


def test_apt_gives_the_quicker_one_beside_another_and_once(machine):
    program(machine / "chromium", STARTS)
    apt_gives(machine, browsers.SHELL)
    for _ in range(2):
        assert browsers.find_browser() == machine / browsers.SHELL
    assert asked(machine).count(f"{INSTALL} {browsers.SHELL}\n") == 1


def test_where_apt_has_no_quicker_one_the_machines_own_is_taken(machine):
    program(machine / "chromium", STARTS)
    assert browsers.find_browser() == machine / "chromium"


def test_a_stub_that_only_tells_what_to_install_is_passed_over(machine):
    program(machine / "chromium", "echo install the other package; exit 1")
    program(machine / "google-chrome", STARTS)
    assert browsers.find_browser() == machine / "google-chrome"


def test_an_earlier_download_of_playwright_is_used_again(machine):
    program(machine / "downloaded", STARTS)
    assert browsers.find_browser() == machine / "downloaded"
    assert "playwright install" not in asked(machine)


def test_playwright_downloads_where_apt_is_not_asked(anybodys_machine, capsys):
    playwright(anybodys_machine, download=f"echo '|■■ | 10% of 160.1 MiB'; {writes(anybodys_machine / 'downloaded')}")
    assert browsers.find_browser() == anybodys_machine / "downloaded"
    assert "apt-get" not in asked(anybodys_machine)
    assert "  10% of 160.1 MiB\n" in capsys.readouterr().out


def test_apt_installs_one_where_a_download_fails_or_lacks_a_library(machine):
    playwright(machine, download=writes(machine / "downloaded", "exit 127"))
    assert browsers.find_browser() == machine / "chromium"
    assert f"apt-get update\n{INSTALL} chromium\n" in asked(machine)


def test_apt_is_left_alone_by_anyone_else(anybodys_machine):
    browsers.fetch_other_browsers()
    with pytest.raises(SetUpFailed, match="install Chromium so that the command chromium starts it"):
        browsers.find_browser()
    assert "apt-get" not in asked(anybodys_machine)


def test_what_apt_cannot_give_is_told(machine, capsys):
    program(machine / "apt-get", "echo 'E: Unable to locate package'; exit 100")
    browsers.fetch_other_browsers()
    with pytest.raises(SetUpFailed):
        browsers.find_browser()
    out = capsys.readouterr().out
    for name in ("chromium", "firefox-esr", "libwebkit2gtk-4.1-0 and xvfb"):
        assert f"apt-get could not install {name}:\n    E: Unable to locate package" in out
    _, firefox, webkit = engines("chromium")
    assert firefox.missing == "Firefox is not on this machine. On Debian, as root: apt-get install firefox-esr"
    assert webkit.missing == "WebKitGTK is not on this machine. On Debian, as root: apt-get install libwebkit2gtk-4.1-0 xvfb"


@pytest.mark.parametrize(
    ("there", "installed"),
    [
        ([], ["firefox-esr", "libwebkit2gtk-4.1-0 xvfb"]),
        (["firefox", "usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser"], ["libwebkit2gtk-4.1-0 xvfb"]),
        (["firefox", "usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser", "Xvfb"], []),
    ],
)
def test_apt_is_asked_for_the_other_browsers_that_are_missing(machine, there, installed):
    for name in there:
        program(machine / name)
    browsers.fetch_other_browsers()
    assert [line for line in asked(machine).splitlines() if "install" in line] == [f"{INSTALL} {one}" for one in installed]
    assert [engine.missing is None for engine in engines("chromium")] == [True, "firefox" in there, "Xvfb" in there]
