"""The shelf's book: sums are exact, nothing goes below nothing unsaid, undo leaves no trace."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from baitwright.ledger.movements import (
    NOTHING,
    STEP,
    Account,
    Book,
    Movement,
    OverdrawnError,
    Reason,
    book_of,
    undo,
)
from baitwright.terms.errors import InputError

NOW = datetime(2026, 11, 27, 9, 0)
LOTS = ("A", "B", "C")
ITEMS = {"A": "semolina", "B": "semolina", "C": "malt"}


def bought(lot: str, amount: int, value: str) -> Movement:
    return Movement(ITEMS[lot], lot, NOW, amount, Decimal(value), Reason.BOUGHT)


def used(lot: str, amount: int, *, override: str = "") -> Movement:
    return Movement(ITEMS[lot], lot, NOW, -amount, NOTHING, Reason.USED, override)


EMPTY = Book({}, {})


def written(*wanted: Movement) -> tuple[Book, list[Movement]]:
    """The book after lines, each with the value it takes along, and the lines as written."""
    book, lines = EMPTY, []
    for one in wanted:
        line = one if one.amount > 0 else book.out(one)
        book = book.take(line)
        lines.append(line)
    return book, lines


# Receipts and issues in any order; an issue of more than there is is cut down to what there is.
STEPS = st.lists(
    st.tuples(
        st.sampled_from(LOTS),
        st.integers(1, 10_000_000),
        st.decimals("0.01", "9999.99", places=2),
        st.booleans(),
    ),
    max_size=40,
)
Steps = list[tuple[str, int, Decimal, bool]]


def played(steps: Steps) -> tuple[Book, list[Movement]]:
    book, lines = EMPTY, []
    for lot, amount, value, comes in steps:
        if comes:
            line = bought(lot, amount, str(value))
        else:
            there = min(amount, book.lots.get(lot, 0))
            if there == 0:
                continue
            line = book.out(used(lot, there))
        book = book.take(line)
        lines.append(line)
    return book, lines


@given(STEPS)
def test_the_book_is_the_sum_of_its_lines(steps: Steps) -> None:
    book, lines = played(steps)
    assert book == book_of(lines)
    for lot, held in book.lots.items():
        assert held == sum(one.amount for one in lines if one.lot == lot) >= 0
    for item, account in book.items.items():
        own = [one for one in lines if one.item == item]
        assert account.amount == sum(one.amount for one in own)
        assert account.value == sum((one.value for one in own), NOTHING)


@given(STEPS)
def test_value_is_never_made_or_lost(steps: Steps) -> None:
    book, lines = played(steps)
    for account in book.items.values():
        assert account.value >= 0
        assert account.amount > 0 or account.value == 0
    came = sum((one.value for one in lines if one.amount > 0), NOTHING)
    went = -sum((one.value for one in lines if one.amount < 0), NOTHING)
    assert came - went == sum((one.value for one in book.items.values()), NOTHING)


@given(STEPS, st.integers(1, 10**7), st.data())
def test_what_goes_out_leaves_the_average_as_it_was(
    steps: Steps, amount: int, data: st.DataObject
) -> None:
    book, _ = played(steps)
    account = book.items.get("semolina", Account())
    assume(account.amount > 1)
    part = data.draw(st.integers(1, account.amount - 1))
    left = Account(account.amount - part, account.value - account.worth_of(part))
    assert account.average is not None
    assert left.average is not None
    assert abs(left.average - account.average) * left.amount <= STEP


@given(STEPS)
def test_undoing_the_last_line_is_as_if_it_was_never_written(steps: Steps) -> None:
    book, lines = played(steps)
    assume(lines)
    before, last = book_of(lines[:-1]), lines[-1]
    back = book.take(undo(last, time=NOW + timedelta(hours=1)))
    for lot, held in back.lots.items():
        assert held == before.lots.get(lot, 0)
    for item, account in back.items.items():
        assert account == before.items.get(item, Account())


def test_more_than_there_is_is_refused() -> None:
    book, _ = written(bought("A", 500_000, "4.00"))
    with pytest.raises(OverdrawnError) as refused:
        book.take(book.out(used("A", 500_001)))
    assert "stock of A: got 500001, but it takes 500000 at most" in str(refused.value)
    with pytest.raises(OverdrawnError, match="0 at most"):
        book.take(book.out(used("B", 1)))


def test_a_reason_lets_the_book_go_below_nothing_and_a_count_brings_it_back() -> None:
    book, _ = written(
        bought("A", 500_000, "4.00"), used("A", 600_000, override="tub was fuller than the label")
    )
    assert book.lots["A"] == -100_000
    assert book.items["semolina"] == Account(-100_000, Decimal("-0.80"))
    assert book.items["semolina"].average == Decimal("0.000008")
    counted = Movement("semolina", "A", NOW, 150_000, Decimal("1.20"), Reason.COUNTED)
    after = book.take(counted)
    assert after.lots["A"] == 50_000
    assert after.items["semolina"].value == Decimal("0.40")  # 50 g at what 500 g cost 4.00
    assert Account().average is None


def test_a_value_beyond_all_reason_is_refused() -> None:
    with pytest.raises(InputError, match="at most"):
        EMPTY.take(bought("A", 1, "1e13"))


@pytest.mark.parametrize("blank", ["", "   "])
def test_a_blank_is_no_reason(blank: str) -> None:
    with pytest.raises(OverdrawnError):
        EMPTY.take(used("A", 1, override=blank))


def test_a_line_that_moves_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="above or below nothing"):
        EMPTY.take(replace(bought("A", 1, "1"), amount=0, value=NOTHING))


@pytest.mark.parametrize(("amount", "value"), [(5, "-1"), (-5, "1")])
def test_value_goes_with_its_amount(amount: int, value: str) -> None:
    line = replace(bought("A", amount, value), override="counted")
    with pytest.raises(InputError, match="with its amount"):
        EMPTY.take(line)


def test_what_was_given_is_worth_nothing() -> None:
    book, _ = written(bought("A", 1000, "0"), bought("B", 1000, "2.00"))
    assert book.items["semolina"].average == Decimal("0.001")


@pytest.mark.parametrize(("amount", "value"), [(10**18, 0), (1, 10**12)])
def test_an_item_never_holds_more_than_the_notebook_can_add_up(amount: int, value: int) -> None:
    most = Movement("salt", "1", NOW, amount, Decimal(value), Reason.BOUGHT)
    full = Book({}, {}).take(most)
    with pytest.raises(InputError, match="more than any shop holds"):
        full.take(Movement("salt", "2", NOW, 1, Decimal(value and 1), Reason.BOUGHT))
