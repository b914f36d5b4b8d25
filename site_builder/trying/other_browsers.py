"""Firefox and WebKitGTK, driven with no more than a pilot does: open an address, and read what the page then shows.

Playwright brings its own builds of both; these are the ones that a machine has. Debian's packages are `firefox-esr`, and
`webkit2gtk-driver` with `xvfb` for its screen. WebKitGTK stands in for Safari, whose limits of memory and storage it does not have.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import socket
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Protocol

from websockets.sync.client import connect

PATIENCE_S = 120
_LOOKS_EVERY_S = 0.1
_SCREEN = "1280x1024x24"
_FIREFOX = ("firefox-esr", "firefox")
_MINI_BROWSERS = "/usr/lib/*/webkit2gtk-4.*/MiniBrowser"
# Nothing but the pages of a test is fetched.
_FIREFOX_SETTINGS = {
    "remote.active-protocols": 1,
    "app.update.enabled": False,
    "browser.safebrowsing.update.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,#",
    "toolkit.telemetry.enabled": False,
}


class OtherBrowser(Protocol):
    """A browser with one page open."""

    name: str

    def open(self, address: str) -> None:
        """Go to an address and return once the page is loaded."""

    def read(self, expression: str) -> Any:
        """Return what a JavaScript expression, which may be a promise, has as its value in the page."""

    def kill(self) -> None:
        """End the browser as a phone does that needs the room: it is told nothing beforehand."""


def wait_until(browser: OtherBrowser, expression: str, patience_s: float = PATIENCE_S) -> None:
    """Return once an expression is true in the page that is open.

    Raises:
        TimeoutError: it was not true for so long; what the page says is in it.
    """
    end = time.monotonic() + patience_s
    while time.monotonic() < end:
        try:
            if browser.read(expression):
                return
        except RuntimeError:
            pass  # the page was just left
        time.sleep(_LOOKS_EVERY_S)
    raise TimeoutError(f"{browser.name}: never true: {expression}\n{browser.read('document.body.innerText')[:2000]}")


def firefox_program() -> str | None:
    return next((found for found in map(shutil.which, _FIREFOX) if found), None)


def webkit_programs() -> tuple[str, str, str] | None:
    """Return the driver, the browser and the screen that WebKitGTK needs, or None where one of them is missing."""
    mini = next(iter(sorted(Path("/").glob(_MINI_BROWSERS.removeprefix("/")), reverse=True)), None)
    driver, screen = shutil.which("WebKitWebDriver"), shutil.which("Xvfb")
    return (driver, str(mini), screen) if driver and mini and screen else None


@contextmanager
def firefox(profile: Path) -> Iterator[OtherBrowser]:
    """Firefox with what it kept in the folder `profile`, which may be empty."""
    browser = _Firefox(profile)
    try:
        yield browser
    finally:
        browser.kill()


@contextmanager
def webkit(home: Path) -> Iterator[OtherBrowser]:
    """WebKitGTK, for as long as this lasts: what it keeps is gone with it, since its driver has no other session to offer."""
    browser = _WebKit(home)
    try:
        yield browser
    finally:
        browser.kill()


class _Firefox:
    name = "Firefox"

    def __init__(self, profile: Path):
        profile.mkdir(parents=True, exist_ok=True)
        settings = "".join(f"user_pref({json.dumps(key)}, {json.dumps(value)});\n" for key, value in _FIREFOX_SETTINGS.items())
        (profile / "user.js").write_text(settings, encoding="utf-8")
        port = _free_port()
        log = profile / "browser.log"
        with log.open("wb") as output:
            self._program = subprocess.Popen(
                [firefox_program(), "--headless", "--no-remote", "--profile", profile, f"--remote-debugging-port={port}"],
                stdout=output, stderr=subprocess.STDOUT, env=os.environ | {"HOME": str(profile)}, start_new_session=True,
            )
        found = _within_patience(lambda: re.search(r"listening on (ws://\S+)", log.read_text(encoding="utf-8", errors="replace")))
        self._line = connect(f"{found[1]}/session", max_size=None)
        self._asked = 0
        self._ask("session.new", capabilities={})
        self._page = self._ask("browsingContext.getTree")["contexts"][0]["context"]

    def open(self, address: str) -> None:
        self._ask("browsingContext.navigate", context=self._page, url=address, wait="complete")

    def read(self, expression: str) -> Any:
        text = f"Promise.resolve({expression}).then((value) => JSON.stringify(value ?? null))"
        done = self._ask("script.evaluate", expression=text, target={"context": self._page}, awaitPromise=True)
        if done["type"] != "success":
            raise RuntimeError(done["exceptionDetails"]["text"])
        return json.loads(done["result"]["value"])

    def kill(self) -> None:
        self._program.kill()
        self._program.wait()

    def _ask(self, method: str, **given: Any) -> dict[str, Any]:
        self._asked += 1
        self._line.send(json.dumps({"id": self._asked, "method": method, "params": given}))
        while (reply := json.loads(self._line.recv(timeout=PATIENCE_S))).get("id") != self._asked:
            pass  # news that nobody asked for
        if reply["type"] == "error":
            raise RuntimeError(f"{reply['error']}: {reply['message']}")
        return reply["result"]


class _WebKit:
    name = "WebKitGTK"

    def __init__(self, home: Path):
        driver, mini_browser, screen = webkit_programs()
        home.mkdir(parents=True, exist_ok=True)
        shown, tells = os.pipe()
        self._screen = subprocess.Popen(
            [screen, "-displayfd", str(tells), "-screen", "0", _SCREEN, "-nolisten", "tcp"],
            pass_fds=[tells], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )
        os.close(tells)
        with os.fdopen(shown) as line:
            display = f":{line.readline().strip()}"
        port = _free_port()
        of_its_own = {"DISPLAY": display, "HOME": str(home), "WEBKIT_DISABLE_COMPOSITING_MODE": "1", "WEBKIT_FORCE_SANDBOX": "0"}
        self._program = subprocess.Popen(
            [driver, f"--port={port}"], env=os.environ | of_its_own, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
        )
        self._driver = f"http://127.0.0.1:{port}"
        _within_patience(lambda: self._ask("GET", "/status"))
        options = {"binary": mini_browser, "args": ["--automation"]}
        asked = {"capabilities": {"alwaysMatch": {"webkitgtk:browserOptions": options}}}
        self._session = f"/session/{self._ask('POST', '/session', asked)['sessionId']}"
        self._ask("POST", f"{self._session}/timeouts", {"script": PATIENCE_S * 1000, "pageLoad": PATIENCE_S * 1000})

    def open(self, address: str) -> None:
        self._ask("POST", f"{self._session}/url", {"url": address})

    def read(self, expression: str) -> Any:
        script = f"""const done = arguments[0];
            Promise.resolve({expression}).then((value) => done(JSON.stringify([value ?? null])), (error) => done(JSON.stringify(String(error))));"""
        found = json.loads(self._ask("POST", f"{self._session}/execute/async", {"script": script, "args": []}))
        if isinstance(found, str):
            raise RuntimeError(found)
        return found[0]

    def kill(self) -> None:
        try:  # the driver ends the browser that it started
            self._ask("DELETE", self._session)
        except (AttributeError, OSError, RuntimeError):
            pass
        for program in (self._program, self._screen):
            program.kill()
            program.wait()

    def _ask(self, method: str, path: str, given: dict[str, Any] | None = None) -> Any:
        body = None if given is None else json.dumps(given).encode()
        request = urllib.request.Request(self._driver + path, body, {"Content-Type": "application/json"}, method=method)
        try:
            with urllib.request.urlopen(request, timeout=PATIENCE_S) as response:
                return json.load(response)["value"]
        except urllib.error.HTTPError as error:
            raise RuntimeError(json.load(error)["value"]["message"]) from error


def _free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


def _within_patience(found: Callable[[], Any]) -> Any:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            if value := found():
                return value
        except OSError:
            pass  # it is not up yet
        time.sleep(_LOOKS_EVERY_S)
    raise TimeoutError("the browser did not start")
