"""Which browser is found, on a machine made of a few small programs."""

import pytest

from site_builder.setting_up import browser
from site_builder.setting_up.failures import SetUpFailed

STARTS = "echo Chromium 150"


@pytest.fixture
def machine(monkeypatch, tmp_path):
    """A machine with no browser, on which Playwright starts, cannot download, and nobody is root on Debian."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(browser, "is_root_on_debian", lambda: False)
    monkeypatch.setattr(browser.sys, "executable", str(tmp_path / "python"))
    python(tmp_path, download="exit 1")
    return tmp_path


def program(file, script):
    file.write_text(f"#!/bin/sh\necho {file.name} $@ >> {file.parent}/asked\n{script}\n")
    file.chmod(0o755)


def python(machine, download, version="exit 0"):
    """The Python that stands in for Playwright: -c asks for its browser's path, -m has it download."""
    cases = f"*--version*) {version};; *install*) {download};; -c*) echo {machine}/downloaded;;"
    program(machine / "python", f'case "$*" in {cases} esac')


def writes(file, script=STARTS):
    return f"printf '#!/bin/sh\\n{script}\\n' > {file}; /bin/chmod +x {file}"


def asked(machine):
    return (machine / "asked").read_text()


@pytest.mark.parametrize("name", browser.NAMES)
def test_a_browser_on_the_path_is_taken_and_nothing_is_fetched(machine, name):
    program(machine / name, STARTS)
    assert browser.find_browser() == machine / name
    assert "install" not in asked(machine)


def test_chromium_comes_before_another_build_of_it(machine):
    for name in browser.NAMES:
        program(machine / name, STARTS)
    assert browser.find_browser() == machine / "chromium"


def test_a_stub_that_only_tells_what_to_install_is_passed_over(machine):
    program(machine / "chromium-browser", "echo install the other package; exit 1")
    program(machine / "google-chrome", STARTS)
    assert browser.find_browser() == machine / "google-chrome"


def test_an_earlier_download_of_playwright_is_used_again(machine):
    program(machine / "downloaded", STARTS)
    assert browser.find_browser() == machine / "downloaded"
    assert "playwright install" not in asked(machine)


def test_playwright_downloads_where_the_path_has_none(machine):
    python(machine, download=writes(machine / "downloaded"))
    assert browser.find_browser() == machine / "downloaded"


def test_playwright_comes_before_apt(machine, monkeypatch):
    monkeypatch.setattr(browser, "is_root_on_debian", lambda: True)
    program(machine / "apt-get", writes(machine / "chromium"))
    python(machine, download=writes(machine / "downloaded"))
    assert browser.find_browser() == machine / "downloaded"
    assert "apt-get" not in asked(machine)


def test_apt_installs_one_for_root_on_debian(machine, monkeypatch):
    monkeypatch.setattr(browser, "is_root_on_debian", lambda: True)
    program(machine / "apt-get", writes(machine / "chromium"))
    assert browser.find_browser() == machine / "chromium"
    assert "apt-get update\napt-get install -y --no-install-recommends chromium\n" in asked(machine)


def test_a_download_that_lacks_a_library_is_not_taken(machine, monkeypatch):
    monkeypatch.setattr(browser, "is_root_on_debian", lambda: True)
    python(machine, download=writes(machine / "downloaded", "exit 127"))
    program(machine / "apt-get", writes(machine / "chromium"))
    assert browser.find_browser() == machine / "chromium"


def test_apt_is_left_alone_by_anyone_else(machine):
    program(machine / "apt-get", writes(machine / "chromium"))
    with pytest.raises(SetUpFailed):
        browser.find_browser()
    assert "apt-get" not in asked(machine)


def test_without_any_browser_the_remedy_is_told(machine, monkeypatch, capsys):
    monkeypatch.setattr(browser, "is_root_on_debian", lambda: True)
    program(machine / "apt-get", "echo 'E: Unable to locate package chromium'; exit 100")
    with pytest.raises(SetUpFailed, match="install Chromium so that the command chromium starts it"):
        browser.find_browser()
    assert "apt-get could not install chromium:\n    E: Unable to locate package chromium" in capsys.readouterr().out


LACKS_LIBRARY = "echo node: error while loading shared libraries: libatomic.so.1: cannot open; exit 127"


def test_a_playwright_that_lacks_a_library_says_which(machine):
    python(machine, download="exit 1", version=LACKS_LIBRARY)
    with pytest.raises(SetUpFailed, match=r"libatomic\.so\.1(.|\n)*apt install libatomic1"):
        browser.find_browser()


def test_root_on_debian_gets_the_library_that_playwright_lacks(machine, monkeypatch):
    monkeypatch.setattr(browser, "is_root_on_debian", lambda: True)
    python(machine, download="exit 1", version=LACKS_LIBRARY)
    program(machine / "apt-get", "")
    program(machine / "chromium", STARTS)
    assert browser.find_browser() == machine / "chromium"
    assert "apt-get install -y --no-install-recommends libatomic1\n" in asked(machine)


@pytest.mark.parametrize(
    ("line", "shown"),
    [("|■■■■■■■■                | 10% of 160.1 MiB", "  10% of 160.1 MiB"), ("Downloading Chrome for Testing 159", None)],
)
def test_a_download_shows_how_far_it_is(line, shown):
    assert browser.playwright_progress(line) == shown
