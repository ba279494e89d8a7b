"""The web workshop opened: what a maker waits for, from the command to the first page whole."""

from __future__ import annotations

import socket
import subprocess
import sys
import tempfile
from contextlib import closing
from datetime import datetime
from http.client import HTTPConnection
from pathlib import Path
from statistics import median
from time import perf_counter, sleep

from benchmarks.processes import ROOT

ROUNDS = 5
GOAL_MS = 500.0
_TOO_LONG = 60.0
_HOST = "127.0.0.1"


def _free_port() -> int:
    with closing(socket.create_server((_HOST, 0))) as taken:
        number: int = taken.getsockname()[1]
    return number


def _first_page(port: int) -> bytes:
    """The page that opens, asked for until somebody answers."""
    began = perf_counter()
    while perf_counter() - began < _TOO_LONG:
        asked = HTTPConnection(_HOST, port, timeout=_TOO_LONG)
        try:
            asked.request("GET", "/")
            answer = asked.getresponse()
            if answer.status != 200:
                sys.exit(f"the first page answered {answer.status}")
            return answer.read()
        except ConnectionRefusedError:
            sleep(0.005)
        finally:
            asked.close()
    sys.exit(f"the workshop did not answer within {_TOO_LONG:.0f} s")


def milliseconds(notebook: Path, begins: bytes) -> float:
    """Wall time from the command to the end of the first page, which has to hold some words."""
    port = _free_port()
    command = [sys.executable, "-m", "baitwright", "open", "--quiet", "--port", str(port)]
    began = perf_counter()
    opened = subprocess.Popen(
        [*command, "--notebook", str(notebook)], cwd=ROOT, stdout=subprocess.DEVNULL
    )
    try:
        page, took = _first_page(port), 1e3 * (perf_counter() - began)
    finally:
        opened.terminate()
        opened.wait()
    if begins not in page:
        sys.exit(f"the first page of {notebook.name} does not say {begins!r}")
    return took


def report(rounds: int = ROUNDS) -> list[str]:
    """Medians of interleaved rounds: a notebook that is not begun, and a season's."""
    from baitwright.workshop.season.demonstration import begin

    with tempfile.TemporaryDirectory() as folder:
        empty, season = Path(folder) / "none.sqlite", Path(folder) / "season.sqlite"
        begin(season, now=datetime.now().astimezone())
        runs = [
            (milliseconds(empty, b"/demo"), milliseconds(season, b"Copper")) for _ in range(rounds)
        ]
    lines = [f"`baitwright open` to its first page, median of {rounds} interleaved rounds"]
    for name, took in zip(
        ("nothing kept yet", "a season kept"), zip(*runs, strict=True), strict=True
    ):
        lines.append(f"  {name:20}{median(took):8.0f} ms  goal {GOAL_MS:.0f} ms")
    return lines


if __name__ == "__main__":
    print("\n".join(report()))
