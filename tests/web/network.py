"""Workshops that other devices may reach, over a notebook of the test's own."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import uvicorn

from baitwright.web.attempts import Attempts
from baitwright.web.house import House
from baitwright.web.lan import Lan
from baitwright.web.server import Door, Network, Opened, opened_at
from baitwright.workshop.keys.passphrase import keep_passphrase
from baitwright.workshop.keys.sessions import Sessions
from baitwright.workshop.opening.standing import Standing
from tests.web.conftest import HOST, house_at

PASSPHRASE = "reed copper hob tray"
HTML = {"accept": "text/html"}
NOW = datetime(2026, 11, 27, 18, 0, tzinfo=UTC)


class Clock:
    """Stands still until it is moved."""

    def __init__(self) -> None:
        self.passed = timedelta()

    def __call__(self) -> datetime:
        return NOW + self.passed

    def seconds(self) -> float:
        return self.passed.total_seconds()


def house_on_lan(
    place: Path, clock: Clock | None = None, *, root: bytes | None = None, is_new: bool = True
) -> House:
    """A workshop for other devices, with the passphrase of the tests, or the one it has."""
    clock = clock or Clock()
    if is_new:
        keep_passphrase(place, PASSPHRASE)
    lan = Lan(place, Sessions(place, clock=clock), Attempts(clock.seconds), root=root)
    return replace(house_at(place, HOST), lan=lan)


@contextmanager
def served_on_lan(place: Path, *, is_tls: bool = False, port: int = 0) -> Iterator[Opened]:
    """It served for real on every address of this machine, until the block ends."""
    network = Network(("shop.local",), is_tls=is_tls)
    opened = opened_at(Standing(place), Door(port, network=network))
    server = uvicorn.Server(opened.server)
    sockets = list(opened.sockets)
    thread = threading.Thread(target=server.run, kwargs={"sockets": sockets}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    try:
        yield opened
    finally:
        server.should_exit = True
        thread.join()
        for one in sockets:
            one.close()
