"""Chromium, Firefox and WebKitGTK, driven with no more than a pilot does: open an address, tap, and read what the page then shows.

Each keeps what it has in a folder, so it can be killed and opened again; Playwright cannot do that with the ones that a machine has.
WebKitGTK stands in for Safari, whose limits of memory and storage it does not have. Its driver keeps nothing, so it is asked as its
inspector asks.
"""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any, Protocol

from websockets.sync.client import connect

from site_builder.setting_up.other_browsers import firefox_program, webkit_programs
from site_builder.trying.phone import FLAGS, SIZE

PATIENCE_S = 120
_LOOKS_EVERY_S = 0.05
_SCREEN = "1280x1024x24"
# Nothing but the pages of a test is fetched, and what a killed browser had open is not opened again by itself.
_FIREFOX_SETTINGS = {
    "remote.active-protocols": 1,
    "app.update.enabled": False,
    "browser.safebrowsing.update.enabled": False,
    "browser.sessionstore.resume_from_crash": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,#",
    "toolkit.telemetry.enabled": False,
}
_WITHOUT_PROXY = urllib.request.build_opener(urllib.request.ProxyHandler({}))


class Browser(Protocol):
    """A browser with one page open."""

    name: str

    def open(self, address: str) -> None:
        """Go to an address and return once the page is loaded."""

    def read(self, expression: str) -> Any:
        """Return what a JavaScript expression, which may be a promise, has as its value in the page."""

    def kill(self) -> None:
        """End the browser as a phone does that needs the room: it is told nothing beforehand."""


def wait_until(browser: Browser, expression: str) -> Any:
    """Return what an expression is, once it is true in the page that is open.

    Raises:
        TimeoutError: it was not true for as long as anybody would wait; what the page says is in it.
    """
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            if value := browser.read(expression):
                return value
        except RuntimeError:
            pass  # the page was just left
        time.sleep(_LOOKS_EVERY_S)
    says = browser.read("`${location}: ${document.body.innerText}`")
    raise TimeoutError(f"never true: {expression}\n{says[:2000]}")


@contextmanager
def chromium(program: str | Path, profile: Path) -> Iterator[Browser]:
    with _ended(_Chromium(program, profile)) as browser:
        yield browser


@contextmanager
def firefox(profile: Path) -> Iterator[Browser]:
    with _ended(_Firefox(profile)) as browser:
        yield browser


@contextmanager
def webkit(home: Path) -> Iterator[Browser]:
    with _ended(_WebKit(home)) as browser:
        yield browser


@contextmanager
def _ended(browser: _Program) -> Iterator[Browser]:
    try:
        browser.start()
        yield browser
    finally:
        browser.kill()


class _Program:
    """What is alike: a program of ours with a folder of its own, and a line on which it is asked in JSON."""

    def __init__(self, folder: Path):
        self._folder = folder
        self._folder.mkdir(parents=True, exist_ok=True)
        self._asked = 0
        self._to_end = ExitStack()

    def kill(self) -> None:
        self._to_end.close()

    def _run(self, command: list[str | Path], **environment: str) -> Path:
        """Start the program and return the file that gets what it prints."""
        printed = self._folder / "printed.log"
        # A setting of whoever runs this would lead out of the folder.
        own = {name: value for name, value in os.environ.items() if not name.startswith("XDG_")}
        with printed.open("wb") as output:
            program = subprocess.Popen(
                command, stdout=output, stderr=subprocess.STDOUT, env=own | {"HOME": str(self._folder)} | environment, start_new_session=True
            )
        self._to_end.callback(_kill_all_of, program)
        return printed

    def _connect(self, address: str) -> None:
        self._line = self._to_end.enter_context(connect(address, max_size=None, proxy=None))

    def _ask(self, method: str, **given: Any) -> dict[str, Any]:
        self._asked += 1
        asked = self._asked
        self._send({"id": asked, "method": method, "params": given})
        while (reply := self._receive()).get("id") != asked:
            pass  # news that nobody asked for
        if "error" in reply:
            raise RuntimeError(f"{method}: {reply['error']} {reply.get('message', '')}")
        return reply["result"]

    def _send(self, message: dict[str, Any]) -> None:
        self._line.send(json.dumps(message))

    def _receive(self) -> dict[str, Any]:
        return json.loads(self._line.recv(timeout=PATIENCE_S))

    def open(self, address: str) -> None:
        self.read("window.isLeft = true")  # Firefox itself says that it has arrived where a page just rewrites its own address
        self._go(address)
        wait_until(self, "!window.isLeft && document.readyState === 'complete'")

    def _go(self, address: str) -> None:
        self._ask("Page.navigate", url=address)


class _Chromium(_Program):
    name = "Chromium"

    def __init__(self, program: str | Path, profile: Path):
        super().__init__(profile)
        self._executable = program

    def start(self) -> None:
        size = f"--window-size={SIZE['width']},{SIZE['height']}"
        printed = self._run(
            [self._executable, *FLAGS, "--headless=new", size, f"--user-data-dir={self._folder}", "--remote-debugging-port=0", "about:blank"]
        )
        port = _within_patience(lambda: re.search(r"listening on ws://127\.0\.0\.1:(\d+)/", _text(printed)))[1]
        pages = _within_patience(lambda: [one for one in json.loads(_got(f"http://127.0.0.1:{port}/json/list")) if one["type"] == "page"])
        self._connect(pages[0]["webSocketDebuggerUrl"])

    def read(self, expression: str) -> Any:
        found = self._ask("Runtime.evaluate", expression=_as_text(expression), awaitPromise=True, returnByValue=True)
        if "exceptionDetails" in found:
            raise RuntimeError(found["exceptionDetails"]["text"])
        return json.loads(found["result"]["value"])


class _Firefox(_Program):
    name = "Firefox"

    def start(self) -> None:
        settings = "".join(f"user_pref({json.dumps(key)}, {json.dumps(value)});\n" for key, value in _FIREFOX_SETTINGS.items())
        (self._folder / "user.js").write_text(settings, encoding="utf-8")
        port = _free_port()
        printed = self._run(
            [firefox_program(), "--headless", "--no-remote", "--profile", self._folder, f"--remote-debugging-port={port}"]
        )
        found = _within_patience(lambda: re.search(r"listening on (ws://\S+)", _text(printed)))
        self._connect(f"{found[1]}/session")
        self._ask("session.new", capabilities={})
        self._page = self._ask("browsingContext.getTree")["contexts"][0]["context"]

    def _go(self, address: str) -> None:
        self._ask("browsingContext.navigate", context=self._page, url=address, wait="none")

    def read(self, expression: str) -> Any:
        done = self._ask("script.evaluate", expression=_as_text(expression), target={"context": self._page}, awaitPromise=True)
        if done["type"] != "success":
            raise RuntimeError(done["exceptionDetails"]["text"])
        return json.loads(done["result"]["value"])


class _WebKit(_Program):
    name = "WebKitGTK"

    def start(self) -> None:
        mini_browser, screen = webkit_programs()
        inspector = f"127.0.0.1:{_free_port()}"
        self._run(
            [mini_browser, "about:blank"],
            DISPLAY=self._screen(screen),
            GDK_BACKEND="x11",
            WEBKIT_DISABLE_COMPOSITING_MODE="1",
            WEBKIT_INSPECTOR_HTTP_SERVER=inspector,
        )
        line = _within_patience(lambda: re.search(r"/socket/\d+/\d+/WebPage", _got(f"http://{inspector}/")))
        self._target = None
        self._connect(f"ws://{inspector}{line[0]}")
        while not self._target:
            self._receive()

    def read(self, expression: str) -> Any:
        promise = self._ask("Runtime.evaluate", expression=_as_text(expression))
        if promise.get("wasThrown"):
            raise RuntimeError(promise["result"].get("description"))
        found = self._ask("Runtime.awaitPromise", promiseObjectId=promise["result"]["objectId"], returnByValue=True)
        if found.get("wasThrown"):
            raise RuntimeError(found["result"].get("description"))
        return json.loads(found["result"]["value"])

    def _screen(self, screen: str) -> str:
        shown, tells = os.pipe()
        program = subprocess.Popen(
            [screen, "-displayfd", str(tells), "-screen", "0", _SCREEN, "-nolisten", "tcp"],
            pass_fds=[tells], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
        )
        self._to_end.callback(_kill_all_of, program)
        os.close(tells)
        with os.fdopen(shown) as line:
            return f":{line.readline().strip()}"

    # A page may go on in another process. So each message says which one it is for, and lies in a message to the browser.

    def _send(self, message: dict[str, Any]) -> None:
        self._asked += 1
        to_target = {"targetId": self._target, "message": json.dumps(message)}
        super()._send({"id": self._asked, "method": "Target.sendMessageToTarget", "params": to_target})

    def _receive(self) -> dict[str, Any]:
        news = super()._receive()
        told = news.get("params", {})
        match news.get("method"):
            case "Target.targetCreated" if not told["targetInfo"].get("isProvisional"):
                self._target = told["targetInfo"]["targetId"]
            case "Target.didCommitProvisionalTarget":
                self._target = told["newTargetId"]
                raise RuntimeError("The page has gone to another process, and what it was asked is lost.")
            case "Target.dispatchMessageFromTarget":
                return json.loads(told["message"])
        if "error" in news:
            raise RuntimeError(f"WebKitGTK: {news['error']}")
        return {}


def _as_text(expression: str) -> str:
    return f"Promise.resolve({expression}).then((value) => JSON.stringify(value ?? null))"


def _kill_all_of(program: subprocess.Popen[bytes]) -> None:
    """End a program that was started here in a group of its own, with all that it has started in it."""
    if program.poll() is None:
        os.killpg(program.pid, signal.SIGKILL)
    program.wait()


def _text(file: Path) -> str:
    return file.read_text(encoding="utf-8", errors="replace")


def _got(address: str) -> str:
    with _WITHOUT_PROXY.open(address, timeout=PATIENCE_S) as response:
        return response.read().decode()


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
