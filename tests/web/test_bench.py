"""The bench asked by a client: pages without a script, taps of a script, what is refused."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from tests.web.benches import BENCH, NAME, copied, with_a_batch
from tests.web.conftest import HOST, house_at


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("begun") / "notebook.sqlite"
    with_a_batch(place)
    return place


@pytest.fixture
def client(begun: Path, place: Path) -> Iterator[TestClient]:
    copied(begun, place)
    house = house_at(place, HOST)
    with TestClient(make_app(house), headers={HEADER: token_of(house)}) as made:
        yield made


def form_of(text: str, step: str) -> dict[str, str]:
    """The fields of a step's form, as a browser would send them."""
    card = re.search(rf'<form class="doing" id="card-{step}".*?</form>', text, re.DOTALL)
    assert card is not None
    found = re.findall(r'<input[^>]* name="([^"]+)" value="([^"]*)"', card[0])
    return {name: unescape(value) for name, value in found}


def tap(**told: str) -> dict[str, str]:
    return {"kind": "done", "at": "2026-11-27T10:00:00.000Z", **told}


def taps_of(client: TestClient) -> Any:
    return client.get(f"{BENCH}/taps").json()["taps"]


def test_the_bench_shows_every_step_and_one_large(client: TestClient) -> None:
    text = client.get(BENCH).text
    assert text.count('class="line') == 17  # sixteen steps, and writing down
    assert text.count('aria-current="step"') == 1
    assert 'id="step-1" data-step="1" aria-current="step"' in text
    assert taps_of(client) == []


def test_done_moves_on_and_sent_twice_counts_once(client: TestClient) -> None:
    form = {**form_of(client.get(BENCH).text, "1"), "deed": "done"}
    for _ in range(2):
        answer = client.post(BENCH, data=form, follow_redirects=False)
        assert answer.status_code == 303
        assert answer.headers["location"] == f"{BENCH}#live"
    assert [one["kind"] for one in taps_of(client)] == ["done"]
    assert 'data-step="2" aria-current="step"' in client.get(BENCH).text


def test_a_value_typed_and_not_written_is_not_lost_by_done(client: TestClient) -> None:
    form = {**form_of(client.get(BENCH).text, "1"), "told.tub_before": "0,549 kg", "deed": "done"}
    client.post(BENCH, data=form)
    assert [one["kind"] for one in taps_of(client)] == ["value", "done"]
    assert "0,549 kg" in client.get(BENCH).text


def test_what_was_planned_is_written_with_one_tap(client: TestClient) -> None:
    form = {**form_of(client.get(BENCH).text, "1"), "deed": "value:tub_before"}
    answer = client.post(BENCH, data=form, follow_redirects=False)
    assert answer.headers["location"] == f"{BENCH}?step=1#step-1"
    assert [one["told"] for one in taps_of(client)] == ["550 g"]


def test_a_value_that_cannot_be_is_told_and_kept(client: TestClient) -> None:
    form = {**form_of(client.get(BENCH).text, "1"), "told.tub_before": "549 ml", "deed": "done"}
    answer = client.post(BENCH, data=form)
    assert answer.status_code == 422
    assert 'value="549 ml"' in answer.text
    assert '<a href="#e1-1">' in answer.text
    assert "a weight such as 550 g" in answer.text
    assert taps_of(client) == []


def test_a_timer_ends_by_the_clock_and_the_page_loads_again_then(client: TestClient) -> None:
    text = client.get(f"{BENCH}?step=10").text
    client.post(BENCH, data={**form_of(text, "10"), "deed": "start:pan 1 of 11"})
    (started,) = taps_of(client)
    assert started["name"] == "pan 1 of 11"
    text = client.get(BENCH).text
    refresh = re.search(r'<noscript><meta http-equiv="refresh" content="(\d+)">', text)
    assert refresh is not None
    assert 80 <= int(refresh[1]) <= 91
    stop = re.search(r'name="id" value="([^"]+-t1)"', text)
    assert stop is not None
    client.post(BENCH, data={"id": stop[1], "step": "10", "deed": "stop:pan 1 of 11"})
    assert "http-equiv" not in client.get(BENCH).text


def test_the_last_tap_is_undone(client: TestClient) -> None:
    client.post(BENCH, data={**form_of(client.get(BENCH).text, "1"), "deed": "done"})
    text = client.get(BENCH).text
    deed = re.search(r'name="deed" value="(undo:[^"]+)"', text)
    mark = re.search(r'name="id" value="([^"]+-u)"', text)
    assert deed is not None and mark is not None
    client.post(BENCH, data={"id": mark[1], "step": "2", "deed": deed[1]})
    assert 'data-step="1" aria-current="step"' in client.get(BENCH).text


def test_taps_of_a_script_come_once_in_whatever_bundles(client: TestClient) -> None:
    first, second = tap(id="first-tap", step="1"), tap(id="second-tap", step="2")
    for bundle in ([first], [first, second], [second, second, first]):
        answer = client.post(f"{BENCH}/taps", json={"taps": bundle})
        assert answer.status_code == 200
    assert [one["id"] for one in taps_of(client)] == ["first-tap", "second-tap"]


def test_one_bad_tap_keeps_no_other_out(client: TestClient) -> None:
    bad = [tap(id="x", step="1"), 7, tap(id="no-such-kind", kind="sing")]
    bad += [tap(id="half-a-letter", told="\ud800"), tap(id="\ud800"), tap(at="\ud800")]
    body = json.dumps({"taps": [*bad, tap(id="good-one", step="1")]})
    answer = client.post(
        f"{BENCH}/taps", content=body, headers={"content-type": "application/json"}
    )
    told = answer.json()
    assert [one["at"] for one in told["refused"]] == [0, 1, 2, 3, 4, 5]
    assert [one["id"] for one in told["taps"]] == ["good-one"]


def test_a_value_that_cannot_be_read_is_kept_and_told(client: TestClient) -> None:
    odd = tap(id="odd-value", kind="value", name="tub_before", told="heavy", step="1")
    told = client.post(f"{BENCH}/taps", json={"taps": [odd]}).json()
    assert "heavy" in told["wrong"]["tub_before"]
    assert "heavy" in client.get(f"{BENCH}/write").text


@pytest.mark.parametrize("body", [{"taps": "all"}, {}, {"taps": [{}] * 501}])
def test_a_bundle_that_is_none_is_refused(client: TestClient, body: Any) -> None:
    assert client.post(f"{BENCH}/taps", json=body).status_code == 422


def test_a_batch_that_is_not_there_is_told(client: TestClient) -> None:
    other = BENCH.replace("B1", "B7")
    assert client.get(other).status_code == 404
    assert client.get(f"{other}/taps").status_code == 404
    assert client.post(f"{other}/taps", json={"taps": []}).status_code == 404


def test_a_tap_needs_our_token(client: TestClient) -> None:
    stranger = {HEADER: "guessed"}
    told = {"taps": [tap(id="first-tap", step="1")]}
    assert client.post(f"{BENCH}/taps", json=told, headers=stranger).status_code == 403
    assert client.post(BENCH, data={"deed": "done"}, headers=stranger).status_code == 403


def written(text: str) -> dict[str, str]:
    found = re.findall(r'<input type="text" id="([^"]+)" name="[^"]+" value="([^"]*)"', text)
    return {name: unescape(value) for name, value in found if value}


def test_writing_it_down_makes_the_batch_once(client: TestClient) -> None:
    told = (("tub_before", "550"), ("tub_after", "282"), ("baits_made", "262"))
    taps = [
        tap(id=f"value-{at:04d}", kind="value", name=name, told=typed, step="1")
        for at, (name, typed) in enumerate((*told, ("drawn.Malt", "2.5")))
    ]
    client.post(f"{BENCH}/taps", json={"taps": taps})
    form = written(client.get(f"{BENCH}/write").text)
    assert form["tub_after"] == "282 g"
    assert form["drawn[1].key"] == "Malt"
    assert form["drawn[1].share"] == "2.5 ml"
    for _ in range(2):
        answer = client.post(f"{BENCH}/write", data=form)
        assert answer.status_code == 200
        assert "262 baits" in answer.text
    assert "was made" in client.get(f"{BENCH}/write").text


def test_what_is_missing_is_asked_for_with_all_that_was_typed(client: TestClient) -> None:
    form = {"tub_before": "550 g", "tub_after": "290 g", "best_before": "next year"}
    answer = client.post(f"{BENCH}/write", data=form)
    assert answer.status_code == 422
    assert 'value="290 g"' in answer.text
    assert 'value="next year"' in answer.text


def test_the_worker_minds_batches_and_the_manifest_is_one(client: TestClient) -> None:
    worker = client.get("/bench-worker.js")
    assert worker.headers["service-worker-allowed"] == "/batches/"
    assert "javascript" in worker.headers["content-type"]
    manifest = client.get("/workshop.webmanifest")
    assert manifest.headers["content-type"] == "application/manifest+json"
    assert manifest.json()["display"] == "standalone"


def test_the_short_way_leads_to_the_bench(client: TestClient) -> None:
    answer = client.get(f"/bench/{NAME}", follow_redirects=False)
    assert answer.headers["location"] == BENCH
