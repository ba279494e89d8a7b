"""A batch that was planned here and made elsewhere comes home: stock, bags, trace and undoing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Amount, Counted
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.bags import Bagging, bag, batch_with_bags
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import cancel_batch, plan_into
from baitwright.workshop.entries.batch_unmade import step_back
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.sending import send
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.traces import trace
from tests.notebook.kitchen import DAY, NOW
from tests.notebook.random_book import everything
from tests.workshop.batching import DELIVERIES, PLAN, held
from tests.workshop.shelf import path, planned
from tests.workshop.test_exchange import exported, hindered, imported, notebook, parted

BATCH = "2026-11-27/B1"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    with notebook(tmp_path) as opened:
        for one in DELIVERIES:
            bring_in(opened, one, now=NOW)
        plan_into(opened, path(PLAN[0]), planned(*PLAN), now=NOW)
        yield opened


@pytest.fixture
def other(book: Notebook, tmp_path: Path) -> Iterator[Notebook]:
    """The notebook in the shed, the same until now."""
    opened = parted(book, tmp_path)
    yield opened
    opened.close()


def make(book: Notebook, *, hours: int) -> None:
    table = BatchTable.model_construct(baits_made=264)
    made(book, BATCH, Making(table), now=NOW + timedelta(hours=hours))


def test_made_in_the_shed_it_is_made_here(book: Notebook, other: Notebook) -> None:
    make(other, hours=1)
    bags = bag(other, BATCH, Bagging(50, 2), now=NOW + DAY)
    malt = Taking("Malt", Amount(1_000, Counted.MICROLITRES))
    take_out(book, malt, now=NOW + DAY)
    assert imported(book, exported(other).path).is_done
    take_out(other, malt, now=NOW + DAY)
    assert held(book) == held(other)
    found, (first, second) = batch_with_bags(book, BATCH)
    assert [first.name, second.name] == list(bags)
    assert found.body is not None
    (entry,) = found.body["entries"]
    with book.reading() as page:
        assert {one.item for one in page.entry_lines(entry)} >= {"Eggs", "Copper wafter baits"}
    assert trace(book, bags[0]) == trace(other, bags[0])
    back = imported(other, exported(book).path)  # and what was taken here goes to the shed
    assert back.is_done
    assert back.merge is not None
    assert len(back.merge.entries) == 0  # the same was written there by hand at the same moment


def test_made_in_the_shed_it_can_be_taken_back_here(book: Notebook, other: Notebook) -> None:
    before = held(book)
    make(other, hours=1)
    take_out(book, Taking("Eggs", Amount(1, Counted.PIECES)), now=NOW + DAY)
    assert imported(book, exported(other).path).is_done
    step_back(book, BATCH, now=NOW + 2 * DAY)
    after = held(book)
    assert after.pop("Eggs")[:2] == (29, 3)
    assert after.pop("Copper wafter baits")[0] == 0
    assert after == {item: told for item, told in before.items() if item != "Eggs"}


def test_made_on_both_sides_it_is_two_batches(book: Notebook, other: Notebook) -> None:
    make(book, hours=1)
    make(other, hours=2)
    assert f"lot {BATCH} is one thing here and another in the file." in hindered(book, other)


def test_cancelled_on_both_sides_it_is_let_go_once(book: Notebook, other: Notebook) -> None:
    cancel_batch(book, BATCH, now=NOW + DAY)
    cancel_batch(other, BATCH, now=NOW + 2 * DAY)
    assert "that was kept for batch 2026-11-27/B1." in hindered(book, other)


@pytest.mark.parametrize("again", [0, 1, 2])
def test_an_order_taken_back_in_the_shed_leaves_no_trace_here(
    book: Notebook, tmp_path: Path, again: int
) -> None:
    """The order's record is the same then, for the book alone says that it was taken back."""
    bring_in(book, Delivery("wafters", Amount(9, Counted.PIECES), Decimal(1)), now=NOW)
    wanted = [Wanted("wafters", Amount(4, Counted.PIECES), Decimal(1))]
    take_order(book, "", wanted, now=NOW, day=NOW.date())
    send(book, "1", now=NOW, day=NOW.date())
    (lot,) = (link.source.name for link in sale(book))
    shed = parted(book, tmp_path)
    for hours in range(1, 2 + again):
        undo_last(shed, now=NOW + timedelta(hours=hours))
    assert imported(book, exported(shed).path).is_done
    assert sale(book) == sale(shed)
    assert len(sale(book)) == (1 if again == 1 else 0)
    assert trace(book, lot) == trace(shed, lot)
    assert imported(shed, exported(book).path).is_done
    assert sale(book) == sale(shed)
    shed.close()


def test_bags_taken_back_in_the_shed_leave_no_trace_here(book: Notebook, tmp_path: Path) -> None:
    make(book, hours=1)
    bag(book, BATCH, Bagging(50), now=NOW + DAY)
    shed = parted(book, tmp_path)
    undo_last(shed, now=NOW + 2 * DAY)
    assert imported(book, exported(shed).path).is_done
    with book.reading() as here, shed.reading() as there:
        assert here.links() == there.links()
        assert not any(link.into.stop is Stop.BAG for link in here.links())
    shed.close()


def sale(book: Notebook) -> list[Link]:
    with book.reading() as page:
        return [link for link in page.links() if link.into == Place(Stop.SALE, "order 1")]


def test_the_shelf_is_that_of_its_lines(book: Notebook, other: Notebook) -> None:
    make(other, hours=1)
    assert imported(book, exported(other).path).is_done
    ours, theirs = everything(book), everything(other)
    assert ours["levels"] == theirs["levels"]
    listed = [{**row, "revision": 0} for row in ours["newest"]]
    assert listed == [{**row, "revision": 0} for row in theirs["newest"]]
    assert shelves(book) == shelves(other)
