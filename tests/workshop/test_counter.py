"""A shop that packs, joins, sells, takes back and undoes in any order: nothing is lost or made up.

Beside the book runs a plain account in fractions, item by item, that knows nothing of ours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from fractions import Fraction

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, precondition, rule

from baitwright.ledger.entries import Lines, stands
from baitwright.ledger.movements import NOTHING, STEP, Movement, Reason
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.stock_moves import undo_last
from baitwright.workshop.selling.kits import Kit, keep_kit, put_together, take_apart
from baitwright.workshop.selling.ordering import Wanted, cancel, take_order
from baitwright.workshop.selling.packing import Made, Packing, pack
from baitwright.workshop.selling.returning import CameBack, bring_back
from baitwright.workshop.selling.sending import send
from baitwright.workshop.selling.takings import takings
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.traces.order_records import orders, orders_on
from baitwright.workshop.traces.orders import State, Where
from tests.workshop.counter import NOW, TODAY, held, pieces, stocked
from tests.workshop.machine import OverTheUseCases

FEW = st.integers(1, 6)
GOES = (Reason.PACKED, Reason.SOLD, Reason.USED)
ITEMS = ("wafters", "pack", "box", "hooks")


class Counter(OverTheUseCases):
    """A counter over the use cases; a refusal leaves everything as it was."""

    @initialize()
    def opens(self) -> None:
        self.begin()
        self.baits = stocked(self.book)["baits"]
        bring_in(self.book, Delivery("pack", pieces(3), Decimal("2.99")), now=NOW)
        parts = (("pack", pieces(1)), ("hooks", pieces(3)))
        keep_kit(self.book, Kit("box", parts), now=NOW)
        self.before: dict[str, object] | None = None

    def state(self) -> dict[str, object]:
        found = shelves(self.book)
        stock = {one.item: one.account for one in found if one.account.amount}
        lots = {lot.lot: (lot.held, lot.reserved) for one in found for lot in one.lots if lot.held}
        with self.book.reading() as page:
            told = {one.name: (one.state, one.back) for one in orders_on(page, page.entry_lines)}
        return {"stock": stock, "lots": lots, "orders": told}

    def run(self, call: Callable[[], object]) -> dict[str, object] | None:
        """Do something that writes an entry, or is refused and changes nothing."""
        before = super().run(call)
        self.before = before or self.before
        return before

    @rule(packs=FEW, each=st.integers(1, 12), lost=st.integers(0, 3), bags=FEW)
    def packs(self, packs: int, each: int, lost: int, bags: int) -> None:
        told = Packing(self.baits, "pack", packs, each, lost, (("bags", pieces(bags)),))
        self.run(lambda: conserved(pack(self.book, told, now=NOW)))

    @rule(count=FEW)
    def joins(self, count: int) -> None:
        self.run(lambda: conserved(put_together(self.book, "box", count, now=NOW)))

    @rule(count=FEW, at=st.integers(0, 5))
    def parts(self, count: int, at: int) -> None:
        lots = [lot for lot in held(self.book) if self.is_box(lot)]
        if lots:
            lot = lots[at % len(lots)]
            self.run(lambda: conserved(take_apart(self.book, lot, count, now=NOW)))

    def is_box(self, lot: str) -> bool:
        with self.book.reading() as page:
            return page.latest("lot of kits", lot) is not None

    @rule(item=st.sampled_from(ITEMS), count=FEW, more=FEW, sent=st.booleans())
    def sells(self, item: str, count: int, more: int, *, sent: bool) -> None:
        lines = ((item, count), ("hooks", more))
        wanted = [Wanted(one, pieces(units), Decimal(3)) for one, units in lines]
        self.before = None  # an order writes no entry: there is none of it to undo
        try:
            name = take_order(self.book, "", wanted, now=NOW, day=TODAY).order.name
        except InputError:
            assert item == "box"  # there was never one
        else:
            if sent:
                self.run(lambda: send(self.book, name, now=NOW, day=TODAY))

    @rule(at=st.integers(0, 5))
    def cancels(self, at: int) -> None:
        found = [one.name for one in orders(self.book) if one.state is State.OPEN]
        if found:
            self.before = None
            cancel(self.book, found[at % len(found)], now=NOW, why="")

    @rule(at=st.integers(0, 5), count=FEW, where=st.sampled_from(Where))
    def takes_back(self, at: int, count: int, where: Where) -> None:
        found = [one for one in orders(self.book) if one.entry is not None]
        if found:
            order = found[at % len(found)]
            with self.book.reading() as page:
                lot = page.entry_lines(order.entry)[0].lot
            came = CameBack(lot, pieces(count), Decimal(0), where, "torn")
            self.run(lambda: bring_back(self.book, order.name, came, now=NOW, day=TODAY))

    @rule(item=st.sampled_from(("bags", "hooks", "pack")), count=FEW, price=st.integers(0, 999))
    def buys(self, item: str, count: int, price: int) -> None:
        came = Delivery(item, pieces(count), Decimal(price) / 100)
        self.run(lambda: bring_in(self.book, came, now=NOW))

    @precondition(lambda self: self.before is not None)
    @rule(times=st.integers(1, 3))
    def undoes(self, times: int) -> None:
        after = self.state()
        for _ in range(times):
            undo_last(self.book, now=NOW)
        assert self.state() == (self.before if times % 2 else after)
        if times % 2:
            self.before = None

    @invariant()
    def the_book_is_in_order(self) -> None:
        """Nothing is below nothing or twice spoken for; money and averages are as they must be."""
        for one in shelves(self.book):
            assert one.account.value >= 0
            assert all(0 <= lot.reserved <= lot.held for lot in one.lots)
        with self.book.reading() as page:
            written = page.entries()
        self.all_that_was_paid_stands_on_the_shelf_or_is_a_cost_of_sales(written)
        averages_are_what_fractions_say(one for lines in written.values() for one in lines)

    def all_that_was_paid_stands_on_the_shelf_or_is_a_cost_of_sales(
        self, written: Mapping[int, Lines]
    ) -> None:
        def entries(entry: int) -> Lines:
            return written.get(entry, ())

        found = (lines for entry, lines in written.items() if stands(entry, entries))
        bought = (one.value for lines in found for one in lines if one.reason is Reason.BOUGHT)
        told = takings(self.book)
        costs = (one.cost for one in told.sales)
        assert told.stock + sum(costs, NOTHING) == sum(bought, NOTHING)


def averages_are_what_fractions_say(lines: Iterable[Movement]) -> None:
    amount: dict[str, int] = {}
    value: dict[str, Fraction] = {}
    for one in lines:
        there, worth = amount.get(one.item, 0), value.get(one.item, Fraction(0))
        if one.amount < 0 and one.reason in GOES:
            gone = worth * -one.amount / there
            assert abs(Fraction(-one.value) - gone) <= Fraction(STEP) / 2
        amount[one.item] = there + one.amount
        value[one.item] = worth + Fraction(one.value)


def conserved(made: Made) -> None:
    assert sum(one.value for one in made.lines) == 0


TestCounter = Counter.TestCase
TestCounter.settings = settings(max_examples=8, stateful_step_count=20, deadline=None)
