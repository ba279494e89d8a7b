"""Prices, kits, cancelled orders and quarantine taken back: as before, and twice does no harm."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, bag
from baitwright.workshop.costs.prices import PRICE, Asking, ask, price_lines
from baitwright.workshop.entries.stock_moves import undo_last
from baitwright.workshop.selling.as_before import kit_as_before, price_as_before
from baitwright.workshop.selling.kits import KIT, Kit, keep_kit, kits, put_together
from baitwright.workshop.selling.ordering import Wanted, cancel, open_again, take_order
from baitwright.workshop.selling.returning import CameBack, bring_back
from baitwright.workshop.selling.sending import send
from baitwright.workshop.shelf.deliveries import bring_in
from baitwright.workshop.shelf.lots import LOT, Lot
from baitwright.workshop.traces.order_records import orders
from baitwright.workshop.traces.orders import ORDER, Order, Where
from baitwright.workshop.traces.quarantine import quarantine, release, take_back
from tests.workshop.batching import DELIVERIES, make_one
from tests.workshop.counter import NOW, TODAY, held, pieces, set_aside, stocked

LATER = NOW + timedelta(hours=1)


def kinds(book: Notebook, kind: str, name: str) -> list[tuple[int, str]]:
    """Every version of a record with its reason."""
    with book.reading() as page:
        return [(one.version, one.reason) for one in page.history(kind, name)]


# --- prices and kits -----------------------------------------------------------------------------


def test_a_price_is_taken_back_and_all_its_versions_stay(book: Notebook) -> None:
    stocked(book)
    ask(book, "hooks", Asking(Decimal("0.50"), Decimal("0.20")), now=NOW)
    ask(book, "hooks", Asking(Decimal("0.70"), without_vat=True), now=NOW)
    for asked, vat in ((Decimal("0.50"), Decimal("0.20")), (Decimal("0.70"), None)):
        price_as_before(book, "hooks", now=LATER)
        (line,) = price_lines(book, "hooks")
        assert (line.asked, line.vat) == (asked, vat)
    told = [(1, ""), (2, ""), (3, "undoes version 2"), (4, "undoes version 3")]
    assert kinds(book, PRICE, "hooks") == told


def test_the_first_price_taken_back_leaves_none(book: Notebook) -> None:
    stocked(book)
    with pytest.raises(InputError, match="price hooks: got nothing"):
        price_as_before(book, "hooks", now=NOW)
    with pytest.raises(InputError, match="item: got 'rods'"):
        price_as_before(book, "rods", now=NOW)
    ask(book, "hooks", Asking(Decimal("0.50")), now=NOW)
    price_as_before(book, "hooks", now=NOW)
    assert price_lines(book) == ()
    with pytest.raises(InputError, match="price of hooks"):
        take_order(book, "", [Wanted("hooks", pieces(1))], now=NOW, day=TODAY)


def test_a_kit_is_what_it_was_and_kits_on_the_shelf_stay(book: Notebook) -> None:
    stocked(book)
    one = Kit("box", (("hooks", pieces(2)),))
    two = replace(one, parts=(*one.parts, ("labels", pieces(1))))
    for told in (one, two):
        keep_kit(book, told, now=NOW)
    put_together(book, "box", 3, now=NOW)
    stands = held(book)
    assert kit_as_before(book, "box", now=NOW) == one
    assert kit_as_before(book, "box", now=NOW) == two
    assert kits(book) == (two,)
    assert held(book) == stands
    assert len(kinds(book, KIT, "box")) == 4


def test_the_first_parts_of_a_kit_taken_back_leave_none(book: Notebook) -> None:
    stocked(book)
    keep_kit(book, Kit("box", (("hooks", pieces(2)),)), now=NOW)
    assert kit_as_before(book, "box", now=NOW) == Kit("box", ())
    assert kits(book) == ()
    with pytest.raises(InputError, match="kit: got 'box'"):
        put_together(book, "box", 1, now=NOW)
    with pytest.raises(InputError, match="kit crate: got nothing"):
        kit_as_before(book, "crate", now=NOW)


# --- orders --------------------------------------------------------------------------------------


def an_order(book: Notebook, count: int = 20) -> Order:
    wanted = [Wanted("hooks", pieces(count), Decimal("0.50"))]
    return take_order(book, "", wanted, now=NOW, day=TODAY).order


def test_cancelling_is_taken_back_once_and_sets_aside_what_is_free(book: Notebook) -> None:
    hooks = stocked(book)["hooks"]
    order = an_order(book)
    before = set_aside(book)
    cancel(book, order.name, now=NOW, why="changed their mind")
    assert open_again(book, order.name, now=LATER).order == order
    assert set_aside(book) == before == {hooks: 20}
    with pytest.raises(InputError, match="order 1: got 'open', but it takes an order that was can"):
        open_again(book, order.name, now=LATER)
    assert set_aside(book) == before
    told = [(1, ""), (2, "changed their mind"), (3, "open again")]
    assert kinds(book, ORDER, order.name) == told


def test_what_somebody_else_has_spoken_for_is_short(book: Notebook) -> None:
    hooks = stocked(book)["hooks"]
    first = an_order(book, 40)
    cancel(book, first.name, now=NOW, why="")
    an_order(book, 30)
    (short,) = open_again(book, first.name, now=NOW).short
    assert (short.item, short.amount) == ("hooks", pieces(20))
    assert set_aside(book) == {hooks: 50}


def test_an_order_sent_undone_and_cancelled_is_open_and_sent_once(book: Notebook) -> None:
    hooks = stocked(book)["hooks"]
    order = an_order(book)
    send(book, order.name, now=NOW, day=TODAY)
    undo_last(book, now=NOW)
    cancel(book, order.name, now=NOW, why="")
    with pytest.raises(InputError, match="cancelled"):
        undo_last(book, now=NOW)
    open_again(book, order.name, now=NOW)
    assert (held(book)[hooks], set_aside(book)) == (50, {hooks: 20})
    undo_last(book, now=NOW)
    assert (held(book)[hooks], set_aside(book)) == (30, {})
    assert orders(book)[0].entry is not None
    with pytest.raises(InputError, match="order 1: got 'sent'"):
        open_again(book, order.name, now=NOW)


# --- quarantine ----------------------------------------------------------------------------------


@pytest.fixture
def baits(book: Notebook) -> str:
    """A shelf with a batch and a bag of it; the batch."""
    for one in DELIVERIES:
        bring_in(book, one, now=NOW)
    name = make_one(book).name
    bag(book, name, Bagging(50), now=NOW)
    return name


def aside(book: Notebook) -> dict[str, str]:
    """Lots in quarantine, each with why."""
    with book.reading() as page:
        found = {one.name: Lot(**(one.body or {})) for one in page.all(LOT)}
    return {name: lot.why for name, lot in found.items() if lot.quarantined}


def test_a_quarantine_taken_back_is_as_if_it_had_not_been(book: Notebook, baits: str) -> None:
    quarantine(book, f"{baits}/1", "split", now=NOW)
    before = aside(book)
    reached = quarantine(book, "S-881", "musty", now=LATER).lots
    assert aside(book)[f"{baits}/1"] == "split; musty"
    found = take_back(book, "S-881", now=LATER)
    assert found.lots == tuple(one for one in reached if one not in before)
    assert found.still == ((f"{baits}/1", "split"),)
    assert aside(book) == before
    with pytest.raises(InputError, match="whose last change was a quarantine"):
        take_back(book, "S-881", now=LATER)
    assert aside(book) == before


def test_a_release_undoes_no_quarantine_and_none_undoes_it(book: Notebook, baits: str) -> None:
    quarantine(book, baits, "musty", now=NOW)
    release(book, baits, "a second look", now=LATER)
    with pytest.raises(InputError, match="whose last change was a quarantine"):
        take_back(book, baits, now=LATER)
    with pytest.raises(InputError, match="a lot in quarantine"):
        release(book, baits, "a second look", now=LATER)
    assert aside(book) == {f"{baits}/1": "musty"}
    assert release(book, baits, "all fine", now=LATER, with_all=True).lots == (f"{baits}/1",)
    assert aside(book) == {}


def test_a_supplier_lot_is_let_out_and_all_that_it_reached(book: Notebook, baits: str) -> None:
    reached = quarantine(book, "S-881", "musty", now=NOW).lots
    copper, *rest = reached
    found = release(book, "S-881", "the mill says so", now=LATER)
    assert found.lots == (copper,)
    assert found.still == tuple((one, "musty") for one in sorted(rest))
    assert release(book, "S-881", "all", now=LATER, with_all=True).lots == tuple(rest)
    assert aside(book) == {}
    with pytest.raises(InputError, match="a lot in quarantine"):
        release(book, "Mill S-881", "again", now=LATER, with_all=True)


def test_what_holds_something_else_in_quarantine_stays_there(book: Notebook, baits: str) -> None:
    for lot in ("2026-11-27/1", "2026-11-27/2"):  # mix and eggs, for one and the same reason
        quarantine(book, lot, "musty", now=NOW)
    out = release(book, "S-881", "the mix is fine", now=LATER, with_all=True)
    assert out.lots == ("2026-11-27/1",)
    assert set(aside(book)) == {"2026-11-27/2", baits, f"{baits}/1"}
    assert take_back(book, "2026-11-27/2", now=LATER).lots[0] == "2026-11-27/2"


def test_lots_of_a_supplier_for_different_reasons_go_one_by_one(book: Notebook, baits: str) -> None:
    second = bring_in(book, DELIVERIES[0], now=NOW, again=True)
    quarantine(book, second, "wet", now=NOW)
    quarantine(book, "2026-11-27/1", "musty", now=NOW)
    with pytest.raises(InputError, match=f"In quarantine: 2026-11-27/1, musty.*{second}, wet"):
        release(book, "S-881", "fine", now=LATER)
    quarantine(book, "S-881", "recalled", now=LATER)
    release(book, "S-881", "not recalled", now=LATER, with_all=True)
    assert aside(book) == dict.fromkeys(("2026-11-27/1", baits, f"{baits}/1"), "musty") | {
        second: "wet"
    }


def test_what_came_back_into_quarantine_stays_there_for_that(book: Notebook) -> None:
    hooks = stocked(book)["hooks"]
    order = an_order(book)
    send(book, order.name, now=NOW, day=TODAY)
    came = CameBack(hooks, pieces(5), Decimal(0), Where.QUARANTINE, "")
    bring_back(book, order.name, came, now=NOW, day=TODAY)
    before = aside(book)
    quarantine(book, hooks, "rust", now=LATER)
    assert take_back(book, hooks, now=LATER).lots == (hooks,)
    assert aside(book) == before
