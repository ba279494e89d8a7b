"""Deeds from the pages: done once, kept when wrong, and two who write at once both told."""

from __future__ import annotations

import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import httpx2 as httpx
import pytest
from fastapi.testclient import TestClient

from baitwright.web.once import Done, Once
from baitwright.workshop.keys.door_marks import MOST, DoorMarks
from baitwright.workshop.shelf.deliveries import bring_in
from tests.workshop.batching import DELIVERIES, plan_one


def post(client: TestClient, path: str, **told: Any) -> httpx.Response:
    """What a form sends; the page that it leads to."""
    rows = {key.replace("__", "."): value for key, value in told.items()}
    return client.post(path, data=rows)


def said(answer: httpx.Response) -> str:
    """What a page tells of the deed that led to it."""
    found = re.search(r'role="status">(.*?)</p>', answer.text, re.DOTALL)
    return "" if found is None else found[1]


@pytest.fixture
def stocked(client: TestClient) -> TestClient:
    """A workshop with what a batch takes on its shelf."""
    notebook = client.app.state.house.notebook  # type: ignore[attr-defined]
    with notebook.writing() as book:
        for one in DELIVERIES:
            bring_in(book, one, now=notebook.clock())
    return client


@pytest.fixture
def planned(stocked: TestClient) -> str:
    """The name of a planned batch."""
    with stocked.app.state.house.notebook.writing() as book:  # type: ignore[attr-defined]
        return plan_one(book).name


def test_a_form_sent_twice_does_its_deed_once(client: TestClient) -> None:
    told = {"item": "semolina", "amount": "25 kg", "price": "32,50", "once": "the same"}
    first, second = (post(client, "/shelf/in", **told) for _ in range(2))
    assert first.url == second.url
    assert "write it on the bag" in said(first)
    assert "worth 32.50" in second.text


def test_two_hands_on_one_button_do_a_deed_once() -> None:
    once, done = Once(), []

    def deed() -> Done:
        done.append(1)
        return Done("/")

    with ThreadPoolExecutor(8) as hands:
        list(hands.map(lambda _: once.do("a mark", deed), range(32)))
    assert done == [1]


def test_a_deed_that_was_refused_may_be_sent_again() -> None:
    once = Once()
    with pytest.raises(ZeroDivisionError):
        once.do("a mark", lambda: Done(str(1 // 0)))
    assert once.do("a mark", lambda: Done("/there"))[1].to == "/there"


def test_what_is_wrong_is_told_at_its_field_and_what_was_typed_stays(client: TestClient) -> None:
    answer = post(client, "/shelf/in", item="semolina", amount="a lot", price="32,50")
    assert answer.status_code == 422
    assert 'href="#amount"' in answer.text
    assert 'value="a lot"' in answer.text
    assert 'value="32,50"' in answer.text
    assert "such as 25 kg" in answer.text


def test_a_deed_is_remembered_across_a_restart_without_what_it_told(place: Path) -> None:
    first = Once(DoorMarks(place))
    first.do("a mark", lambda: Done("/trace?name=1", "Alder Reed was here"))
    (kept,) = place.parent.iterdir()
    assert "Alder" not in kept.read_text() and "a mark" not in kept.read_text()
    kept.write_text(kept.read_text() + "half a li")
    again = Once(DoorMarks(place))
    assert again.do("a mark", lambda: Done("/done/twice")) == ("a mark", Done("/trace?name=1"))
    assert again.do("another", lambda: Done("/there"))[1].to == "/there"
    assert Once(DoorMarks(place)).do("another", lambda: Done("/"))[1].to == "/there"


def test_only_the_last_marks_are_kept(place: Path) -> None:
    marks = DoorMarks(place)
    for number in range(2 * MOST + 1):
        marks.keep(str(number), "/")
    found = DoorMarks(place)
    known = [one for one in range(2 * MOST + 2) if found.led_to(str(one))]
    assert known == list(range(MOST + 1, 2 * MOST + 1))
    lines = (place.parent / "door.once-notebook").read_text().splitlines()
    marks.keep("one more", "/")  # those before the last are let go
    assert len(lines) == 2 * MOST + 1
    assert len((place.parent / "door.once-notebook").read_text().splitlines()) == MOST + 1


def test_another_workshop_of_the_account_knows_of_a_deed(place: Path) -> None:
    first, other = (Once(DoorMarks(place)) for _ in range(2))
    first.do("a mark", lambda: Done("/there"))
    assert other.do("a mark", lambda: Done("/twice"))[1].to == "/there"


_TWICE = """
import sys, time
from pathlib import Path
from baitwright.web.once import Done, Once
from baitwright.workshop.keys.door_marks import DoorMarks
place, deeds = map(Path, sys.argv[1:])
def deed():
    time.sleep(0.2)
    with deeds.open("a") as file:
        file.write("done\\n")
    return Done("/there")
for mark in range(5):
    assert Once(DoorMarks(place)).do(str(mark), deed)[1].to == "/there"
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no fcntl to take turns with")
def test_two_workshops_at_once_do_a_deed_once(place: Path) -> None:
    deeds = place.parent / "deeds"
    command = [sys.executable, "-c", _TWICE, str(place), str(deeds)]
    both = [subprocess.Popen(command) for _ in range(2)]
    assert [one.wait(60) for one in both] == [0, 0]
    assert deeds.read_text().splitlines() == ["done"] * 5


def test_a_deed_is_done_where_its_mark_cannot_be_kept(place: Path) -> None:
    once = Once(DoorMarks(place.parent / "nowhere" / "notebook.sqlite"))
    assert once.do("a mark", lambda: Done("/there"))[1].to == "/there"
    assert once.do("a mark", lambda: Done("/twice"))[1].to == "/there"


def test_a_batch_from_planned_to_bagged_and_back(stocked: TestClient, planned: str) -> None:
    at = f"/batches/{planned}"
    made = post(
        stocked,
        f"{at}/made",
        baits_made="264",
        eggs="64 g; 66 g; 67 g",
        seen="1",
        **{"drawn[1].key": "Malt", "drawn[1].share": "2,3 ml"},
    )
    assert "264 in lot" in said(made)
    assert "2.3 ml of Malt" in said(made)
    bagged = post(stocked, f"{at}/bag", baits="30", bags="2", seen="2")
    assert said(bagged).startswith("Write on the bags: ") and said(bagged).count(", ") == 1
    assert post(stocked, f"{at}/undo", seen="2").status_code == 422  # its baits have gone on
    assert "174" not in stocked.get("/").text
    assert "204 baits" in stocked.get("/").text


def test_who_looked_at_an_older_batch_is_told(stocked: TestClient, planned: str) -> None:
    at = f"/batches/{planned}"
    post(stocked, f"{at}/made", baits_made="264", seen="1")
    late = post(stocked, f"{at}/cancel", reason="no time", seen="1")
    assert late.status_code == 422
    assert "Somebody wrote here since" in late.text
    weighed = post(stocked, f"{at}/measured", twenty_fresh="33.8 g", seen="2")
    assert "written down" in said(weighed)
    other = post(stocked, f"{at}/measured", twenty_at_8h="28 g", seen="2")
    assert "Somebody wrote here since" in other.text
    assert "33.8 g" in other.text
    assert 'value="28 g"' in other.text


def test_two_tabs_on_one_record_are_put_together(client: TestClient) -> None:
    pool = {"water": "Long Reedpool"}
    first = post(client, "/notebook/night/new", bites="0", weather="frost", **pool)
    at = str(first.url).partition("/one")[2].partition("&")[0]
    change = f"/notebook/night/change{at}"
    post(client, change, bites="1", weather="frost", seen="1", **pool)
    late = post(client, change, bites="2", weather="frost, later rain", seen="1", **pool)
    assert late.status_code == 422
    assert "Both of you changed" in late.text
    for kept in ('value="2"', 'value="frost, later rain"', 'name="seen" value="2"'):
        assert kept in late.text
    other = post(client, change, bites="1", remark="mine", weather="frost", seen="2", **pool)
    assert other.status_code == 200
    taken = post(client, change, bites="1", weather="thaw", seen="2", **pool)
    assert "Taken over from them" in taken.text
    assert ">mine</textarea>" in taken.text


def test_a_person_that_changed_meanwhile_is_told(client: TestClient) -> None:
    post(client, "/notebook/person/new", name="A. Example", role="customer")
    change = "/notebook/person/change?name=person 1"
    seen = re.search(r'name="seen" value="(\w+)"', client.get(change).text)
    assert seen is not None
    assert post(client, change, name="A. Example", phone="1", seen=seen[1]).status_code == 200
    late = post(client, change, name="A. Example", phone="2", seen=seen[1])
    assert late.status_code == 422
    assert "Both of you changed" in late.text


def test_a_recipe_changed_by_two_tells_what_differs(client: TestClient) -> None:
    text = Path("examples/copper-wafter.toml").read_text(encoding="utf-8")
    post(client, "/recipes/keep", recipe=text)
    keep = "/recipes/keep?name=Copper wafter"
    post(client, keep, recipe=text.replace('"9 mm"', '"8 mm"'), seen="1")
    late = post(client, keep, recipe=text.replace('"9 mm"', '"10 mm"'), seen="1")
    assert late.status_code == 422
    assert "bait, core" in late.text
    assert "8 mm" in late.text and "10 mm" in late.text


def test_only_the_entry_that_was_looked_at_is_undone(client: TestClient) -> None:
    post(client, "/shelf/in", item="semolina", amount="1 kg")
    seen = re.search(r'name="seen" value="(\w+)"', client.get("/shelf/undo").text)
    assert seen is not None
    post(client, "/shelf/in", item="semolina", amount="2 kg")
    assert post(client, "/shelf/undo", seen=seen[1]).status_code == 422
    assert "3 kg" in client.get("/shelf").text


def test_one_more_row_does_nothing_else(client: TestClient) -> None:
    line = {"line[1].item": "pack", "line[1].amount": "2"}
    answer = post(client, "/orders/new", more="1", **line)
    assert answer.status_code == 200
    assert 'name="line[2].item"' in answer.text
    assert 'value="pack"' in answer.text


def test_terminal_words_are_words_of_these_pages(stocked: TestClient, planned: str) -> None:
    post(stocked, f"/batches/{planned}/made", baits_made="264")
    answer = post(stocked, "/shelf/undo")
    assert answer.status_code == 422
    assert "Take the last step back" in answer.text
    assert "baitwright batch" not in answer.text
