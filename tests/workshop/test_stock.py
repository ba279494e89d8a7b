"""Stock over the use cases: sums agree, nothing goes below nothing unsaid, undo is an inverse."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, rule

from baitwright.ledger.movements import Amount, Counted, Reason, book_of
from baitwright.ledger.trace import Chain, Place, Stop
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.stock_moves import (
    Taking,
    count_lot,
    take_out,
    undo_last,
)
from baitwright.workshop.shelf.deliveries import Delivery, bring_in, put_on_shelf
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.shelf.stock_words import moved_of, shelf_lines
from baitwright.workshop.typed.amounts import in_words, read_amount, read_money
from baitwright.workshop.typed.typed_days import read_day
from tests.workshop.machine import OverTheUseCases

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
TODAY = NOW.date()
KG = 1_000_000


def grams(amount: int) -> Amount:
    return Amount(amount * 1000, Counted.MILLIGRAMS)


def delivery(kilos: int, price: str, *, best: int | None = None, lot: str = "") -> Delivery:
    day = None if best is None else TODAY + timedelta(days=best)
    return Delivery("semolina", grams(1000 * kilos), Decimal(price), day, "Mill", lot)


def test_many_deliveries_are_one_entry_with_names_as_if_one_by_one(book: Notebook) -> None:
    bring_in(book, delivery(1, "1.00"), now=NOW)
    before = TODAY - timedelta(days=1)
    came = (delivery(2, "2.00"), replace(delivery(3, "3.00"), came=before), delivery(4, "4.00"))
    with book.writing() as page:
        lots = put_on_shelf(page, came, now=NOW)
        assert len(page.entry_lines()) == 3
    assert lots == ("2026-11-27/2", "2026-11-26/1", "2026-11-27/3")
    assert bring_in(book, delivery(1, "1.00"), now=NOW) == "2026-11-27/4"
    wrong = (delivery(1, "1.00"), replace(delivery(1, "1.00"), amount=Amount(1, Counted.PIECES)))
    with pytest.raises(InputError, match="a weight, as on the shelf"), book.writing() as page:
        put_on_shelf(page, wrong, now=NOW)
    assert shelves(book)[0].account.amount == 11 * KG


def test_the_first_to_expire_is_taken_first_at_the_average(book: Notebook) -> None:
    late = bring_in(book, delivery(25, "32.50", best=150), now=NOW)
    soon = bring_in(book, delivery(10, "15.00", best=10), now=NOW)
    assert (late, soon) == ("2026-11-27/1", "2026-11-27/2")
    lines = take_out(book, Taking("semolina", grams(12_000)), now=NOW)
    assert [(one.lot, one.amount) for one in lines] == [(soon, -10 * KG), (late, -2 * KG)]
    average = Decimal("47.50") / 35
    assert sum(-one.value for one in lines) == pytest.approx(12 * average, abs=Decimal("0.00001"))
    (shelf,) = shelves(book)
    assert shelf.account.amount == 23 * KG


def test_a_lot_number_used_twice_is_asked_about(book: Notebook) -> None:
    lot = bring_in(book, delivery(1, "1.00", lot="S-1"), now=NOW)
    for twice in (delivery(2, "1.00", lot="s-1 "), delivery(3, "2.00", lot="S-1")):
        with pytest.raises(InputError, match=f"It is lot {lot} here"):
            bring_in(book, twice, now=NOW)
    bring_in(book, replace(delivery(1, "1.00", lot="S-1"), supplier="Other Mill"), now=NOW)
    bring_in(book, replace(delivery(1, "1.00", lot="S-1"), item="soya"), now=NOW)
    for _ in range(2):
        bring_in(book, delivery(1, "1.00"), now=NOW)
    assert bring_in(book, delivery(2, "1.00", lot="S-1"), now=NOW, again=True) == "2026-11-27/6"


def test_a_delivery_that_was_taken_back_may_come_again(book: Notebook) -> None:
    bring_in(book, delivery(1, "1.00", lot="S-1"), now=NOW)
    undo_last(book, now=NOW)
    assert bring_in(book, delivery(2, "1.00", lot="S-1"), now=NOW) == "2026-11-27/2"


def test_a_supplier_s_lot_leads_to_the_lot_on_the_shelf(book: Notebook) -> None:
    lot = bring_in(book, delivery(25, "32.50", lot="S-881"), now=NOW)
    with book.reading() as page:
        chain = Chain(page.links())
    (found,) = chain.onward(Place(Stop.SUPPLIED, "Mill S-881"))
    assert found.place == Place(Stop.INGREDIENT, lot)


def test_more_than_there_is_is_refused_in_the_makers_words(book: Notebook) -> None:
    lot = bring_in(book, delivery(25, "32.50", best=0), now=NOW)
    with pytest.raises(InputError, match="got '26 kg', but it takes 25 kg at most"):
        take_out(book, Taking("semolina", grams(26_000)), now=NOW)
    with pytest.raises(InputError, match=f"0 g at most. Past their day: {lot}"):
        take_out(book, Taking("semolina", grams(1)), now=NOW + timedelta(days=1))
    with pytest.raises(InputError, match="say --why more was taken"):
        take_out(book, Taking("semolina", grams(26_000), lot=lot), now=NOW)
    told = Taking("semolina", grams(26_000), lot=lot, override="a heavier sack")
    take_out(book, told, now=NOW)
    (shelf,) = shelves(book)
    assert (shelf.account.amount, shelf.account.value) == (-KG, Decimal("-1.30"))
    bring_in(book, delivery(10, "13.00"), now=NOW)
    (shelf,) = shelves(book)
    assert (shelf.account.amount, shelf.account.value) == (9 * KG, Decimal("11.70"))


def test_a_refusal_writes_nothing(book: Notebook) -> None:
    bring_in(book, delivery(1, "1.00"), now=NOW)
    wrong = Delivery("semolina", Amount(5, Counted.PIECES), Decimal(1))
    for call in (
        lambda: bring_in(book, wrong, now=NOW),
        lambda: take_out(book, Taking("semolina", Amount(5, Counted.PIECES)), now=NOW),
        lambda: take_out(book, Taking("salt", grams(5)), now=NOW),
        lambda: take_out(book, Taking("semolina", grams(5), lot="2026-11-27/9"), now=NOW),
        lambda: count_lot(book, "2026-11-27/9", grams(5), now=NOW),
        lambda: count_lot(book, "2026-11-27/1", Amount(5, Counted.PIECES), now=NOW),
    ):
        with pytest.raises(InputError):
            call()
    with book.reading() as page:
        assert len(page.book_lines()) == len(page.all("lot")) == 1


def test_a_count_sets_the_lot_right_with_its_value(book: Notebook) -> None:
    lot = bring_in(book, delivery(10, "20.00"), now=NOW)
    assert count_lot(book, lot, grams(9_500), now=NOW) == -500_000
    (shelf,) = shelves(book)
    assert (shelf.account.amount, shelf.account.value) == (9_500_000, Decimal("19.00"))
    assert count_lot(book, lot, grams(10_500), now=NOW) == KG
    (shelf,) = shelves(book)
    assert (shelf.account.amount, shelf.account.value) == (10_500_000, Decimal("21.00"))
    assert count_lot(book, lot, grams(10_500), now=NOW) == 0
    assert count_lot(book, lot, read_amount("0 kg", least=0), now=NOW) == -10_500_000
    (shelf,) = shelves(book)
    assert (shelf.account.amount, shelf.account.value) == (0, 0)


def test_an_item_that_is_empty_may_be_counted_anew(book: Notebook) -> None:
    bring_in(book, Delivery("milk", Amount(3, Counted.PIECES), Decimal(1)), now=NOW)
    undo_last(book, now=NOW)
    bring_in(book, Delivery("milk", grams(3000), Decimal(1)), now=NOW)
    (shelf,) = shelves(book)
    assert (shelf.counted, shelf.account.amount) == (Counted.MILLIGRAMS, 3 * KG)
    take_out(book, Taking("milk", grams(3000)), now=NOW)
    bring_in(book, Delivery("milk", grams(1), Decimal(1)), now=NOW)
    with book.reading() as page:
        assert [one.version for one in page.history("item", "milk")] == [1, 2]


def test_a_count_beyond_all_reason_is_refused(book: Notebook) -> None:
    lot = bring_in(book, Delivery("float", Amount(1, Counted.PIECES), Decimal(30)), now=NOW)
    with pytest.raises(InputError, match="at most"):
        count_lot(book, lot, Amount(10**12, Counted.PIECES), now=NOW)
    assert shelves(book)[0].account.amount == 1


def test_an_empty_book_has_nothing_to_undo(book: Notebook) -> None:
    with pytest.raises(InputError, match="which is empty"):
        undo_last(book, now=NOW)


class Shop(OverTheUseCases):
    """A shelf that is filled, emptied, counted and undone in any order."""

    @initialize()
    def opens(self) -> None:
        self.begin()
        self.lots: list[str] = []

    @rule(
        units=st.integers(1, 10**9),
        price=st.decimals(0, 100, places=2),
        best=st.none() | st.integers(0, 99),
    )
    def comes(self, units: int, price: Decimal, best: int | None) -> None:
        day = None if best is None else TODAY + timedelta(days=best)
        came = Delivery("malt", Amount(units, Counted.MICROLITRES), price, day)
        self.lots.append(bring_in(self.book, came, now=NOW))

    @rule(units=st.integers(1, 10**9), reason=st.sampled_from((Reason.USED, Reason.LOST)))
    def goes(self, units: int, reason: Reason) -> None:
        wanted = Taking("malt", Amount(units, Counted.MICROLITRES), reason)
        before = self.account()
        try:
            lines = take_out(self.book, wanted, now=NOW)
        except InputError:
            assert self.account() == before
            return
        assert sum(one.amount for one in lines) == -units

    @rule(units=st.integers(1, 10**9), data=st.data())
    def is_counted(self, units: int, data: st.DataObject) -> None:
        if self.lots:
            lot = data.draw(st.sampled_from(self.lots))
            count_lot(self.book, lot, Amount(units, Counted.MICROLITRES), now=NOW)
            with self.book.reading() as page:
                assert page.lots("malt")[lot] == units

    @rule(units=st.integers(1, 10**6), price=st.decimals(0, 100, places=2))
    def comes_and_is_undone(self, units: int, price: Decimal) -> None:
        before = self.account()
        self.comes(units, price, None)
        undo_last(self.book, now=NOW)
        assert self.account() == before

    @rule(units=st.integers(1, 10**6))
    def goes_and_is_undone(self, units: int) -> None:
        before = self.account()
        try:
            take_out(self.book, Taking("malt", Amount(units, Counted.MICROLITRES)), now=NOW)
        except InputError:
            return
        undo_last(self.book, now=NOW)
        assert self.account() == before

    def account(self) -> tuple[int, Decimal]:
        with self.book.reading() as page:
            found = page.account("malt")
        return (found.amount, found.value)

    @invariant()
    def sums_agree_and_nothing_is_below_nothing(self) -> None:
        if not hasattr(self, "book"):
            return
        with self.book.reading() as page:
            lines, lots = page.book_lines("malt"), page.lots("malt")
            found = book_of(lines)
            assert lots == {lot: held for lot, held in found.lots.items() if held}
            assert page.account("malt") == found.items.get("malt", page.account("salt"))
            assert all(held >= 0 for held in lots.values())
            assert found.items.get("malt", page.account("salt")).value >= 0


TestShop = Shop.TestCase
TestShop.settings = settings(max_examples=12, stateful_step_count=20, deadline=None)


# --- words -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("25 kg", Amount(25 * KG, Counted.MILLIGRAMS)),
        ("0,5 g", Amount(500, Counted.MILLIGRAMS)),
        ("1 lb", Amount(453_592, Counted.MILLIGRAMS)),
        ("500 ml", Amount(500_000, Counted.MICROLITRES)),
        ("1.5 l", Amount(1_500_000, Counted.MICROLITRES)),
        ("200", Amount(200, Counted.PIECES)),
    ],
)
def test_amounts_as_they_are_typed(text: str, amount: Amount) -> None:
    assert read_amount(text) == amount


@pytest.mark.parametrize(
    "text", ["", "some", "0", "-3 kg", "1.5", "3 mm", "20 C", "1e30 kg", "0.0000001 g", "3 oz fl"]
)
def test_what_is_no_amount(text: str) -> None:
    with pytest.raises(InputError, match="amount"):
        read_amount(text)


@pytest.mark.parametrize(("text", "value"), [("32.50", "32.50"), (" 9,90 ", "9.90"), ("0", "0")])
def test_money_as_it_is_typed(text: str, value: str) -> None:
    assert read_money(text) == Decimal(value)


@pytest.mark.parametrize(
    "text", ["", "abc", "-1", "nan", "inf", "1e12", "0.0000001", "£3", "1,250"]
)
def test_what_is_no_money(text: str) -> None:
    with pytest.raises(InputError, match="price"):
        read_money(text)


def test_days() -> None:
    assert read_day("2026-11-27", TODAY) == TODAY
    for text in ("2026-11-26", "27.11.2026", "soon"):
        with pytest.raises(InputError, match="2027-11-01, today or later"):
            read_day(text, date(2026, 11, 27))
    with pytest.raises(InputError, match="2029-02-01"):
        read_day("", date(2028, 2, 29))


@pytest.mark.parametrize(
    ("units", "counted", "words"),
    [
        (23 * KG, Counted.MILLIGRAMS, "23 kg"),
        (999_000, Counted.MILLIGRAMS, "999 g"),
        (500_000, Counted.MICROLITRES, "500 ml"),
        (1_250_000, Counted.MICROLITRES, "1.25 l"),
        (-2 * KG, Counted.MILLIGRAMS, "-2 kg"),
        (200, Counted.PIECES, "200"),
    ],
)
def test_amounts_as_they_are_told(units: int, counted: Counted, words: str) -> None:
    assert in_words(units, counted) == words


def test_the_shelf_as_a_list(book: Notebook) -> None:
    assert "The shelf is empty" in shelf_lines(shelves(book), today=TODAY)
    bring_in(book, delivery(25, "32.50", best=150), now=NOW)
    bring_in(book, delivery(10, "15.00", best=10), now=NOW)
    told = shelf_lines(shelves(book), today=TODAY)
    assert told.splitlines() == [
        "semolina: 35 kg, worth 47.50",
        "    2026-11-27/2: 10 kg, best before 2026-12-07",
        "    2026-11-27/1: 25 kg, best before 2027-04-26",
        "all together worth 47.50",
        "  ! semolina 2026-11-27/2: soon past its day, 2026-12-07",
    ]
    later = shelf_lines(shelves(book), today=TODAY + timedelta(days=11))
    assert "2026-11-27/2: past its day, 2026-12-07" in later
    gone = take_out(book, Taking("semolina", grams(500)), now=NOW)
    assert (
        moved_of(gone, {"semolina": Counted.MILLIGRAMS}) == "2026-11-27/2: -500 g of semolina, 0.68"
    )
