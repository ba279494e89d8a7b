"""A shop that makes, mixes, packs, sells, sets aside and undoes in any order: the shelf is true.

What an item without units is worth, what each lot is spoken for, where nothing may be picked, of
what the price is unknown, and what undoing twice leads to are stated beside the use cases, out of
the book's own lines.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, rule

from baitwright.ledger.entries import Lines, root_of, stands
from baitwright.ledger.movements import Amount, Counted, Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Revision
from baitwright.workshop.batches.bags import Bagging, bag
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import cancel_batch
from baitwright.workshop.costs.prices import PRICE, Asking, ask
from baitwright.workshop.entries.batch_unmade import step_back
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.record_forms import take_away, undo
from baitwright.workshop.selling.as_before import kit_as_before, price_as_before
from baitwright.workshop.selling.kits import KIT, Kit, keep_kit, put_together, take_apart
from baitwright.workshop.selling.ordering import Wanted, cancel, open_again, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.selling.returning import CameBack, bring_back
from baitwright.workshop.selling.sending import send
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import LOT, Lot, place_of
from baitwright.workshop.shelf.stock import shelves, standing
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.order_records import orders
from baitwright.workshop.traces.orders import Where
from baitwright.workshop.traces.quarantine import quarantine, release, take_back
from baitwright.workshop.traces.traces import trace
from baitwright.workshop.tubs.mixing import Mixing, mix
from baitwright.workshop.tubs.tellings import MADE_LOTS, is_there
from tests.workshop.batching import NOW, of_weight, plan_one
from tests.workshop.counter import pieces
from tests.workshop.machine import OverTheUseCases
from tests.workshop.records import write
from tests.workshop.shelf import path

BAITS, PACK, BOX, SUPPLIED = "Copper wafter baits", "pack", "box", "Mill S-881"
TODAY = NOW.date()
AT = st.integers(0, 5)
TUBS = st.sampled_from(("T1", "T2"))
NAMED = st.sampled_from((BAITS, PACK, "Copper", "semolina", SUPPLIED))
FEW = st.integers(1, 40)
STOCK = (
    Delivery("Copper", of_weight(2000), Decimal("8.00"), None, "Mill", "S-881"),
    Delivery("Eggs", pieces(30), Decimal("6.00")),
    Delivery("semolina", of_weight(900), Decimal("3.00"), None, "Mill", "S-881"),
    Delivery("Malt", Amount(200_000, Counted.MICROLITRES), Decimal("9.00")),
    Delivery("cork ball 9 mm", pieces(1500), Decimal("75.00")),
    Delivery(BAITS, pieces(50), Decimal("1.01"), None, "Mill", "S-881"),
)
ITEMS = tuple(one.item for one in STOCK)


class Shop(OverTheUseCases):
    """A shop over the use cases; a refusal leaves everything as it was."""

    @initialize(unknown=st.sets(st.sampled_from(ITEMS), max_size=2))
    def opens(self, unknown: set[str]) -> None:
        """Of some of what came nobody said what it cost."""
        self.begin()
        for one in STOCK:
            told = replace(one, value=None) if one.item in unknown else one
            bring_in(self.book, told, now=NOW)
        told = BatchTable.model_construct(baits_made=60, tub_used=0.3)
        made(self.book, plan_one(self.book).name, Making(told), now=NOW)
        self.seen, self.time = 0, NOW

    def now(self) -> datetime:
        """Later with each look: what was set aside at one time was set aside together."""
        self.time += timedelta(minutes=1)
        return self.time

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
                "aside": {one.name: lot.why for one in page.all(LOT) if (lot := lot_in(one))},
                "prices": {one.name: one.body for one in page.all(PRICE)},
                "kits": {one.name: one.body for one in page.all(KIT)},
                "tubs": {one.name: one.body for kind in MADE_LOTS for one in page.all(kind)},
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

    @rule(one=st.sampled_from(STOCK), price=st.none() | st.integers(0, 999))
    def buys(self, one: Delivery, price: int | None) -> None:
        """More of it, and now and then nobody says what it cost; it moves no average then."""
        with self.book.reading() as page:
            before = standing(page, one.item).account(one.item, "")
        value = None if price is None else Decimal(price) / 100
        came = Delivery(one.item, one.amount, value)
        if self.run(lambda: bring_in(self.book, came, now=NOW)) and price is None:
            with self.book.reading() as page:
                assert standing(page, one.item).account(one.item, "") == before

    @rule()
    def plans(self) -> None:
        self.run(lambda: plan_one(self.book))

    @rule(at=AT, good=FEW, used=st.integers(50, 900))
    def makes(self, at: int, good: int, used: int) -> None:
        name = self.batch(at)
        told = BatchTable.model_construct(baits_made=good, tub_used=used / 1000)
        if name is not None:
            self.run(lambda: made(self.book, name, Making(told), now=NOW))

    @rule(at=AT, name=TUBS, grams=st.integers(10, 400))
    def writes_a_tub(self, at: int, name: str, grams: int) -> None:
        """A new one is made of a lot of base; one that stands is weighed."""
        with self.book.reading() as page:
            there, spoken = is_there(page, name), sum(page.holders(name).values()) // 1000
        lot = self.lot("Copper", at)
        told = [f"left={grams + spoken} g"]
        if lot is not None and not there:
            told += ["base=Copper", f"base_lot={lot}"]
        if self.run(lambda: write(self.book, "tub", *told, name=name)):
            with self.book.reading() as page:
                held = page.lots("Copper").get(name, 0)
            assert held in (0, 1000 * (grams + spoken))  # a note moves nothing

    @rule(grams=st.integers(10, 400))
    def mixes(self, grams: int) -> None:
        told = Mixing(grams / 1000)
        self.run(lambda: mix(self.book, path("copper-wafter"), told, now=NOW))

    @rule(at=AT, amount=st.integers(1, 60))
    def writes_a_blend(self, at: int, amount: int) -> None:
        lot = self.lot("Malt", at)
        told = ["part[1].liquid=Malt", "part[1].parts=1", f"part[1].lot={lot}"] if lot else []
        told += [f"left={amount} ml", f"lot=B-{at}"]
        self.run(lambda: write(self.book, "blend", *told, name="Sweet"))

    @rule(name=TUBS, away=st.booleans())
    def takes_a_record_back(self, name: str, *, away: bool) -> None:
        """What is written of a tub never moves the shelf by itself."""
        before, form = self.state(), FORMS["tub"]
        if away:
            self.run(lambda: take_away(self.book, form, name, now=NOW, reason="empty"))
        else:
            self.run(lambda: undo(self.book, form, name, now=NOW))
        after = self.state()
        assert all(before[entry] == after[entry] for entry in before if entry != "tubs")

    @rule(at=AT)
    def steps_back(self, at: int) -> None:
        name = self.batch(at)
        if name is not None:
            self.run(lambda: step_back(self.book, name, now=NOW))

    @rule(at=AT)
    def cancels_a_batch(self, at: int) -> None:
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

    @rule(at=AT)
    def opens_again(self, at: int) -> None:
        self.run(lambda: open_again(self.book, str(at + 1), now=NOW))

    @rule(item=st.sampled_from((BAITS, PACK)), asked=FEW)
    def asks(self, item: str, asked: int) -> None:
        self.run(lambda: ask(self.book, item, Asking(Decimal(asked)), now=NOW))

    @rule(packs=st.integers(1, 2), baits=st.integers(0, 3))
    def writes_kit(self, packs: int, baits: int) -> None:
        parts = ((PACK, pieces(packs)), (BAITS, pieces(baits)))[: 1 + (baits > 0)]
        self.run(lambda: keep_kit(self.book, Kit(BOX, parts), now=NOW))

    @rule(item=st.sampled_from((BAITS, PACK)), twice=st.booleans())
    def takes_prices_and_kits_back(self, item: str, *, twice: bool) -> None:
        """Nothing on the shelf moves for it; twice is where it was."""
        before = self.state()
        calls = (
            lambda: price_as_before(self.book, item, now=NOW),
            lambda: kit_as_before(self.book, BOX, now=NOW),
        )
        done = [self.run(call) is not None for call in calls]
        again = [self.run(call) is not None for call in calls] if twice else done
        assert again == done
        after = self.state()
        for entry in before:
            assert before[entry] == after[entry] or (entry in ("prices", "kits") and not twice)

    @rule(count=st.integers(1, 3))
    def joins(self, count: int) -> None:
        self.run(lambda: put_together(self.book, BOX, count, now=NOW))

    @rule(at=AT)
    def parts(self, at: int) -> None:
        lot = self.lot(BOX, at)
        if lot is not None:
            self.run(lambda: take_apart(self.book, lot, 1, now=NOW))

    def set_aside(self) -> dict[str, str]:
        with self.book.reading() as page:
            return {one.name: lot.why for one in page.all(LOT) if (lot := lot_in(one))}

    def meant(self, named: str, at: int) -> str | None:
        """A supplier's lot, or a lot of an item."""
        return named if named == SUPPLIED else self.lot(named, at)

    def holds_something_aside(self, lot: str) -> bool:
        """Whether something that a lot was made of is in quarantine."""
        made_of = {one.place.name for one in trace(self.book, lot).back}
        return not made_of.isdisjoint(self.set_aside())

    @rule(named=NAMED, at=AT)
    def sets_aside(self, named: str, at: int) -> None:
        lot = self.meant(named, at)
        if lot is not None and self.run(
            lambda: quarantine(self.book, lot, "musty", now=self.now())
        ):
            onward = {one.place.name for one in trace(self.book, lot).onward}
            with self.book.reading() as page:
                lots = {one.name for one in page.named(LOT, onward)}
            assert lots <= set(self.set_aside())

    @rule(named=NAMED, at=AT, with_all=st.booleans())
    def lets_out(self, named: str, at: int, *, with_all: bool) -> None:
        """Only what was named comes out while something that it holds stays in."""
        lot, before = self.meant(named, at), self.set_aside()
        if lot is None:
            return
        told = "a second look"
        self.run(lambda: release(self.book, lot, told, now=self.now(), with_all=with_all))
        self.comes_out(lot, before)

    @rule(named=NAMED, at=AT)
    def takes_quarantine_back(self, named: str, at: int) -> None:
        """The second time is refused, and sets nothing aside or free."""
        lot, before = self.meant(named, at), self.set_aside()
        if lot is None:
            return
        done = self.run(lambda: take_back(self.book, lot, now=self.now()))
        self.comes_out(lot, before)
        if done and named != SUPPLIED:
            assert not self.run(lambda: take_back(self.book, lot, now=self.now()))

    @rule(named=NAMED, at=AT)
    def sets_aside_for_nothing(self, named: str, at: int) -> None:
        """Taken back at once it is as it was, but for what was let out on its own before."""
        lot, before, now = self.meant(named, at), self.set_aside(), self.now()
        if lot is not None and self.run(lambda: quarantine(self.book, lot, f"at {now}", now=now)):
            take_back(self.book, lot, now=self.now())
            after = self.set_aside()
            assert before.items() <= after.items()
            assert all(self.holds_something_aside(one) for one in set(after) - set(before))

    def comes_out(self, named: str, before: Mapping[str, str]) -> None:
        after = self.set_aside()
        assert set(after) <= set(before)
        first = trace(self.book, named)
        starts = {named, *(one.place.name for one in first.onward if one.links == 1)}
        starts = starts if first.start.stop is Stop.SUPPLIED else {named}
        for lot in set(before) - set(after) - starts:
            assert not self.holds_something_aside(lot)

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
    def what_is_apart_has_no_full_price(self) -> None:
        """The lots that hold some and of which not all is known, worth what their lines say."""
        for one in shelves(self.book):
            assert set(one.apart) == {lot.lot for lot in one.lots if lot.held and not lot.priced}
            assert all(apart.amount > 0 <= apart.value for apart in one.apart.values())
            assert one.priced.value >= 0
            assert one.priced.amount or not one.priced.value

    @invariant()
    def what_has_no_price_goes_on_into_what_is_made_of_it(self) -> None:
        """Tubs and bottles as batches, bags, packs and kits; never into what is paid for whole."""
        with self.book.reading() as page:
            written = page.entries()
            lots = {one.name: Lot(**one.body) for one in page.all(LOT) if one.body}
        for entry, lines in written.items():
            made = next((one.lot for one in lines if one.reason is Reason.MADE), None)
            if made in lots and stands(entry, lambda one: written.get(one, ())):
                used = [lots[one.lot] for one in lines if one.amount < 0]
                assert lots[made].priced == all(one.priced for one in used)

    @invariant()
    def what_is_kept_is_there(self) -> None:
        for one in shelves(self.book):
            assert all(0 <= lot.reserved <= lot.held for lot in one.lots)

    @invariant()
    def what_went_into_a_tub_leads_to_it_and_back(self) -> None:
        """Of tubs and bottles, as far as their making stands; of none that was undone."""
        with self.book.reading() as page:
            written = page.entries()
            for entry, lines in written.items():
                made = next((one for one in lines if one.reason is Reason.MADE), None)
                record = None if made is None else page.latest(LOT, made.lot)
                if made is None or record is None or record.body is None:
                    continue
                lot = Lot(**record.body)
                if lot.stop != Stop.MIX and made.item != "Sweet":
                    continue
                into = place_of(made.lot, lot)
                told = {one.source for one in page.links_back(into) if one.into == into}
                used = {one.lot for one in lines if one.amount < 0}
                if stands(entry, lambda one: written.get(one, ())):
                    assert {one.name for one in told} == used
                    for source in told:
                        assert into in {one.into for one in page.links_onward(source)}
                elif not is_there(page, made.lot):
                    assert not told

    @invariant()
    def nothing_goes_out_of_quarantine(self) -> None:
        """Each entry that was written since the last look, by what is in quarantine."""
        with self.book.reading() as page:
            written = page.entries()
            aside = {one.name for one in page.all(LOT) if lot_in(one)}
        for entry in range(self.seen + 1, len(written) + 1):
            assert not aside & picked(entry, written)
        self.seen = len(written)


def lot_in(one: Revision) -> Lot | None:
    """A lot that is in quarantine."""
    lot = Lot(**(one.body or {}))
    return lot if lot.quarantined else None


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
TestShop.settings = settings(max_examples=8, stateful_step_count=20, deadline=None)
