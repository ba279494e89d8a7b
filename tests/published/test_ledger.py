"""The moving average of an item's cost against a worked example of accounting teaching."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest

from baitwright.ledger.movements import NOTHING, Book, Movement, Reason
from baitwright.ledger.price import Margin

pytestmark = pytest.mark.published

NOW = datetime(2026, 6, 1)


def test_a_perpetual_average() -> None:
    """average-cost-exercise: 150 at 5, 350 at 6, 420 sold, 240 at 7, 50 sold.

    Averages 5.000, 5.700 and 6.675; 2,728 of goods sold and 1,802 left, told in whole money.
    """
    book, sold, averages = Book({}, {}), NOTHING, []
    for amount, each in ((150, 5), (350, 6), (-420, 0), (240, 7), (-50, 0)):
        line = Movement("goods", "1", NOW, amount, Decimal(amount * each), Reason.BOUGHT)
        if amount < 0:
            line = book.out(line)
            sold -= line.value
        book = book.take(line)
        averages.append(book.items["goods"].average)
    assert averages == [Decimal(text) for text in ("5", "5.7", "5.7", "6.675", "6.675")]
    assert round(sold) == 2728
    assert round(book.items["goods"].value) == 1802
    assert sold + book.items["goods"].value == 150 * 5 + 350 * 6 + 240 * 7


def test_a_perpetual_average_with_its_margin() -> None:
    """average-cost-margin-exercise: 72 for 42,768, 48 for 29,712, 27 sold for 30,483, 24 for
    15,480, 56 sold for 67,312, 37 sold for 42,624, 48 for 32,736.

    Cost of goods sold 73,262, margin 67,157 or 47.83 %, 47,434 left; all told in whole money.
    """
    book, sold = Book({}, {}), NOTHING
    steps = ((72, 42768), (48, 29712), (-27, 0), (24, 15480), (-56, 0), (-37, 0), (48, 32736))
    for amount, paid in steps:
        line = Movement("goods", "1", NOW, amount, Decimal(paid), Reason.BOUGHT)
        if amount < 0:
            line = book.out(line)
            sold -= line.value
        book = book.take(line)
    made = Margin(Decimal(30483 + 67312 + 42624), sold)
    assert made.share is not None
    assert (round(sold), round(made.money), round(100 * made.share, 2)) == (
        73262,
        67157,
        Decimal("47.83"),
    )
    assert round(book.items["goods"].value) == 47434
    assert book.items["goods"].amount == 72
