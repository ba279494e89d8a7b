"""Prices, margins and values shared out: by hand, and as laws that fractions know."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.ledger.movements import NOTHING, STEP, Account, Book, Counted, Movement, Reason
from baitwright.ledger.price import (
    Margin,
    Offer,
    amount_at,
    cost_of,
    shared_out,
    stretch,
    without_vat,
)
from baitwright.terms.errors import InputError

NOW = datetime(2026, 11, 27, 9, 0)
MONEY = st.decimals("0.00", "9999.99", places=2)
PIECES, KILOS = Counted.PIECES, Counted.MILLIGRAMS


def test_a_price_by_hand() -> None:
    """6.00 with 20 % VAT in it is 5.00; of that 2.00 cost, 3.00 is left, which is 60 %."""
    offer = Offer(Decimal("6.00"), Decimal("0.20"), Decimal("0.65"), Decimal("0.25"))
    made = offer.margin(Decimal("2.00"))
    assert (made.taken, made.money, made.share) == (5, 3, Decimal("0.6"))
    assert offer.price_wanted(Decimal("2.00")) == Decimal("7.00")  # 2.40 / 0.35 = 6.857, up
    assert Offer(Decimal("6.00")).margin(Decimal(2)).money == 4
    assert Offer(Decimal("6.00")).price_wanted(Decimal(2)) is None


def test_below_cost_is_less_than_nothing() -> None:
    made = Offer(Decimal("1.50")).margin(Decimal("2.00"))
    assert made.money == Decimal("-0.50")
    assert made.share == Decimal("-0.50") / Decimal("1.50")
    assert Margin(NOTHING, Decimal(1)).share is None


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ({"asked": Decimal(-1)}, "price"),
        ({"asked": Decimal(1), "vat": Decimal(20)}, "VAT"),
        ({"asked": Decimal(1), "vat": Decimal("-0.1")}, "VAT"),
        ({"asked": Decimal(1), "wanted": Decimal(1)}, "margin"),
        ({"asked": Decimal(1), "step": NOTHING}, "price step"),
    ],
)
def test_what_no_price_list_holds(told: dict[str, Decimal], message: str) -> None:
    with pytest.raises(InputError, match=message):
        Offer(**told)


@given(MONEY, st.decimals("0.00", "0.95", places=2), st.decimals("0.00", "0.99", places=2))
def test_the_price_wanted_leaves_the_margin_and_a_step_less_does_not(
    cost: Decimal, wanted: Decimal, vat: Decimal
) -> None:
    step = Decimal("0.05")
    asked = Offer(NOTHING, vat, wanted, step).price_wanted(cost)
    assert asked is not None

    def left(price: Decimal) -> Fraction:
        own = Fraction(price) / (1 + Fraction(vat))
        return own - Fraction(cost) - Fraction(wanted) * own

    assert asked % step == 0
    assert left(asked) >= 0
    assert asked == 0 or left(asked - step) < 0


def test_a_price_is_for_a_piece_a_kilogram_or_a_litre() -> None:
    assert cost_of(Account(25_000_000, Decimal("32.50")), KILOS) == Decimal("1.30")
    assert cost_of(Account(4, Decimal(3)), PIECES) == Decimal("0.75")
    assert cost_of(Account(), PIECES) is None
    assert amount_at(Decimal("4.00"), 2_500_000, KILOS) == Decimal("10.00")
    assert amount_at(Decimal("0.01"), 500_000, Counted.MICROLITRES) == Decimal("0.01")
    assert amount_at(Decimal("6.50"), 3, PIECES) == Decimal("19.50")


@given(MONEY, st.decimals("0.00", "0.99", places=2))
def test_price_without_vat_is_what_fractions_say(price: Decimal, rate: Decimal) -> None:
    exact = Fraction(price) / (1 + Fraction(rate))
    assert abs(Fraction(without_vat(price, rate)) - exact) <= Fraction(STEP) / 2
    assert without_vat(price, None) == price


@given(MONEY, st.lists(st.integers(0, 10**9), min_size=1, max_size=9).filter(any))
def test_shares_make_up_the_value_and_none_is_off_by_a_millionth(
    value: Decimal, weights: list[int]
) -> None:
    shares = shared_out(value, weights)
    assert sum(shares) == value
    for share, weight in zip(shares, weights, strict=True):
        exact = Fraction(value) * weight / sum(weights)
        assert abs(Fraction(share) - exact) <= Fraction(STEP)
        assert share >= 0


def test_nothing_is_shared_out_among_nobody() -> None:
    assert shared_out(NOTHING, [0, 0]) == (0, 0)
    with pytest.raises(InputError, match="something to bear it"):
        shared_out(Decimal(1), [0])


@given(st.lists(st.integers(1, 50), max_size=6), st.data())
def test_stretches_laid_end_to_end_are_the_lots_again(
    amounts: list[int], data: st.DataObject
) -> None:
    lots = [(f"lot {at}", units) for at, units in enumerate(amounts)]
    whole = sum(amounts)
    cut = data.draw(st.integers(0, whole))
    units = [lot for lot, count in lots for _ in range(count)]
    for start, stop in ((0, cut), (cut, whole)):
        found = stretch(lots, start, stop)
        assert [lot for lot, count in found for _ in range(count)] == units[start:stop]


@given(
    st.lists(
        st.tuples(st.integers(1, 1000), st.decimals("0.01", "500", places=2), st.integers(1, 999)),
        min_size=1,
        max_size=12,
    )
)
def test_the_moving_average_is_what_fractions_say(
    deliveries: list[tuple[int, Decimal, int]],
) -> None:
    """Each delivery is followed by a sale of part of what is there; each rounds by half a step."""
    book = Book({}, {})
    amount, value, slack = 0, Fraction(0), Fraction(0)
    for came, paid, sold in deliveries:
        book = book.take(Movement("goods", "1", NOW, came, paid, Reason.BOUGHT))
        amount, value = amount + came, value + Fraction(paid)
        part = min(sold, amount)
        line = book.out(Movement("goods", "1", NOW, -part, NOTHING, Reason.SOLD))
        gone = value * part / amount
        assert abs(Fraction(-line.value) - gone) <= slack + Fraction(STEP) / 2
        book = book.take(line)
        amount, value, slack = amount - part, value - gone, slack + Fraction(STEP) / 2
        account = book.items["goods"]
        assert account.amount == amount
        assert abs(Fraction(account.value) - value) <= slack
        assert amount or account.value == 0
