"""Build dist/ and serve it on this machine, as a static host would: the folder's own files, at any sub-path."""

import argparse
import errno
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, Self
from urllib.parse import unquote, urlsplit

from site_builder.building.content_types import CONTENT_TYPES
from site_builder.building.policy import HEADERS
from site_builder.commands import build
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.failures import SetUpFailed
from site_builder.setting_up.running import say

DEFAULT_PORT = 8765
PORTS_TRIED = 20
LAST_PORT = 65535

# Given a file's address below the served folder ("/index.html"), says what to answer in its place: a status that tells
# of a fault, a damaged body, or None for the file as it is.
Tamper = Callable[[str], int | bytes | None]


@dataclass(frozen=True, slots=True)
class Response:
    status: int
    body: bytes
    content_type: str = CONTENT_TYPES[".txt"]
    moved_to: str | None = None
    encoding: str | None = None
    cut_to: int | None = None  # bytes after which the host breaks off, though it promised all
    stands_still: threading.Event | None = None  # until then it says nothing before it breaks off


class Server:
    """A folder, served from a thread of its own as soon as this is made.

    `stop` ends it as a lost signal would; `start` serves again at the same address.
    """

    def __init__(self, folder: Path, port: int = 0, under: str = "", tamper: Tamper | None = None):
        """Serve `folder` on a port (0: any free one), below a path such as "/club/fieldslate/"."""
        self.folder = folder.resolve()
        self.port = port
        self.prefix = f"/{under.strip('/')}/" if under.strip("/") else "/"
        self.tamper = tamper
        self._listener: _Listener | None = None
        self.start()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}{self.prefix}"

    def start(self) -> None:
        if self._listener:
            return
        self._listener = _Listener(self)
        self.port = self._listener.server_port
        self._thread = threading.Thread(target=self._listener.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        if self._listener:
            self._listener.is_stopped = True
            self._listener.shutdown()
            self._listener.server_close()
            self._listener = None

    def wait(self) -> None:
        """Return once it is stopped."""
        self._thread.join()

    def response(self, address: str) -> Response:
        """Return what a request for `address`, a path with or without a query, is answered with."""
        path = unquote(urlsplit(address).path)
        if f"{path}/" == self.prefix:
            return Response(301, b"", moved_to=self.prefix)
        if not path.startswith(self.prefix):
            return Response(404, b"Nothing is served at this address.")
        below = path.removeprefix(self.prefix)
        changed = self.tamper(f"/{below}") if self.tamper else None
        if isinstance(changed, int):
            return Response(changed, b"A fault that a test asked for.")
        return self._file(below, changed)

    def _file(self, below: str, damaged: bytes | None) -> Response:
        file = (self.folder / below).resolve()
        if not file.is_relative_to(self.folder):
            return Response(404, b"Nothing is served at this address.")
        if file.is_dir():
            if below and not below.endswith("/"):
                return Response(301, b"", moved_to=f"{self.prefix}{below}/")
            file /= "index.html"
        if not file.is_file():
            return Response(404, b"There is no such page.")
        body = file.read_bytes() if damaged is None else damaged
        return Response(200, body, CONTENT_TYPES.get(file.suffix, "application/octet-stream"))


class _Listener(ThreadingHTTPServer):
    request_queue_size = 64  # a first visit asks for many files at once; a full queue costs a second each

    def __init__(self, server: Server):
        self.is_stopped = False
        self.response = server.response
        super().__init__(("127.0.0.1", server.port), _Request)

    def handle_error(self, request: Any, client_address: Any) -> None:
        if not isinstance(sys.exception(), ConnectionError):  # a browser that went away is no fault
            super().handle_error(request, client_address)


class _Request(BaseHTTPRequestHandler):
    # HTTP/1.0: no connection outlives its answer, so a stopped server cannot go on answering over an old one.
    protocol_version = "HTTP/1.0"
    server: _Listener

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def log_message(self, *_: object) -> None:
        """Say nothing: the terminal belongs to the build and to the tests."""

    def _answer(self, with_body: bool) -> None:
        if self.server.is_stopped:  # a browser opens connections ahead of need: one accepted before the stop must not be served
            return
        response = self.server.response(self.path)
        self.send_response(response.status)
        self.send_header("Content-Type", response.content_type)
        self.send_header("Content-Length", str(len(response.body)))
        self.send_header("Cache-Control", "no-cache")
        for name, value in HEADERS.items():
            self.send_header(name, value)
        if response.encoding:
            self.send_header("Content-Encoding", response.encoding)
        if response.moved_to:
            self.send_header("Location", response.moved_to)
        self.end_headers()
        if with_body:
            self.wfile.write(response.body[: response.cut_to])
            if response.stands_still:
                response.stands_still.wait()


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder serve", description=__doc__)
    parser.add_argument("--port", type=int, default=DEFAULT_PORT, help=f"first port to try, {DEFAULT_PORT} if not given")
    asked = parser.parse_args(arguments)
    if not 1 <= asked.port <= LAST_PORT:
        parser.error(f"--port takes a number from 1 to {LAST_PORT}")

    build.run([])
    with on_free_port(DIST, asked.port) as server:
        say(f"Fieldslate is at {server.address}   (Ctrl+C stops it)")
        try:
            server.wait()
        except KeyboardInterrupt:
            say("\nStopped.")
    return 0


def on_free_port(folder: Path, first: int) -> Server:
    """Return a server on the first port that is free, from `first` on."""
    last = min(first + PORTS_TRIED - 1, LAST_PORT)
    for port in range(first, last + 1):
        try:
            return Server(folder, port)
        except OSError as error:
            if error.errno not in (errno.EADDRINUSE, errno.EACCES):
                raise
    raise SetUpFailed(f"No port from {first} to {last} is free on this machine. Name another one: serve --port 18765")
