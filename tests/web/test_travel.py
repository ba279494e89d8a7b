"""The travelling page out of the workshop, in a browser without it, and home again."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from playwright.sync_api import Browser, expect

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from baitwright.workshop.bench.travel import NIGHTS
from tests.web.access import no_violations
from tests.web.benches import NAME, copied, with_a_batch
from tests.web.conftest import HOST, Served, house_at, served


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


@pytest.fixture
def workshop(begun: Path, place: Path) -> Iterator[Served]:
    copied(begun, place)
    with served(place) as made:
        yield made


def nights(*told: dict[str, str]) -> str:
    found = [{"id": f"night{at:08d}", "fields": one} for at, one in enumerate(told)]
    return json.dumps({"kind": NIGHTS, "nights": found})


ONE = {"water": "Long Reedpool", "day": "2026-11-26", "bites": "0"}


def test_the_page_is_one_file_that_asks_nothing_of_a_network(client: TestClient) -> None:
    answer = client.get("/travel.html")
    assert answer.headers["content-disposition"].startswith("attachment; filename=")
    text = answer.text
    assert NAME in text
    assert "http://" not in text and "https://" not in text
    assert 'src="' not in text and "<link" not in text
    assert "default-src 'none'" in text


@pytest.mark.parametrize("as_file", [True, False])
def test_nights_come_home_with_an_answer_for_each(client: TestClient, as_file: bool) -> None:
    text = nights(ONE, {**ONE, "bites": "many"})
    for said in ("Taken as night 2026-11-26/night00000000", "It was here already"):
        if as_file:
            answer = client.post("/travel", files={"file": ("nights.json", text)})
        else:
            answer = client.post("/travel", data={"text": text})
        assert answer.status_code == 200
        assert said in answer.text
        assert "Not taken: bites" in answer.text


def test_what_is_no_file_of_nights_is_told_and_kept(client: TestClient) -> None:
    answer = client.post("/travel", data={"text": "my nights <b>"})
    assert answer.status_code == 422
    assert "my nights &lt;b&gt;</textarea>" in answer.text


def test_too_much_is_refused(client: TestClient) -> None:
    answer = client.post("/travel", files={"file": ("nights.json", b"x" * 2_000_001)})
    assert answer.status_code == 422


def test_nights_need_our_token(client: TestClient) -> None:
    answer = client.post("/travel", data={"text": nights(ONE)}, headers={HEADER: "guessed"})
    assert answer.status_code == 403


def test_a_night_is_kept_at_the_water_and_carried_home(
    workshop: Served, browser: Browser, tmp_path: Path
) -> None:
    context = browser.new_context(base_url=workshop.address, viewport={"width": 320, "height": 700})
    page = context.new_page()
    page.goto("/travel")
    no_violations(page)
    with page.expect_download() as waiting:
        page.get_by_role("link", name="Take the travelling page").click()
    file = tmp_path / "at the water.html"
    waiting.value.save_as(file)

    asked: list[str] = []
    away = context.new_page()
    away.on("request", lambda one: asked.append(one.url))
    away.on("pageerror", lambda one: pytest.fail(str(one)))
    away.goto(file.as_uri())
    assert away.evaluate("document.documentElement.scrollWidth") <= 320
    no_violations(away)
    away.get_by_role("button", name="Keep this night").click()
    expect(away.locator("#wrong")).to_be_visible()
    expect(away.locator("#water")).to_be_focused()
    away.locator("#water").fill("Long Reedpool")
    away.locator("[name='day']").fill("2026-11-26")
    away.locator("[name='rod[1].bag']").fill(NAME)
    away.locator("[name='rod[1].bites']").fill("1")
    away.locator("[name='bites']").fill("1")
    away.get_by_role("button", name="Keep this night").click()
    expect(away.locator("#count")).to_have_text("1")
    away.reload()
    expect(away.locator("#count")).to_have_text("1")
    away.get_by_role("button", name="Change").click()
    away.locator("[name='fish']").fill("1")
    away.get_by_role("button", name="Keep this night").click()
    with away.expect_download() as saved:
        away.locator("#file").click()
    home = tmp_path / "nights.json"
    saved.value.save_as(home)
    assert home.read_text(encoding="utf-8") == away.locator("#text").input_value()
    assert {one.partition(":")[0] for one in asked} <= {"file", "blob"}

    page.locator("#file").set_input_files(home)
    page.get_by_role("button", name="Take the nights in").click()
    expect(page.locator("main")).to_contain_text("Taken as night 2026-11-26/")
    no_violations(page)
    context.close()
