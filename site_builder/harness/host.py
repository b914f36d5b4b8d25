"""A host that knows what it has sent, and whose signal can end in the middle of a visit."""

import threading
from pathlib import Path

from site_builder.commands.serve import Response, Server

MOST_SENT = 9_500_000  # bytes of a first visit, by a host that compresses nothing


class CountingHost(Server):
    """Adds up the bytes of its answers, and is gone before it would send more than `at_most` of them."""

    def __init__(self, folder: Path, at_most: float = float("inf")):
        self.sent = 0
        self.asked: list[str] = []
        self._at_most = at_most
        self._counting = threading.Lock()
        super().__init__(folder)

    def response(self, address: str) -> Response:
        response = super().response(address)
        with self._counting:
            if self.sent + len(response.body) > self._at_most:
                self._at_most = 0
                raise ConnectionResetError
            self.asked.append(address)
            self.sent += len(response.body)
        return response
