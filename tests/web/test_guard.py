"""Who may ask: only pages of our own change anything, and every answer ties the browser down."""

from __future__ import annotations

from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, MOST_SENT, TOKEN, holds_token, token_of
from tests.web.conftest import HOST, house_at


@pytest.fixture
def app(place: Path) -> Starlette:
    """A workshop with one more page, which changes something."""
    made = make_app(house_at(place, HOST))

    async def change(request: Request) -> Response:
        await holds_token(request)
        return PlainTextResponse("changed")

    made.router.routes.insert(0, Route("/change", change, methods=["POST"]))
    return made


@pytest.fixture
def stranger(app: Starlette) -> TestClient:
    return TestClient(app)


@pytest.fixture
def ours(app: Starlette) -> dict[str, str]:
    return {HEADER: token_of(app.state.house)}


def test_another_name_for_this_machine_is_refused(stranger: TestClient) -> None:
    assert stranger.get("/", headers={"host": "rebound.example"}).status_code == 400
    assert stranger.get("/").status_code == 200


@pytest.mark.parametrize(
    "told",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "http://elsewhere.example"},
        {"origin": "null"},
    ],
)
def test_a_change_from_elsewhere_is_refused(
    stranger: TestClient, ours: dict[str, str], told: dict[str, str]
) -> None:
    assert stranger.post("/change", headers=ours | told).status_code == 403


def test_a_change_needs_our_token(stranger: TestClient, ours: dict[str, str]) -> None:
    assert stranger.post("/change").status_code == 403
    assert stranger.post("/change", data={TOKEN: "guessed"}).status_code == 403
    assert stranger.post("/change", headers=ours).status_code == 200
    assert stranger.post("/change", data={TOKEN: ours[HEADER]}).status_code == 200
    same = {"origin": f"http://{HOST}", "sec-fetch-site": "same-origin"}
    assert stranger.post("/change", headers=ours | same).status_code == 200


def test_more_than_a_page_may_send_is_refused(stranger: TestClient, ours: dict[str, str]) -> None:
    told = ours | {"content-length": str(MOST_SENT + 1)}
    assert stranger.post("/change", headers=told).status_code == 413
    assert stranger.post("/change", headers=ours | {"content-length": "many"}).status_code == 400


def test_a_path_of_letters_that_cannot_be_shown_is_refused(stranger: TestClient) -> None:
    assert stranger.get("/batches/one%0Atwo").status_code == 400


@pytest.mark.parametrize("path", ["/", "/nothing", "/static/house.css", "/api/openapi.json"])
def test_every_answer_ties_the_browser_down(stranger: TestClient, path: str) -> None:
    told = stranger.get(path).headers
    policy = told["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert told["x-content-type-options"] == "nosniff"


def test_a_page_that_is_not_there_says_so(stranger: TestClient) -> None:
    found = stranger.get("/nothing")
    assert found.status_code == 404
    assert "There is no such page" in found.text
