"""Chromium, Firefox and WebKitGTK, driven with no more than a pilot does: open an address, tap, and read what the page then shows.

Each keeps what it has in a folder, so it can be killed and opened again; Playwright cannot do that with the ones that a machine has.
WebKitGTK stands in for Safari, whose limits of memory and storage it does not have. Its driver keeps nothing, so it is asked as its
inspector asks.
"""

from __future__ import annotations

import json
import os
import re
import socket
import subprocess
import urllib.request
from pathlib import Path
from typing import Any

from site_builder.harness.browser_program import PATIENCE_S, Browser, kill_all_of, within_patience
from site_builder.harness.phone import FLAGS, SIZE

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


class Chromium(Browser):
    def __init__(self, program: str | Path, profile: Path):
        super().__init__(profile)
        self._executable = program

    def start(self) -> None:
        size = f"--window-size={SIZE['width']},{SIZE['height']}"
        printed = self._run(
            [
                self._executable,
                *FLAGS,
                "--headless=new",
                size,
                f"--user-data-dir={self._folder}",
                "--remote-debugging-port=0",
                "about:blank",
            ]
        )
        port = within_patience(lambda: re.search(r"listening on ws://127\.0\.0\.1:(\d+)/", _text(printed)))[1]
        pages = within_patience(lambda: [one for one in json.loads(_got(f"http://127.0.0.1:{port}/json/list")) if one["type"] == "page"])
        self._connect(pages[0]["webSocketDebuggerUrl"])

    def read(self, expression: str) -> Any:
        found = self._ask("Runtime.evaluate", expression=_as_text(expression), awaitPromise=True, returnByValue=True)
        if "exceptionDetails" in found:
            raise RuntimeError(found["exceptionDetails"]["text"])
        return json.loads(found["result"]["value"])


class Firefox(Browser):
    def __init__(self, program: str, profile: Path):
        super().__init__(profile)
        self._executable = program

    def start(self) -> None:
        settings = "".join(f"user_pref({json.dumps(key)}, {json.dumps(value)});\n" for key, value in _FIREFOX_SETTINGS.items())
        (self._folder / "user.js").write_text(settings, encoding="utf-8")
        port = _free_port()
        printed = self._run([self._executable, "--headless", "--no-remote", "--profile", self._folder, f"--remote-debugging-port={port}"])
        found = within_patience(lambda: re.search(r"listening on (ws://\S+)", _text(printed)))
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


class WebKit(Browser):
    def __init__(self, programs: tuple[str, str], home: Path):
        super().__init__(home)
        self._mini_browser, self._screen_program = programs

    def start(self) -> None:
        inspector = f"127.0.0.1:{_free_port()}"
        self._run(
            [self._mini_browser, "about:blank"],
            DISPLAY=self._screen(),
            GDK_BACKEND="x11",
            WEBKIT_DISABLE_COMPOSITING_MODE="1",
            WEBKIT_INSPECTOR_HTTP_SERVER=inspector,
        )
        line = within_patience(lambda: re.search(r"/socket/\d+/\d+/WebPage", _got(f"http://{inspector}/")))
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

    def _screen(self) -> str:
        shown, tells = os.pipe()
        program = subprocess.Popen(
            [self._screen_program, "-displayfd", str(tells), "-screen", "0", _SCREEN, "-nolisten", "tcp"],
            pass_fds=[tells],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        self._programs.callback(kill_all_of, program)
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
                message: dict[str, Any] = json.loads(told["message"])
                return message
        if "error" in news:
            raise RuntimeError(f"WebKitGTK: {news['error']}")
        return {}


def _as_text(expression: str) -> str:
    return f"Promise.resolve({expression}).then((value) => JSON.stringify(value ?? null))"


def _text(file: Path) -> str:
    return file.read_text(encoding="utf-8", errors="replace")


def _got(address: str) -> str:
    with _WITHOUT_PROXY.open(address, timeout=PATIENCE_S) as response:
        body: bytes = response.read()
    return body.decode()


def _free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port: int = asked.getsockname()[1]
    return port
