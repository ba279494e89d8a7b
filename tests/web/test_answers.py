"""The question desk: asked, answered, asked back, computed again, sent; baits of a batch too."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from baitwright.advice.grades import Grade
from baitwright.notebook.store import open_notebook
from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.questions.answer_book import answer
from baitwright.workshop.records.record_forms import Told, record
from tests.sheets.test_bench_sheet import words
from tests.web.conftest import HOST, house_at
from tests.web.rooms import Shown, filled
from tests.workshop.records import told


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    place: Path = tmp_path_factory.mktemp("desk") / "notebook.sqlite"
    return filled(place)


@pytest.fixture(scope="module")
def desk(shown: Shown) -> Iterator[TestClient]:
    house = house_at(shown.place, HOST)
    with TestClient(make_app(house), headers={HEADER: token_of(house)}) as made:
        yield made


def test_a_question_is_answered_and_computed_again(desk: TestClient) -> None:
    asked = {"question": "How much?", "levels": "Malt: 12 ml per kg dry mix", "eggs": "3 x 50 ml"}
    answered = desk.post("/ask/new", data=asked)
    assert answered.status_code == 200
    assert "Answered as version 1." in answered.text
    for said in ("2.52 to 3.42 ml in all", "common practice", "safety data sheet", "dry mix does"):
        assert said in answered.text
    name = answered.url.params["name"]
    again = desk.post("/ask/again", params={"name": name})
    assert "Nothing changed: version 1 stands." in again.text
    desk.post(f"/notebook/question/change?name={name}", data={**asked, "eggs": "6 x 50 ml"})
    later = desk.post("/ask/again", params={"name": name})
    assert "Answered as version 2." in later.text
    assert "5.04 to 6.84 ml in all" in later.text
    then = desk.get("/ask/one", params={"name": name, "version": 1})
    assert "2.52 to 3.42 ml in all" in then.text
    assert "An earlier version, as it was given." in then.text
    assert name in desk.get("/ask", params={"words": "6 x 50"}).text


@pytest.mark.parametrize(
    ("level", "says"),
    [("Malt: 5 ml", "For an egg of 50 ml it could be"), ("Malt: 5 drops", "Per what?")],
)
def test_what_is_missing_is_asked_back_and_nothing_is_written(
    desk: TestClient, level: str, says: str
) -> None:
    asked = {"question": "Not clear", "levels": level, "eggs": "3 x 50 ml"}
    answered = desk.post("/ask/new", data=asked)
    assert answered.status_code == 422
    assert says in answered.text
    assert "Not clear" in answered.text  # what was typed stands there still
    assert "None has all of those words" in desk.get("/ask", params={"words": "Not clear"}).text


@pytest.mark.parametrize("ending", [".pdf", ".html", ".txt"])
def test_an_answer_is_handed_out(desk: TestClient, shown: Shown, ending: str) -> None:
    found = desk.get(f"/ask/sheet{ending}", params={"name": shown.question, "paper": "a5"})
    assert found.status_code == 200
    assert b"Answer " + shown.question.encode() in found.content
    assert desk.get("/ask/sheet.doc", params={"name": shown.question}).status_code == 422


def test_what_is_held_is_handed_over_and_purged_with_its_questions(
    desk: TestClient, shown: Shown
) -> None:
    held = json.loads(desk.get("/ask/held.json", params={"person": "person 2"}).content)
    assert {one["kind"] for one in held["records"]} >= {"question", "answer", "complaint"}
    where = {"kind": "person", "name": "person 2"}
    plain = desk.get("/care/purge", params=where).text
    assert f"their question {shown.question}" not in plain
    assert "What they asked too" in plain
    assert (
        f"their question {shown.question}"
        in desk.get("/care/purge", params={**where, "questions": "yes"}).text
    )


def test_baits_of_a_batch_are_answered_by_their_plan(shown: Shown, tmp_path: Path) -> None:
    """Keeping, cores, the lake, a recipe's free bait: each number with what it hangs on."""
    place = tmp_path / "notebook.sqlite"
    place.write_bytes(shown.place.read_bytes())
    now = datetime.now().astimezone()
    book = open_notebook(place, now=now)
    try:
        for topic, head in (
            ("keeping", "In the fridge, 5 °C"),
            ("core", "on 9 mm core (the batch)"),
            ("lake", "Recast after"),
            ("free bait", "eggs for the free bait"),
        ):
            asked: Told = told(
                "question",
                "question=what then?",
                f"about={topic}",
                f"batch={shown.bagged}",
                "recipe=Copper wafter",
                name=topic,
                folder=tmp_path,
            )
            record(book, form_of("question"), asked, now=now)
            found = answer(book, topic, now=now).advice.found
            first = next(one for one in found.statements if one.head == head)
            assert first.is_first
            assert first.grade is Grade.JUDGEMENT
            assert first.rests_on
            assert found.cares
            assert (found.assumptions[0].head == "hangs most on") is (topic != "free bait")
            assert found.factors == "priors"
    finally:
        book.close()


def test_the_chart_for_the_wall_speaks_the_page_s_language(desk: TestClient) -> None:
    asked = {"eggs": "3 x EU L", "level[1].level": "12 ml per kg dry mix", "level[1].name": "Malt"}
    pdf = desk.get("/levels/chart.pdf", params=asked, headers={"accept-language": "de"}).content
    said = words(pdf)
    for one in ("Mengen", "aufziehen bis", "0,96 bis 1,3 ml", "je kg Teig", "Trockener Mix"):
        assert one in said
    for one in ("draw to", "sold as", "per kg paste", "eggs of", "in the 5 ml syringe"):
        assert one not in said
    assert "draw to" in words(desk.get("/levels/chart.pdf", params=asked).content)
