"""Questions on More: answered as pages with numbers, tables and pictures, by the plan's own."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from baitwright.sheets.text_keep import cautious
from baitwright.sheets.wording import figure
from baitwright.workshop.kept_plan import kept_plan
from baitwright.workshop.plan_told import worked_out
from tests.web.conftest import HOST, house_at
from tests.web.rooms import DOORS, Shown, asked, filled

QUESTIONS = [door for door in DOORS if door.startswith("/ask/")]


@pytest.fixture
def shown(place: Path) -> Shown:
    return filled(place)


def words(page: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", page)))


@pytest.mark.parametrize("door", QUESTIONS)
def test_an_answer_is_a_page_and_no_printout(client: TestClient, shown: Shown, door: str) -> None:
    page = client.get(asked(door, shown)).text
    answer = page.partition('class="answer"')[2]
    assert "<h2>" in answer
    assert "<pre" not in page
    assert "--" not in words(answer)  # options of the command line are no business of a page


def test_answers_are_the_numbers_of_the_plan(client: TestClient, shown: Shown) -> None:
    with house_at(shown.place, HOST).notebook.looking() as book:
        plan = worked_out(kept_plan(book, shown.made))
    pot = client.get(asked("/ask/boil", shown)).text
    own = words(re.findall(r'<tr class="own">.*?</tr>', pot, re.DOTALL)[0])
    assert f" {figure(plan.boil.seconds).number} " in own
    keep = words(client.get(asked("/ask/keep", shown)).text)
    for place in plan.keep.places:
        assert cautious(place) in keep
