"""Every door of the rooms answers in the demonstration workshop, whole without a script."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from baitwright.web.pages import (
    answers,
    ask,
    batches,
    care,
    cautions,
    complaints,
    demo,
    faults,
    labels,
    learning,
    mix,
    notebook,
    orders,
    prices,
    recipes,
    shelf,
    tables,
    trace,
    trials,
    year,
)
from tests.web.conftest import HOST, house_at
from tests.web.rooms import DOORS, UPLOADED, Shown, asked, filled

ROOMS = (
    *(answers, ask, batches, care, cautions, complaints, demo, faults, labels, learning),
    *(mix, notebook, orders),
    *(prices, recipes, shelf, tables, trace, trials, year),
)
_FORM = re.compile(r'<form[^>]*method="post".*?</form>', re.DOTALL)


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    place: Path = tmp_path_factory.mktemp("shown") / "notebook.sqlite"
    return filled(place)


@pytest.fixture(scope="module")
def looking(shown: Shown) -> Iterator[TestClient]:
    house = house_at(shown.place, HOST)
    with TestClient(make_app(house), headers={HEADER: token_of(house)}) as made:
        yield made


def test_no_door_is_forgotten() -> None:
    doors = {
        route.path
        for room in ROOMS
        for route in room.pages.routes
        if "GET" in (getattr(route, "methods", None) or ())
    }
    assert {"/", *doors} == {*DOORS, *UPLOADED}


FILES = ("/recipes/version", "/care")
"""Doors that show the text of a file, or a command, to be copied as it is."""


@pytest.mark.parametrize("door", DOORS)
def test_every_door_answers(looking: TestClient, shown: Shown, door: str) -> None:
    answer = looking.get(asked(door, shown))
    assert answer.status_code == 200
    if answer.headers.get("content-disposition", "").startswith("attachment"):
        return  # handed out, and shown by no page
    assert answer.headers["content-type"].startswith("text/html")
    text = answer.text
    assert text.count("<h1") == 1
    assert not re.search(r"<[^>]*\s(style|on[a-z]+)\s*=", text), "policy forbids it"
    assert not re.search(r"<script(?![^>]*src=)", text)
    assert "put it back" in text or "look after the notebook" in text
    for form in _FORM.findall(text):
        assert 'name="token"' in form
    assert ("<pre" in text) == (door in FILES), "what is told is told as a list or a table"
    ids = re.findall(r'\sid="([^"]+)"', text)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("door", ["/", "/shelf", "/batches", "/notebook", "/orders", "/trace"])
def test_an_empty_workshop_says_how_to_begin(client: TestClient, door: str) -> None:
    answer = client.get(door)
    assert answer.status_code == 200
    assert ("Your notebook is empty" in answer.text) is (door != "/trace")


@pytest.mark.parametrize("door", ["/batches/2020-01-01/B9", "/shelf/item?name=nothing"])
def test_what_is_not_there_is_told(looking: TestClient, door: str) -> None:
    answer = looking.get(door)
    assert answer.status_code == 422
    assert "That will not do yet" in answer.text


def test_a_change_needs_our_token(shown: Shown) -> None:
    with TestClient(make_app(house_at(shown.place, HOST))) as stranger:
        for path in ("/shelf/in", "/care/copy", "/care/export", "/demo/anew", "/orders/new"):
            assert stranger.post(path, data={"item": "semolina"}).status_code == 403
