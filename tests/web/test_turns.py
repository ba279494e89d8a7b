"""Who plans waits for a turn without keeping others out; who has gone meanwhile is not planned."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from http.client import HTTPConnection
from threading import Event, Lock
from urllib.parse import urlencode

import pytest

from baitwright.terms.errors import InputError
from baitwright.web.house import PLANNERS
from baitwright.workshop.plans import worked_out
from tests.web.conftest import Served
from tests.web.test_plan import fields

MANY = 50
PLAN = f"/plan?{urlencode(fields())}"


@dataclass
class Slow:
    """Stands for planning: takes until it is let go, and refuses then."""

    goes_on: Event = field(default_factory=Event)
    busy: Event = field(default_factory=Event)
    begun: int = 0
    most: int = 0
    now: int = 0
    counting: Lock = field(default_factory=Lock)

    def __call__(self, request: object) -> None:
        with self.counting:
            self.begun, self.now = self.begun + 1, self.now + 1
            self.most = max(self.most, self.now)
            if self.now == PLANNERS:
                self.busy.set()
        self.goes_on.wait(20)
        with self.counting:
            self.now -= 1
        raise InputError("eggs", 0, "some")


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Slow]:
    made = Slow()
    monkeypatch.setattr(worked_out, "worked_out", made)
    yield made
    made.goes_on.set()


def ask(live: Served, path: str) -> int:
    line = HTTPConnection(live.address.removeprefix("http://"), timeout=20)
    line.request("GET", path)
    status = line.getresponse().status
    line.close()
    return status


def test_few_plan_at_once_and_others_look_meanwhile(live: Served, slow: Slow) -> None:
    with ThreadPoolExecutor(MANY) as hands:
        answers = [hands.submit(ask, live, PLAN) for _ in range(MANY)]
        assert slow.busy.wait(20)
        assert ask(live, "/shelf") == 200
        slow.goes_on.set()
        assert {one.result() for one in answers} == {422}
    assert (slow.begun, slow.most) == (MANY, PLANNERS)


def test_who_has_gone_meanwhile_is_not_planned(live: Served, slow: Slow) -> None:
    host, _, port = live.address.removeprefix("http://").partition(":")
    with ThreadPoolExecutor(PLANNERS + 1) as hands:
        for _ in range(PLANNERS):
            hands.submit(ask, live, PLAN)
        assert slow.busy.wait(20)
        with socket.create_connection((host, int(port))) as gone:
            gone.sendall(f"GET {PLAN} HTTP/1.1\r\nhost: {host}:{port}\r\n\r\n".encode())
            assert ask(live, "/shelf") == 200  # by then it waits in the row
        assert ask(live, "/shelf") == 200  # by then it is known to have gone
        last = hands.submit(ask, live, PLAN)
        slow.goes_on.set()
        assert last.result() == 422
    assert slow.begun == PLANNERS + 1
