"""Care from the pages: copied, put back, exported, brought in, and destroyed for good."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from baitwright.web.rooms import PAGES
from baitwright.workshop.season.demo_place import place_beside
from tests.web.test_tables import look_at, send


def changing() -> set[str]:
    """The path of everything that changes something, for a planned batch."""
    every = (route for pages in PAGES for route in pages.routes)
    paths = (route.path for route in every if "POST" in getattr(route, "methods", ()))
    named = (re.sub(r"\{name:\w+\}|\{day\}/\{number\}", "{planned}", path) for path in paths)
    return {path.replace("{kind}", "night") for path in named} - {"/demo/leave", "/demo/anew"}


@pytest.fixture
def night(client: TestClient) -> str:
    answer = client.post("/notebook/night/new", data={"water": "Long Reedpool", "bites": "1"})
    return re.findall(r"name=([^&]+)", str(answer.url))[0]


def test_a_copy_is_put_back_and_what_it_replaced_is_kept(client: TestClient, night: str) -> None:
    assert "found sound" in client.post("/care/copy").text
    client.post(f"/notebook/night/away?name={night}", data={"reason": "a slip"})
    back = re.findall(r'href="(/care/restore[^"]+)"', client.get("/care").text)[0]
    assert client.get(back).status_code == 200
    done = client.post(back)
    assert "What it replaced is kept as" in done.text
    assert "Change it" in client.get(f"/notebook/night/one?name={night}").text
    assert "Last backup:" in client.get("/shelf").text


@pytest.mark.parametrize("copy", ["", "../../notebook.sqlite", "/etc/passwd"])
def test_only_a_listed_copy_is_put_back(client: TestClient, night: str, copy: str) -> None:
    for asking in (client.get, client.post):
        assert asking("/care/restore", params={"copy": copy}).status_code == 422


def test_an_export_comes_in_and_differences_are_asked_about(
    client: TestClient, night: str, place: Path
) -> None:
    file = client.post("/care/export")
    assert file.headers["content-type"] == "application/zip"
    assert "attachment" in file.headers["content-disposition"]
    assert not list((place.parent / "exports").iterdir())
    same = send(client, "/care/import", file.content)
    assert "as here:" in same.text
    assert "done" in client.post(look_at(same)).text
    change = f"/notebook/night/change?name={night}"
    client.post(change, data={"water": "Long Reedpool", "bites": "2", "seen": "1"})
    theirs = client.post("/care/export").content
    client.post(f"/notebook/night/undo?name={night}")
    back = re.findall(r'href="(/care/restore[^"]+before-import[^"]*)"', client.get("/care").text)
    assert not back, "nothing differed, so nothing was copied for an import"
    client.post(f"/notebook/night/undo?name={night}")
    assert "Held against your notebook" in send(client, "/care/import", theirs).text


def test_whose_version_stands_is_asked(client: TestClient, night: str) -> None:
    client.post("/care/copy")
    change = f"/notebook/night/change?name={night}"
    client.post(change, data={"water": "Long Reedpool", "bites": "2", "seen": "1"})
    theirs = client.post("/care/export").content
    first = re.findall(r'href="(/care/restore[^"]+)"', client.get("/care").text)[-1]
    client.post(first)
    client.post(change, data={"water": "Long Reedpool", "bites": "3", "seen": "1"})
    looked = send(client, "/care/import", theirs)
    assert "differs: night" in looked.text
    assert "whose version is to stand" in looked.text
    undecided = client.post(look_at(looked))
    assert undecided.status_code == 422
    assert "mine or theirs" in undecided.text
    assert "done" in client.post(look_at(looked), data={"keep": "theirs"}).text
    assert "<dd>2</dd>" in client.get(f"/notebook/night/one?name={night}").text


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04 no zip", b"%PDF-"])
def test_what_is_no_export_is_refused(client: TestClient, data: bytes) -> None:
    assert send(client, "/care/import", data).status_code == 422


def test_a_purge_says_what_goes_and_wants_its_name(
    client: TestClient, night: str, place: Path
) -> None:
    client.post("/care/copy")
    at = f"/care/purge?kind=night&name={night}"
    assert "Lost for good" in client.get(at).text
    refused = client.post(at, data={"typed": "yes"})
    assert refused.status_code == 422
    assert "letter by letter" in refused.text
    assert "purged" in client.post(at, data={"typed": night}).text
    client.app.state.house.notebook.settle()  # type: ignore[attr-defined]
    for path in place.parent.rglob("*"):
        if path.is_file():
            assert b"Long Reedpool" not in path.read_bytes(), path


def test_the_demonstration_is_a_notebook_of_its_own(client: TestClient, place: Path) -> None:
    assert "baitwright open --demo" in client.get("/").text
    shown = client.post("/demo")
    assert "invented" in shown.text
    assert place_beside(place).exists()
    assert not place.exists()
    client.post("/shelf/in", data={"item": "tried out", "amount": "1"})
    assert not place.exists()
    planned = re.findall(r'href="/batches/([^"]+)/bench"', client.get("/").text)[0]
    for path in changing():
        client.post(path.format(planned=planned), data={"item": "cork", "amount": "1"})
    assert not place.exists(), "whatever is tried goes into the demonstration"
    client.post("/demo")
    assert "tried out" in client.get("/shelf").text
    assert "tried out" not in client.post("/demo/anew").text
    assert "tried out" not in client.get("/shelf").text
    assert "Your notebook is empty" in client.post("/demo/leave").text
    assert "invented" not in client.get("/more").text
