"""The moving average of an item's cost against a worked example of accounting teaching."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest

from baitwright.ledger.movements import NOTHING, Book, Movement, Reason

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
