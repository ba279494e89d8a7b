"""Same as last time? A batch beside the maker's own good ones: what differs, and what does not."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import cancel_batch, plan_into
from baitwright.workshop.batches.same_asked import same_batch
from baitwright.workshop.batches.same_words import plans_beside, same_json, same_text
from baitwright.workshop.entries.stock_moves import count_lot
from baitwright.workshop.plans.plan_beside import Beside as Plans
from baitwright.workshop.shelf.deliveries import bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.quarantine import quarantine
from tests.workshop.batching import DELIVERIES, NOW, PLAN
from tests.workshop.shelf import path, planned

NOTHING = Plans((), ())


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    for one in DELIVERIES[:3]:  # corks for one batch only
        bring_in(made, one, now=NOW)
    yield made
    made.close()


def batch(book: Notebook, day: int, **told: object) -> str:
    """A batch made so many days after the first."""
    now, told = NOW + timedelta(days=day), {"baits_made": 264, **told}
    name = plan_into(book, path(PLAN[0]), planned(*PLAN), now=now, told={}).name
    made(book, name, Making(BatchTable.model_construct(**told)), now=now)
    return name


def test_the_first_batch_has_nothing_to_be_held_against(book: Notebook) -> None:
    batch(book, 0)
    same = same_batch(book)
    assert same.good == ()
    assert "no good one of this recipe" in same_text(same, NOTHING)


def test_a_batch_like_the_others_is_the_same(book: Notebook) -> None:
    names = [batch(book, day, twenty_fresh=0.0334 + 0.0002 * day) for day in range(3)]
    same = same_batch(book)
    assert (same.batch, same.good, same.count) == (names[2], tuple(names[:2]), 0)
    assert [one.value for one in same.things] == ["bait, fresh", "baits"]
    assert "the same, beside 2 good ones" in same_text(same, plans_beside(book, same))


def test_a_weight_that_stands_out_says_what_it_moves(book: Notebook) -> None:
    for day, fresh in enumerate((0.0334, 0.0338, 0.0336)):
        batch(book, day, twenty_fresh=fresh)
    batch(book, 3, twenty_fresh=0.0400)
    same = same_batch(book)
    assert [one.value for one in same.outside] == ["bait, fresh"]
    said = same_text(same, NOTHING)
    assert "1 thing differs" in said
    assert "! bait, fresh: 2 g, yours lie between" in said
    assert "it moves size, boil and lift" in said
    told = json.loads(same_json(same, NOTHING))
    assert [row["is_outside"] for row in told["things"]] == [True, False]


def test_another_lot_is_told_with_what_to_weigh(book: Notebook) -> None:
    batch(book, 0)
    eggs = DELIVERIES[1]
    bring_in(book, eggs, now=NOW + timedelta(days=1))
    before = same_lot(book)
    count_lot(book, before, Amount(0, Counted.PIECES), now=NOW + timedelta(days=1))
    batch(book, 2)
    (lot,) = same_batch(book).lots
    assert (lot.item, lot.before) == ("Eggs", (before,))
    assert lot.lot != before
    assert lot.check.startswith("weigh the eggs")


def same_lot(book: Notebook) -> str:
    """The lot that eggs came from so far."""
    with book.reading() as page:
        return next(lot for lot, held in page.lots("Eggs").items() if 0 < held < 30)


@pytest.mark.parametrize("wrong", ["quarantine", "complaint", "few good"])
def test_what_went_wrong_is_none_of_the_good_ones(book: Notebook, wrong: str) -> None:
    first = batch(book, 0, **({"baits_good": 200} if wrong == "few good" else {}))
    second = batch(book, 1)
    batch(book, 2)
    if wrong == "quarantine":
        quarantine(book, first, why="mould", now=NOW)
    if wrong == "complaint":
        with book.writing() as page:
            page.write("complaint", "1", {"what": "mould", "bag": f"{first}/2"}, seen=0, time=NOW)
    assert same_batch(book).good == (second,)


def test_what_was_planned_otherwise_comes_with_what_follows(book: Notebook) -> None:
    batch(book, 0)
    harder = path(PLAN[0]).read_text("utf-8").replace('"10 %"\nbasis', '"8 %"\nbasis')
    request = planned(*PLAN)
    plan_into(book, harder, request, now=NOW + timedelta(days=1))
    same = same_batch(book)
    assert same.versions == (1, 2)
    (change,) = same.recipe
    assert (change.before, change.after) == ("10 %", "8 %")
    plans = plans_beside(book, same)
    assert [(one.entry, one.after) for one in plans.told] == [("hardener, share", "8 %")]
    assert plans.numbers == ()  # the invented plan was of the same request
    assert "! recipe: " in same_text(same, plans)


def test_a_cancelled_batch_is_refused(book: Notebook) -> None:
    name = plan_into(book, path(PLAN[0]), planned(*PLAN), now=NOW).name
    cancel_batch(book, name, now=NOW)
    with pytest.raises(InputError, match="planned or made"):
        same_batch(book, name)
