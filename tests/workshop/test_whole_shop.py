"""A shop that makes, bags, packs, sells, sets aside and undoes in any order: the shelf stays true.

What an item without units is worth, what each lot is spoken for, where nothing may be picked, and
what undoing twice leads to are stated beside the use cases, out of the book's own lines.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, rule

from baitwright.ledger.entries import Lines, root_of
from baitwright.ledger.movements import Reason
from baitwright.workshop.bags import Bagging, bag
from baitwright.workshop.batch_file import BatchTable
from baitwright.workshop.batch_made import Making, made
from baitwright.workshop.batch_unmade import step_back
from baitwright.workshop.batches import BATCH, cancel_batch
from baitwright.workshop.deliveries import Delivery, bring_in
from baitwright.workshop.lots import LOT
from baitwright.workshop.order_records import orders
from baitwright.workshop.ordering import Wanted, cancel, take_order
from baitwright.workshop.orders import Where
from baitwright.workshop.packing import Packing, pack
from baitwright.workshop.returning import CameBack, bring_back
from baitwright.workshop.sending import send
from baitwright.workshop.stock import shelves
from baitwright.workshop.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.traces import quarantine, release
from tests.workshop.batching import NOW, of_weight, plan_one
from tests.workshop.counter import pieces
from tests.workshop.machine import OverTheUseCases

BAITS, PACK = "Copper wafter baits", "pack"
TODAY = NOW.date()
AT = st.integers(0, 5)
FEW = st.integers(1, 40)
STOCK = (
    Delivery("Copper", of_weight(2000), Decimal("8.00")),
    Delivery("Eggs", pieces(30), Decimal("6.00")),
    Delivery("cork ball 9 mm", pieces(1500), Decimal("75.00")),
    Delivery(BAITS, pieces(50), Decimal("1.01")),
)


class Shop(OverTheUseCases):
    """A shop over the use cases; a refusal leaves everything as it was."""

    @initialize()
    def opens(self) -> None:
        self.begin()
        for one in STOCK:
            bring_in(self.book, one, now=NOW)
        told = BatchTable.model_construct(baits_made=60, tub_used=0.3)
        made(self.book, plan_one(self.book).name, Making(told), now=NOW)
        self.seen = 0

    def state(self) -> dict[str, object]:
        """Stock, money, what is spoken for by whom, traces, and how far all is."""
        with self.book.reading() as page:
            lots = [one.name for one in page.all(LOT)]
            held = {one: page.holders(one) for one in lots}
            return {
                "stock": {lot: units for _, lot, units in page.stock()},
                "worth": {item: one for item, one in page.accounts().items() if one.amount},
                "kept": {lot: dict(kept) for lot, kept in held.items() if kept},
                "links": set(page.links()),
                "batches": {one.name: (one.body or {})["state"] for one in page.all(BATCH)},
                "bags": {one.name for one in page.all("bag")},
                "orders": {one.name: (one.state, one.back) for one in orders(self.book)},
            }

    def lot(self, item: str, at: int) -> str | None:
        """One of an item's lots that are not empty."""
        with self.book.reading() as page:
            lots = sorted(page.lots(item))
        return lots[at % len(lots)] if lots else None

    def batch(self, at: int) -> str | None:
        with self.book.reading() as page:
            found = [one.name for one in page.all(BATCH)]
        return found[at % len(found)] if found else None

    @rule()
    def plans(self) -> None:
        self.run(lambda: plan_one(self.book))

    @rule(at=AT, good=FEW, used=st.integers(50, 900))
    def makes(self, at: int, good: int, used: int) -> None:
        name = self.batch(at)
        told = BatchTable.model_construct(baits_made=good, tub_used=used / 1000)
        if name is not None:
            self.run(lambda: made(self.book, name, Making(told), now=NOW))

    @rule(at=AT)
    def steps_back(self, at: int) -> None:
        name = self.batch(at)
        if name is not None:
            self.run(lambda: step_back(self.book, name, now=NOW))

    @rule(at=AT)
    def calls_off(self, at: int) -> None:
        name = self.batch(at)
        if name is not None:
            self.run(lambda: cancel_batch(self.book, name, now=NOW))

    @rule(at=AT, baits=FEW)
    def bags(self, at: int, baits: int) -> None:
        name = self.batch(at)
        if name is not None:
            self.run(lambda: bag(self.book, name, Bagging(baits), now=NOW))

    @rule(at=AT, packs=st.integers(1, 3), each=st.integers(1, 12), lost=st.integers(0, 2))
    def packs(self, at: int, packs: int, each: int, lost: int) -> None:
        lot = self.lot(BAITS, at)
        if lot is not None:
            told = Packing(lot, PACK, packs, each, lost)
            self.run(lambda: pack(self.book, told, now=NOW))

    @rule(item=st.sampled_from((BAITS, PACK)), count=FEW)
    def sells(self, item: str, count: int) -> None:
        wanted = [Wanted(item, pieces(count), Decimal("0.30"))]
        self.run(lambda: take_order(self.book, "", wanted, now=NOW, day=TODAY))

    @rule(at=AT)
    def sends(self, at: int) -> None:
        self.run(lambda: send(self.book, str(at + 1), now=NOW, day=TODAY))

    @rule(at=AT)
    def cancels(self, at: int) -> None:
        self.run(lambda: cancel(self.book, str(at + 1), now=NOW, why=""))

    @rule(at=AT, count=st.integers(1, 5), where=st.sampled_from(Where))
    def takes_back(self, at: int, count: int, where: Where) -> None:
        found = [one for one in orders(self.book) if one.entry is not None]
        if found:
            order = found[at % len(found)]
            with self.book.reading() as page:
                lot = page.entry_lines(order.entry)[0].lot
            came = CameBack(lot, pieces(count), Decimal(0), where, "torn")
            self.run(lambda: bring_back(self.book, order.name, came, now=NOW, day=TODAY))

    @rule(
        item=st.sampled_from((BAITS, PACK)),
        at=AT,
        count=FEW,
        reason=st.sampled_from((Reason.USED, Reason.SOLD, Reason.LOST)),
        named=st.booleans(),
    )
    def takes(self, item: str, at: int, count: int, reason: Reason, *, named: bool) -> None:
        lot = self.lot(item, at)
        if lot is not None:
            told = Taking(item, pieces(count), reason, lot if named else "")
            self.run(lambda: take_out(self.book, told, now=NOW))

    @rule(item=st.sampled_from((BAITS, PACK, "Copper")), at=AT)
    def sets_aside(self, item: str, at: int) -> None:
        lot = self.lot(item, at)
        if lot is not None:
            self.run(lambda: quarantine(self.book, lot, "musty", now=NOW))

    @rule(item=st.sampled_from((BAITS, PACK, "Copper")), at=AT)
    def lets_out(self, item: str, at: int) -> None:
        lot = self.lot(item, at)
        if lot is not None:
            self.run(lambda: release(self.book, lot, "a second look", now=NOW))

    @rule()
    def undoes(self) -> None:
        self.run(lambda: undo_last(self.book, now=NOW))

    @rule()
    def undoes_twice(self) -> None:
        """Where it was before, even where the second undoing is refused."""
        before = self.state()
        if self.run(lambda: undo_last(self.book, now=NOW)) and self.run(
            lambda: undo_last(self.book, now=NOW)
        ):
            assert self.state() == before

    @invariant()
    def nothing_is_worth_something(self) -> None:
        for one in shelves(self.book):
            assert one.account.value >= 0
            assert one.account.amount >= 0
            assert one.account.amount or not one.account.value

    @invariant()
    def what_is_kept_is_there(self) -> None:
        for one in shelves(self.book):
            assert all(0 <= lot.reserved <= lot.held for lot in one.lots)

    @invariant()
    def nothing_goes_out_of_quarantine(self) -> None:
        """Each entry that was written since the last look, by what is in quarantine."""
        with self.book.reading() as page:
            written = page.entries()
            aside = {one.name for one in page.all(LOT) if (one.body or {})["quarantined"]}
        for entry in range(self.seen + 1, len(written) + 1):
            assert not aside & picked(entry, written)
        self.seen = len(written)


def picked(entry: int, written: Mapping[int, Lines]) -> set[str]:
    """Lots that an entry takes from for use or sale, be it done again by undoing its undoing."""

    def entries(one: int) -> Lines:
        return written.get(one, ())

    root = root_of(entry, entries)
    is_undone = (entry - root) % 2 == 1
    lines = () if is_undone else written[root]
    goes = (Reason.USED, Reason.PACKED, Reason.SOLD)
    return {one.lot for one in lines if one.amount < 0 and one.reason in goes}


TestShop = Shop.TestCase
TestShop.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
