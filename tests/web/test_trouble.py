"""A fault of ours: told to the terminal whole, and to the browser not at all."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.routing import Route

from baitwright.web.api import door
from baitwright.web.app import make_app
from tests.web.conftest import HOST, house_at


def fault() -> str:
    raise RuntimeError("inner words")


@pytest.fixture
def broken(place: Path) -> TestClient:
    app = make_app(house_at(place, HOST))

    def failing(request: Request) -> Response:
        return Response(fault())

    def gone(request: Request) -> Response:
        raise ClientDisconnect

    app.router.routes[:0] = [Route("/fault", failing), Route("/gone", gone)]
    return TestClient(app)


def test_a_fault_shows_a_plain_page(broken: TestClient, caplog: pytest.LogCaptureFixture) -> None:
    found = broken.get("/fault")
    assert found.status_code == 500
    assert "This is our fault" in found.text
    for inner in ("inner words", "RuntimeError", "Traceback", ".py"):
        assert inner not in found.text
    assert "default-src 'none'" in found.headers["content-security-policy"]
    (told,) = [one for one in caplog.records if one.name == "baitwright.web"]
    assert told.levelno == logging.ERROR
    assert told.exc_info is not None
    assert "inner words" in caplog.text


def test_a_program_is_told_of_a_fault_as_plainly(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    as_it_is = door.make_api

    def with_a_fault(state: Any) -> FastAPI:
        api = as_it_is(state)
        api.add_api_route("/fault", fault)
        return api

    monkeypatch.setattr(door, "make_api", with_a_fault)
    asking = TestClient(make_app(house_at(place, HOST)), raise_server_exceptions=False)
    found = asking.get("/api/fault")
    assert found.status_code == 500
    assert found.json() == {"detail": "This is our fault, not yours."}


def test_a_phone_that_goes_away_is_no_fault(
    broken: TestClient, caplog: pytest.LogCaptureFixture
) -> None:
    with pytest.raises(AssertionError):  # the client of the tests waits for an answer
        broken.get("/gone")
    assert not [one for one in caplog.records if one.name == "baitwright.web"]
