"""Complaints in the browser: the line on the first page, one followed, answered and closed."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlencode

import pytest
from fastapi.testclient import TestClient

from tests.web.rooms import Shown, filled
from tests.web.test_ask import words
from tests.web.test_deeds import post


@pytest.fixture
def shown(place: Path) -> Shown:
    return filled(place)


def path(door: str, **of: str) -> str:
    return f"/complaints/{door}?{urlencode(of)}"


def test_one_is_followed_answered_and_closed(client: TestClient, shown: Shown) -> None:
    assert "1 complaint waits" in words(client.get("/").text)
    page = words(client.get(path("one", name=shown.complaint)).text)
    assert "Mould on one bait, in the fridge." in page
    assert "Chalk sinker baits" in page  # who else has of it
    assert "46 baits, freezer, door" in page  # what was kept back
    form = client.get(path("answer", name=shown.complaint)).text
    assert "Thank you for telling us: Mould on one bait" in form
    post(client, path("looked", name=shown.complaint), sample="no mould")
    told = post(client, path("answer", name=shown.complaint), answer="A new bag goes out.")
    assert "A new bag goes out." in told.text
    assert "it showed: no mould" in words(told.text)
    assert "1 complaint waits" in words(client.get("/").text)  # answered is not closed
    post(client, path("close", name=shown.complaint), done="bag replaced")
    assert "complaint waits" not in words(client.get("/").text)
    assert "No complaint is open." in client.get("/complaints").text
    assert shown.complaint in client.get("/complaints?closed=yes").text


def test_a_bag_is_kept_back_and_let_go(client: TestClient, shown: Shown) -> None:
    bag = f"{shown.bagged}/4"
    told = post(client, path("keep"), bag=bag, where="freezer, top")
    assert f"Bag {bag} is kept back" in told.text
    assert "kept back: freezer, top" in words(told.text)
    assert "kept back: freezer, top" not in words(post(client, path("free"), bag=bag).text)
    refused = post(client, path("keep"), bag="none", where="here")
    assert refused.status_code == 422
    assert "a bag of the notebook" in words(refused.text)
