"""The workshop in a process of its own, as a maker opens it, and those who ask it over the wire."""

from __future__ import annotations

import json
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from urllib.parse import urlencode

from baitwright.web.guard import HEADER

PATIENCE = 300
"""Seconds until an answer is given up: fifty who plan on one core wait for a minute."""


@dataclass(frozen=True)
class Open:
    """A workshop that is open."""

    host: str
    process: subprocess.Popen[str]

    @property
    def memory(self) -> float:
        """What its process holds, in MiB (resident set)."""
        told = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        found = re.search(r"VmRSS:[^\d]+(\d+) kB", told)
        assert found is not None
        return int(found[1]) / 1024


@contextmanager
def opened(place: Path) -> Iterator[Open]:
    """`baitwright open` over a notebook until the block ends; then Ctrl-C, and a whole end."""
    with socket.create_server(("127.0.0.1", 0)) as found:
        port = found.getsockname()[1]
    command = [sys.executable, "-m", "baitwright", "open", "--quiet", "--port", str(port)]
    command += ["--notebook", str(place)]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    with subprocess.Popen(command, text=True, **pipes) as process:  # type: ignore[call-overload]
        try:
            first = process.stdout.readline()
            assert "the workshop is open" in first
            yield Open(f"127.0.0.1:{port}", process)
        finally:
            process.send_signal(signal.SIGINT)
            said = process.stdout.read()
    assert not said.strip(), f"it told of trouble: {said[-2000:]}"


class Caller:
    """One who asks, over a connection of their own."""

    def __init__(self, workshop: Open) -> None:
        self._line = HTTPConnection(workshop.host, timeout=PATIENCE)
        self._headers: dict[str, str] = {}

    def close(self) -> None:
        """Hang up."""
        self._line.close()

    def get(self, path: str, *, part: str = "", status: int = 200) -> bytes:
        """A page, or a part of it."""
        return self._asked("GET", path, headers={"x-part": part} if part else {}, status=status)

    def tell(self, path: str, told: Mapping[str, object]) -> dict[str, object]:
        """What a script sends, and what it is answered."""
        sent = {"content-type": "application/json"}
        answer: dict[str, object] = json.loads(
            self._asked("POST", path, headers=sent, body=json.dumps(told))
        )
        return answer

    def fill_in(self, path: str, told: Mapping[str, str], *, status: int = 303) -> None:
        """What a form sends; a deed that is done leads on to another page."""
        sent = {"content-type": "application/x-www-form-urlencoded"}
        self._asked("POST", path, headers=sent, body=urlencode(told), status=status)

    def _asked(
        self, method: str, path: str, *, headers: dict[str, str], body: str = "", status: int = 200
    ) -> bytes:
        if method == "POST" and not self._headers:
            self._headers = {HEADER: json.loads(self.get("/api/token"))["token"]}
        self._line.request(method, path, body or None, {**headers, **self._headers})
        answer: HTTPResponse = self._line.getresponse()
        told = answer.read()
        assert answer.status == status, f"{method} {path[:60]}: {answer.status} {told[-300:]!r}"
        return told
