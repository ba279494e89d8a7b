"""Files that are sent to the workshop: known by their content, looked at, and never a path."""

from __future__ import annotations

import re
from pathlib import Path

import httpx2 as httpx
import pytest
from fastapi.testclient import TestClient

from baitwright.workshop.records.attaching import OTHER, content_of

CSV = b"Ingredient,Qty (kg),Cost,Lot\nsemolina,25,32.5,A1\nmaize,5,3,A2\n"
FOODS = b"name,WATER,PROCNT,FAT,ASH,CHOCDF\nsemo,12,12,1,1,74\n"
JPEG = b"\xff\xd8\xff\xe0" + bytes(100)


def send(client: TestClient, path: str, data: bytes, name: str = "file") -> httpx.Response:
    """A file sent from a form."""
    return client.post(path, files={"file": (name, data)})


def look_at(answer: httpx.Response) -> str:
    """The page of a file that waits."""
    return str(answer.url).partition("testserver")[2].partition("&done")[0]


def test_a_table_is_looked_at_and_comes_in_whole(client: TestClient) -> None:
    answer = send(client, "/shelf/table", CSV, "../../etc/deliveries.csv")
    assert answer.status_code == 200
    assert "row 2: 25 kg of semolina" in answer.text
    assert "Your notebook is empty" in client.get("/shelf").text
    done = client.post(look_at(answer))
    assert "2 lots on the shelf" in done.text
    assert "worth 32.50" in done.text


def test_headings_are_chosen_and_wrong_rows_told(client: TestClient) -> None:
    wrong = send(client, "/shelf/table", CSV.replace(b"25", b"lots").replace(b"Qty (kg)", b"Heap"))
    assert "Which heading is which" in wrong.text
    chosen = client.get(f"{look_at(wrong)}&column+amount=%3DHeap")
    assert chosen.status_code == 200
    assert "row 2, Heap" in chosen.text
    assert client.post(look_at(wrong)).status_code == 422


@pytest.mark.parametrize("data", [b"", b"\x00\x01\x02", b"PK\x03\x04 no zip", b"only\n"])
def test_what_is_no_table_is_refused(client: TestClient, data: bytes) -> None:
    answer = send(client, "/shelf/table", data)
    assert answer.status_code == 422
    assert "baitwright-" not in answer.text  # no path of ours


def test_a_file_that_waits_no_longer_is_asked_for_again(client: TestClient) -> None:
    for made_up in ("0" * 24, "../../etc/passwd", ""):
        answer = client.get("/shelf/table/look", params={"file": made_up})
        assert answer.status_code == 422
        assert "once more" in answer.text


def test_foods_are_kept_and_give_lines_for_a_recipe(client: TestClient) -> None:
    answer = send(client, "/shelf/foods", FOODS)
    assert "[base.analysis]" in answer.text
    kept = client.post(look_at(answer))
    assert "1 analysis kept" in kept.text
    assert "protein = &#34;12 %&#34;" in client.get("/shelf/food?name=semo").text


@pytest.fixture
def night(client: TestClient) -> str:
    answer = client.post("/notebook/night/new", data={"water": "Long Reedpool"})
    return re.findall(r"name=([^&]+)", str(answer.url))[0]


def test_a_photo_lies_beside_the_notebook_and_is_served_as_one(
    client: TestClient, night: str, place: Path
) -> None:
    at = f"/notebook/night/attach?name={night}"
    answer = send(client, at, JPEG, "../tray.html")
    assert answer.status_code == 200
    found = re.search(r'src="([^"]+)"', answer.text)
    assert found is not None
    photo = client.get(found[1].replace("&amp;", "&"))
    assert photo.content == JPEG
    assert photo.headers["content-type"] == "image/jpeg"
    assert photo.headers["x-content-type-options"] == "nosniff"
    assert photo.headers["content-disposition"].startswith("attachment")
    (kept,) = (place.parent / "notebook-files").iterdir()
    assert re.fullmatch("[0-9a-f]{64}", kept.name)
    off = re.search(r'href="([^"]*detach[^"]*)"', answer.text)
    assert off is not None
    assert "mentioned no more" in client.post(off[1].replace("&amp;", "&")).text
    kept.write_bytes(b"changed")
    assert client.get(found[1].replace("&amp;", "&")).status_code == 404


@pytest.mark.parametrize(
    "data", [b"<html><script>", b"MZ", b"<svg xmlns=", JPEG + bytes(20_000_001)]
)
def test_what_is_no_photo_is_refused(client: TestClient, night: str, data: bytes) -> None:
    answer = send(client, f"/notebook/night/attach?name={night}", data, "tray.jpg")
    assert answer.status_code == 422
    assert "a photo (JPEG" in answer.text


def test_a_file_of_no_record_is_not_served(client: TestClient, night: str) -> None:
    for sha256 in ("0" * 64, "../notebook.sqlite"):
        answer = client.get("/notebook/night/file", params={"name": night, "sha256": sha256})
        assert answer.status_code == 404


@pytest.mark.parametrize(
    ("head", "kind"),
    [
        (b"\x89PNG\r\n\x1a\n", "image/png"),
        (b"RIFF\x00\x00\x00\x00WEBP", "image/webp"),
        (b"\x00\x00\x00\x18ftypheic", "image/heic"),
        (b"GIF89a", "image/gif"),
        (b"%PDF-1.7", "application/pdf"),
        (b"RIFF\x00\x00\x00\x00WAVE", OTHER.type),
    ],
)
def test_content_is_told_by_how_it_begins(tmp_path: Path, head: bytes, kind: str) -> None:
    path = tmp_path / "one"
    path.write_bytes(head + bytes(20))
    assert content_of(path).type == kind
