"""Batches, bags, orders, quarantine and the undo on one shelf: none takes what is another's."""

from __future__ import annotations

from dataclasses import asdict, replace
from datetime import timedelta
from decimal import Decimal

import pytest

from baitwright.ledger.movements import Account, Amount, Reason
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, bag
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batch_needs import Part, Wish, mass
from baitwright.workshop.batches.batches import batch_of, write_state
from baitwright.workshop.costs.costs import cost_of_batch
from baitwright.workshop.entries.batch_unmade import step_back
from baitwright.workshop.entries.stock_moves import Taking, count_lot, take_out, undo_last
from baitwright.workshop.selling.ordering import Wanted, cancel, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.selling.returning import CameBack, bring_back
from baitwright.workshop.selling.sending import send
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.drawing import Need, draw
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.orders import Where
from baitwright.workshop.traces.quarantine import quarantine, release
from baitwright.workshop.traces.traces import trace
from tests.workshop.batching import DELIVERIES, NOW, held, make_one, of_weight, plan_one
from tests.workshop.counter import pieces
from tests.workshop.records import write

BAITS = "Copper wafter baits"
TODAY = NOW.date()


@pytest.fixture
def book(book: Notebook) -> Notebook:
    corks = Delivery("cork ball 9mm", pieces(500), Decimal("25.00"))
    for one in (*DELIVERIES, corks):
        bring_in(book, one, now=NOW)
    return book


def account(book: Notebook, item: str = BAITS) -> Account:
    return next(one.account for one in shelves(book) if one.item == item)


def lots_of(book: Notebook, item: str) -> dict[str, int]:
    (shelf,) = (one for one in shelves(book) if one.item == item)
    return {one.lot: one.held for one in shelf.lots if one.held}


def order(book: Notebook, item: str, count: int) -> str:
    wanted = [Wanted(item, pieces(count), Decimal("0.20"))]
    return take_order(book, "", wanted, now=NOW, day=TODAY).order.name


@pytest.mark.parametrize("unmade", [0, 1])
def test_a_batch_unmade_after_a_sale_leaves_no_value_without_baits(
    book: Notebook, unmade: int
) -> None:
    names = [make_one(book, tub_used=used).name for used in (0.2, 3.0)]
    before = sum(one[2] for one in held(book).values())
    sold = take_out(book, Taking(BAITS, pieces(264), Reason.SOLD, lot=names[1 - unmade]), now=NOW)
    step_back(book, names[unmade], now=NOW)
    assert account(book) == Account(0, Decimal(0))
    after = sum(one[2] for one in held(book).values())
    assert before - after == -sum(one.value for one in sold)


def test_a_batch_unmade_before_any_went_is_worth_what_it_took(book: Notebook) -> None:
    make_one(book, tub_used=0.2)
    before = held(book)
    name = make_one(book, tub_used=3.0).name
    step_back(book, name, now=NOW)
    assert {item: one[2] for item, one in held(book).items()} == {
        item: one[2] for item, one in before.items()
    }


def test_baits_made_of_nothing_on_the_shelf_cannot_bear_the_value_of_others(
    book: Notebook,
) -> None:
    name = plan_one(book).name
    for item in ("Copper", "Eggs", "Malt", "cork ball 9mm"):
        for lot, units in lots_of(book, item).items():
            counted = next(one.counted for one in shelves(book) if one.item == item)
            told = Taking(item, Amount(units, counted), lot=lot, override="moved out")
            take_out(book, told, now=NOW)
    free = BatchTable.model_construct(baits_made=100)
    made(book, name, Making(free, why_short="nothing is written down"), now=NOW)
    other = bring_in(book, Delivery(BAITS, pieces(100), Decimal(50)), now=NOW)
    take_out(book, Taking(BAITS, pieces(100), Reason.SOLD, lot=other), now=NOW)
    with pytest.raises(InputError, match="something to bear it"):
        step_back(book, name, now=NOW)


def eggs(name: str, *amounts: Amount) -> Wish:
    return Wish(Part.EGGS, name, amounts)


WHOLE = eggs("eggs", pieces(3), mass(0.15))
WHITE = eggs("egg white", mass(0.036))


@pytest.mark.parametrize(
    ("wishes", "drawn"),
    [((WHOLE, WHITE), (197_000, 36_000)), ((WHITE, WHOLE, WHOLE), (36_000, 197_000))],
)
def test_eggs_that_are_told_are_whole_eggs_and_drawn_once(
    book: Notebook, wishes: tuple[Wish, ...], drawn: tuple[int, ...]
) -> None:
    for item in ("eggs by weight", "egg white"):
        bring_in(book, Delivery(item, of_weight(5000), Decimal("20.00")), now=NOW)
    name = plan_one(book).name
    named = [replace(one, name="eggs by weight") if one.name == "eggs" else one for one in wishes]
    with book.writing() as page:
        found = batch_of(page, name)
        write_state(page, found, {"wishes": [asdict(one) for one in named]}, now=NOW)
    told = BatchTable.model_construct(baits_made=264, eggs=(0.064, 0.066, 0.067))
    used = made(book, name, Making(told), now=NOW).used
    assert tuple(-one.amount for one in used) == drawn


def test_a_cancelled_order_is_not_sent_by_undoing_twice(book: Notebook) -> None:
    make_one(book)
    name = order(book, BAITS, 10)
    send(book, name, now=NOW, day=TODAY)
    undo_last(book, now=NOW)
    cancel(book, name, now=NOW, why="changed their mind")
    with pytest.raises(InputError, match=f"order {name}: got 'cancelled'"):
        undo_last(book, now=NOW)
    assert account(book).amount == 264


def test_what_a_night_tells_of_is_not_undone(book: Notebook) -> None:
    name = make_one(book).name
    write(book, "night", "water=Long Reedpool", f"rod[1].bag={name}", name="Late")
    with pytest.raises(InputError, match="of it went into: night Late"):
        step_back(book, name, now=NOW)
    (bagged,) = bag(book, name, Bagging(50), now=NOW)
    write(book, "night", f"rod[1].bag={bagged}", name="Late")
    with pytest.raises(InputError, match="of it went into: night Late"):
        undo_last(book, now=NOW)
    assert [one.name for one in trace(book, name).recall] == [bagged, "Late"]


def test_a_batch_that_was_sent_and_came_back_keeps_its_trace(book: Notebook) -> None:
    name = make_one(book).name
    number = order(book, BAITS, 10)
    send(book, number, now=NOW, day=TODAY)
    back = CameBack(name, pieces(10), Decimal(0), Where.SHELF)
    bring_back(book, number, back, now=NOW, day=TODAY)
    with pytest.raises(InputError, match=f"of it went into: sale order {number}"):
        step_back(book, name, now=NOW)
    assert [one.name for one in trace(book, name).recall] == [f"order {number}"]


@pytest.fixture
def grits(book: Notebook) -> tuple[str, str]:
    """Two lots of 100 g each."""
    came = Delivery("grits", of_weight(100), Decimal(1))
    return bring_in(book, came, now=NOW), bring_in(book, came, now=NOW)


@pytest.mark.parametrize(("each", "left"), [(80, (0, 40)), (120, (0, -40))])
def test_two_needs_of_one_item_are_picked_together(
    book: Notebook, grits: tuple[str, str], each: int, left: tuple[int, int]
) -> None:
    needs = [Need("grits", of_weight(each))] * 2
    with book.writing() as page:
        page.post(draw(page, needs, time=NOW, why_short="a heavy hand"))
    found = lots_of(book, "grits")
    assert tuple(found.get(lot, 0) for lot in grits) == tuple(1000 * one for one in left)


def test_what_an_order_keeps_is_neither_bagged_nor_taken_by_its_lot(book: Notebook) -> None:
    name = make_one(book).name
    order(book, BAITS, 260)
    with pytest.raises(InputError, match=r"4 baits at most.*260 of it are spoken for"):
        bag(book, name, Bagging(5), now=NOW)
    for reason in (Reason.USED, Reason.LOST):
        with pytest.raises(InputError, match=r"4 at most.*260 of it are spoken for"):
            take_out(book, Taking(BAITS, pieces(5), reason, lot=name), now=NOW)
    bag(book, name, Bagging(2), now=NOW)
    take_out(book, Taking(BAITS, pieces(2), lot=name), now=NOW)
    told = Taking(BAITS, pieces(1), Reason.LOST, lot=name, override="the dog")
    assert take_out(book, told, now=NOW)[0].amount == -1


def test_a_batch_in_quarantine_is_not_unmade_and_made_again_out_of_it(book: Notebook) -> None:
    name = make_one(book).name
    quarantine(book, name, "musty", now=NOW)
    with pytest.raises(InputError, match=r"not in quarantine\. musty"):
        step_back(book, name, now=NOW)
    release(book, name, "it was the cupboard", now=NOW)
    step_back(book, name, now=NOW)


@pytest.mark.parametrize("why", ["", "all the same"])
def test_nothing_but_loss_leaves_quarantine_by_its_lot(book: Notebook, why: str) -> None:
    name = make_one(book).name
    quarantine(book, name, "musty", now=NOW)
    for reason in (Reason.SOLD, Reason.USED):
        with pytest.raises(InputError, match=r"not in quarantine\. musty"):
            take_out(book, Taking(BAITS, pieces(5), reason, lot=name, override=why), now=NOW)
    take_out(book, Taking(BAITS, pieces(264), Reason.LOST, lot=name, override=why), now=NOW)
    assert account(book).amount == 0


def test_what_is_spoken_for_is_not_unmade(book: Notebook) -> None:
    name = make_one(book).name
    number = order(book, BAITS, 100)
    with pytest.raises(InputError, match=f"Spoken for: 100 for order {number}"):
        step_back(book, name, now=NOW)
    cancel(book, number, now=NOW, why="")
    step_back(book, name, now=NOW)


def test_a_delivery_that_a_batch_counts_on_is_not_undone(book: Notebook) -> None:
    take_out(book, Taking("Copper", of_weight(5000)), now=NOW)
    bring_in(book, Delivery("Copper", of_weight(400), Decimal(2)), now=NOW)
    name = plan_one(book).name
    before = held(book)
    with pytest.raises(InputError, match=rf"Spoken for: 270\.5 g for batch {name}"):
        undo_last(book, now=NOW)
    assert held(book) == before


def test_refunds_come_to_no_more_than_was_paid(book: Notebook) -> None:
    name = make_one(book).name
    number = order(book, BAITS, 50)  # 10.00
    send(book, number, now=NOW, day=TODAY)
    one = CameBack(name, pieces(1), Decimal("6.00"), Where.SHELF)
    bring_back(book, number, one, now=NOW, day=TODAY)
    with pytest.raises(InputError, match=r"refund: got '6\.00', but it takes 4\.00 at most"):
        bring_back(book, number, one, now=NOW, day=TODAY)
    undo_last(book, now=NOW)
    bring_back(book, number, replace(one, refund=Decimal("10.00")), now=NOW, day=TODAY)


def test_what_was_lost_and_found_again_is_not_lost(book: Notebook) -> None:
    name = make_one(book).name
    take_out(book, Taking(BAITS, pieces(20), Reason.LOST, lot=name), now=NOW)
    undo_last(book, now=NOW)
    count_lot(book, name, pieces(260), now=NOW)
    undo_last(book, now=NOW)
    assert cost_of_batch(book, name).lost == 0
    undo_last(book, now=NOW)
    assert cost_of_batch(book, name).lost == 4


def test_what_was_used_beyond_the_book_is_not_drawn_from_quarantine(
    book: Notebook, grits: tuple[str, str]
) -> None:
    late = bring_in(book, Delivery("grits", of_weight(100), Decimal(1)), now=NOW)
    take_out(book, Taking("grits", of_weight(300)), now=NOW)
    quarantine(book, grits[0], "musty", now=NOW + timedelta(hours=1))
    quarantine(book, late, "musty", now=NOW)
    needs = [Need("grits", of_weight(5))]
    with book.writing() as page:
        (line,) = draw(page, needs, time=NOW, why_short="a heavy hand")
    assert line.lot == grits[1]
    quarantine(book, grits[1], "musty", now=NOW)
    with pytest.raises(InputError, match="stock of grits"), book.writing() as page:
        draw(page, needs, time=NOW, why_short="a heavy hand")


def test_what_is_short_for_quarantine_is_told(book: Notebook, grits: tuple[str, str]) -> None:
    quarantine(book, grits[0], "musty", now=NOW)
    told = rf"got '120 g', but it takes 100 g at most\. In quarantine: {grits[0]}\. Count"
    with pytest.raises(InputError, match=told), book.writing() as page:
        draw(page, [Need("grits", of_weight(120))], time=NOW)


def test_a_second_look_at_a_lot_does_not_make_it_the_newest(
    book: Notebook, grits: tuple[str, str]
) -> None:
    take_out(book, Taking("grits", of_weight(200)), now=NOW)
    later = NOW + timedelta(hours=1)
    quarantine(book, grits[0], "musty", now=later)
    release(book, grits[0], "it was the cupboard", now=later)
    with book.writing() as page:
        (line,) = draw(page, [Need("grits", of_weight(5))], time=NOW, why_short="a heavy hand")
    assert line.lot == grits[1]


def test_undoing_twice_takes_nothing_out_of_quarantine(book: Notebook) -> None:
    name = make_one(book).name
    pack(book, Packing(name, "pack", 10, 12), now=NOW)
    undo_last(book, now=NOW)
    quarantine(book, name, "musty", now=NOW)
    with pytest.raises(InputError, match=rf"lot: got '{name}', but it takes .* quarantine\. musty"):
        undo_last(book, now=NOW)
    release(book, name, "it was the cupboard", now=NOW)
    undo_last(book, now=NOW)
    number = order(book, "pack", 2)
    send(book, number, now=NOW, day=TODAY)
    undo_last(book, now=NOW)
    quarantine(book, name, "musty", now=NOW)
    with pytest.raises(InputError, match=r"not in quarantine\. musty"):
        undo_last(book, now=NOW)


def test_what_was_lost_of_a_quarantined_lot_may_be_lost_again(book: Notebook) -> None:
    name = make_one(book).name
    quarantine(book, name, "musty", now=NOW)
    take_out(book, Taking(BAITS, pieces(264), Reason.LOST, lot=name), now=NOW)
    for left in (264, 0):
        undo_last(book, now=NOW)
        assert account(book).amount == left
