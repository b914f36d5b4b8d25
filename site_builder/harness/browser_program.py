"""A browser as a program of ours: started with a folder of its own, asked in JSON over one line, and killed with all that it started."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import time
from abc import ABC, abstractmethod
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from typing import Any, Self

from websockets.sync.client import connect

PATIENCE_S = 120
# A page that is left can be put aside whole, with the question in it: then nobody ever answers it.
_ANSWERS_WITHIN_S = 30
_LOOKS_EVERY_S = 0.05


class Browser(ABC):
    """A browser with one page open, for as long as its `with` lasts: a program with a folder of its own, and a line on which it is asked in JSON."""

    @abstractmethod
    def start(self) -> None:
        """Start the program with an empty page, and the line to it."""

    @abstractmethod
    def read(self, expression: str) -> Any:
        """Return what a JavaScript expression, which may be a promise, has as its value in the page."""

    def __init__(self, folder: Path):
        self._folder = folder
        self._folder.mkdir(parents=True, exist_ok=True)
        self._asked = 0
        self._programs = ExitStack()
        self._lines = ExitStack()

    def __enter__(self) -> Self:
        try:
            self.start()
        except BaseException:
            self.kill()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()

    def kill(self) -> None:
        """End the browser as a phone does that needs the room: it is told nothing beforehand."""
        self._programs.close()  # first: a line that is closed in order would tell the browser
        self._lines.close()

    def _run(self, command: list[str | Path], **environment: str) -> Path:
        """Start the program and return the file that gets what it prints."""
        printed = self._folder / "printed.log"
        # A setting of whoever runs this would lead out of the folder.
        own = {name: value for name, value in os.environ.items() if not name.startswith("XDG_")}
        with printed.open("wb") as output:
            program = subprocess.Popen(
                command,
                stdout=output,
                stderr=subprocess.STDOUT,
                env=own | {"HOME": str(self._folder)} | environment,
                start_new_session=True,
            )
        self._programs.callback(kill_all_of, program)
        return printed

    def _connect(self, address: str) -> None:
        self._line = self._lines.enter_context(connect(address, max_size=None, proxy=None))

    def _ask(self, method: str, **given: Any) -> dict[str, Any]:
        self._asked += 1
        asked = self._asked
        self._send({"id": asked, "method": method, "params": given})
        try:
            while (reply := self._receive()).get("id") != asked:
                pass  # news that nobody asked for, or a late answer
        except TimeoutError:
            raise RuntimeError(f"{method} was not answered within {_ANSWERS_WITHIN_S} s") from None
        if "error" in reply:
            raise RuntimeError(f"{method}: {reply['error']} {reply.get('message', '')}")
        result: dict[str, Any] = reply["result"]
        return result

    def _send(self, message: dict[str, Any]) -> None:
        self._line.send(json.dumps(message))

    def _receive(self) -> dict[str, Any]:
        received: dict[str, Any] = json.loads(self._line.recv(timeout=_ANSWERS_WITHIN_S))
        return received

    def open(self, address: str) -> None:
        """Go to an address and return once the page is loaded."""
        self.read("window.isLeft = true")  # Firefox itself says that it has arrived where a page just rewrites its own address
        self._go(address)
        wait_until(self, "!window.isLeft && document.readyState === 'complete'")

    def _go(self, address: str) -> None:
        self._ask("Page.navigate", url=address)


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


def kill_all_of(program: subprocess.Popen[bytes]) -> None:
    """End a program that was started here in a group of its own, with all that it has started in it."""
    if program.poll() is None:
        os.killpg(program.pid, signal.SIGKILL)
    program.wait()


def within_patience(found: Callable[[], Any]) -> Any:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            if value := found():
                return value
        except OSError:
            pass  # it is not up yet
        time.sleep(_LOOKS_EVERY_S)
    raise TimeoutError("the browser did not start")
