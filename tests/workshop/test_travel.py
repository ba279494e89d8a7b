"""To the water and back: what goes along, and nights that come home, each once."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, bag
from baitwright.workshop.batches.batches import cancel_batch
from baitwright.workshop.bench.nights_home import take_home
from baitwright.workshop.bench.travel import AT_HOME, NIGHTS, travelling
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.read_records import records
from baitwright.workshop.records.record_forms import take_away
from tests.workshop.batching import NOW, make_one, plan_one


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    yield made
    made.close()


def file_of(*nights: Any) -> str:
    return json.dumps({"kind": NIGHTS, "version": 1, "nights": nights})


def night(mark: str = "abcdefgh12345678", **fields: str) -> dict[str, Any]:
    told = {"water": "Long Reedpool", "day": "2026-11-26", "bites": "0", **fields}
    return {"id": mark, "at": "2026-11-26T20:00:00Z", "fields": told}


def names(book: Notebook) -> list[str]:
    return [one.name for one in records(book, FORMS["night"])]


def test_bags_and_what_is_done_at_the_water_go_along(book: Notebook) -> None:
    batch = make_one(book).name
    bags = bag(book, batch, Bagging(30, 2), now=NOW)
    other = plan_one(book).name
    cancel_batch(book, other, now=NOW)
    told = travelling(book, now=NOW)
    assert [one.batch.name for one in told.taken] == [batch]
    assert told.bags == (*bags, batch)
    assert {step.stage for step in told.taken[0].steps} == {"Bag"}
    fields = {one.name for one in told.night.walk()}
    assert {"water", "rod[1].bag", "rod[3].bites", "weather", "blanks"} <= fields
    assert not {name.partition("[")[0] for name in fields} & set(AT_HOME)


def test_an_empty_notebook_takes_its_form_along(book: Notebook) -> None:
    assert travelling(book, now=NOW).taken == ()


def test_a_night_comes_home_once(book: Notebook) -> None:
    text = file_of(night(), night("zyxwvuts87654321", **{"rod[1].bites": "1", "bites": "1"}))
    first = take_home(book, text, now=NOW)
    assert [one.name for one in first] == [
        "2026-11-26/abcdefgh12345678",
        "2026-11-26/zyxwvuts87654321",
    ]
    again = take_home(book, text, now=NOW)
    assert [(one.was_there, one.differs) for one in again] == [(True, False)] * 2
    assert sorted(names(book)) == sorted(one.name for one in first)


def test_a_night_changed_after_it_was_taken_is_told(book: Notebook) -> None:
    take_home(book, file_of(night()), now=NOW)
    (moved,) = take_home(book, file_of(night(day="2026-11-25", bites="2")), now=NOW)
    assert moved.was_there and moved.differs
    assert names(book) == ["2026-11-26/abcdefgh12345678"]


def test_a_night_that_was_taken_away_stays_away(book: Notebook) -> None:
    (taken,) = take_home(book, file_of(night()), now=NOW)
    take_away(book, FORMS["night"], taken.name, now=NOW, reason="written twice")
    (again,) = take_home(book, file_of(night()), now=NOW)
    assert again.was_there
    assert names(book) == []


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (night(bites="many"), "bites"),
        (night(fish="3"), "fish"),
        (night(day="soon"), "a day such as"),
        (night(**{"rod[1].bag": "2026-11-01/B9/1"}), "a bag or a batch of the notebook"),
        (night(files="notes.txt"), "told at home"),
        (night(owner="P1"), "told at home"),
        (night(day="2036-01-01"), "a day that has come"),
        ({"id": "../../../../etc", "fields": {}}, "as the travelling page wrote it"),
        ({"id": "abcdefgh12345678", "fields": {"water": 7}}, "as the travelling page wrote it"),
        ("a night", "as the travelling page wrote it"),
    ],
)
def test_what_is_wrong_with_one_night_keeps_no_other_out(
    book: Notebook, wrong: Any, said: str
) -> None:
    found = take_home(book, file_of(wrong, night("good-night".replace("-", "0"))), now=NOW)
    assert said in found[0].said
    assert found[1].name == "2026-11-26/good0night"
    assert names(book) == ["2026-11-26/good0night"]


@pytest.mark.parametrize(
    "text", ["", "{}", "[]", "nights", '{"kind": "baitwright nights"}', file_of(*[{}] * 501)]
)
def test_what_is_no_file_of_nights_is_refused(book: Notebook, text: str) -> None:
    with pytest.raises(InputError, match="nights"):
        take_home(book, text, now=NOW)


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(st.lists(_JSON | st.builds(night, mark=_JSON), max_size=3))
def test_no_file_breaks_it(nights: list[Any]) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        book = open_notebook(Path(folder) / "notebook.sqlite", now=NOW)
        try:
            assert len(take_home(book, file_of(*nights), now=NOW)) == len(nights)
        finally:
            book.close()
