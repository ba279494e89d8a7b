"""The workshop in a process of its own, as a maker opens it, and those who ask it over the wire."""

from __future__ import annotations

import json
import os
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
from time import monotonic
from urllib.parse import urlencode

from baitwright.notebook.where import Server, Where
from baitwright.web.guard import HEADER

PATIENCE = 300
"""Seconds until an answer is given up: fifty who plan on one core wait for a minute."""

IDLE = 3
"""Seconds after which a line is not trusted to be open: the server hangs up after five."""


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
def opened(place: Where, *, bears: str = "") -> Iterator[Open]:
    """`baitwright open` over a notebook until the block ends; then Ctrl-C, and a whole end.

    What belongs to a notebook on a server lies in its ``home``, which is to be called baitwright.
    Lines of trouble that hold what it ``bears`` are let be.
    """
    with socket.create_server(("127.0.0.1", 0)) as found:
        port = found.getsockname()[1]
    command = [sys.executable, "-m", "baitwright", "open", "--quiet", "--port", str(port)]
    command += ["--notebook", place.url if isinstance(place, Server) else str(place)]
    around = dict(os.environ)
    if isinstance(place, Server):
        around["XDG_CONFIG_HOME"] = str(place.home.parent)
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    with subprocess.Popen(  # type: ignore[call-overload]
        command, text=True, env=around, **pipes
    ) as process:
        try:
            first = process.stdout.readline()
            assert "the workshop is open" in first
            yield Open(f"127.0.0.1:{port}", process)
        finally:
            process.send_signal(signal.SIGINT)
            said = process.stdout.read()
    trouble = [line for line in said.splitlines() if line.strip() and not (bears and bears in line)]
    assert not trouble, f"it told of trouble: {trouble[-5:]}"


class Caller:
    """One who asks, over a connection of their own."""

    def __init__(self, workshop: Open) -> None:
        self._line = HTTPConnection(workshop.host, timeout=PATIENCE)
        self._headers: dict[str, str] = {}
        self._asked_last = monotonic()

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

    def say(self, path: str, told: Mapping[str, object]) -> tuple[int, str]:
        """What a script sends; the answer's status and all it says."""
        sent = {"content-type": "application/json"}
        answer, page = self._answered("POST", path, headers=sent, body=json.dumps(told))
        return answer.status, page.decode()

    def fill_in(self, path: str, told: Mapping[str, str], *, status: int = 303) -> None:
        """What a form sends; a deed that is done leads on to another page."""
        sent = {"content-type": "application/x-www-form-urlencoded"}
        self._asked("POST", path, headers=sent, body=urlencode(told), status=status)

    def send(self, path: str, told: Mapping[str, str]) -> tuple[int, str]:
        """What a form sends; the answer's status, and where it leads or what it says."""
        sent = {"content-type": "application/x-www-form-urlencoded"}
        answer, page = self._answered("POST", path, headers=sent, body=urlencode(told))
        return answer.status, answer.getheader("location") or page.decode()

    def _asked(
        self, method: str, path: str, *, headers: dict[str, str], body: str = "", status: int = 200
    ) -> bytes:
        answer, told = self._answered(method, path, headers=headers, body=body)
        assert answer.status == status, f"{method} {path[:60]}: {answer.status} {told[-300:]!r}"
        return told

    def _answered(
        self, method: str, path: str, *, headers: dict[str, str], body: str = ""
    ) -> tuple[HTTPResponse, bytes]:
        if method == "POST" and not self._headers:
            self._headers = {HEADER: json.loads(self.get("/api/token"))["token"]}
        if monotonic() - self._asked_last > IDLE:
            self._line.close()  # the next request opens another
        self._line.request(method, path, body or None, {**headers, **self._headers})
        answer: HTTPResponse = self._line.getresponse()
        told = answer.read()
        self._asked_last = monotonic()
        return answer, told
