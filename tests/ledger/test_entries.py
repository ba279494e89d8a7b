"""Which entries stand when some were undone, and what sales left."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from baitwright.ledger.entries import root_of, stands, undoes, worth
from baitwright.ledger.movements import Movement, Reason, undo
from baitwright.ledger.price import Margin
from baitwright.ledger.sales import Sale, margins, month_of

NOW = datetime(2026, 11, 27, 9, 0)


def line(amount: int) -> Movement:
    return Movement("eggs", "1", NOW, amount, Decimal(amount) / 10, Reason.BOUGHT)


@given(st.lists(st.booleans(), max_size=25))
def test_entries_stand_as_a_plain_walk_says(steps: list[bool]) -> None:
    """Each step writes an entry or undoes the last one; undoing twice is where one was."""
    written: list[tuple[Movement, ...]] = []
    standing: dict[int, bool] = {}
    root = 0
    for undoing in steps:
        if undoing and written:
            written.append(tuple(undo(one, time=NOW) for one in written[-1]))
            standing[root] = not standing[root]
        else:
            written.append((line(len(written) + 1), line(2)))
            root = len(written)
            standing[root] = True
        assert root_of(len(written), lambda at: book(written, at)) == root
    for entry, is_standing in standing.items():
        assert stands(entry, lambda at: book(written, at)) == is_standing


def book(written: list[tuple[Movement, ...]], entry: int) -> tuple[Movement, ...]:
    return written[entry - 1] if 0 < entry <= len(written) else ()


def test_another_entry_s_undoing_leaves_one_alone() -> None:
    """A batch that was unmade long after it was made says nothing of the entry before that."""
    bought, other = (line(3),), (undo(line(5), time=NOW),)
    assert undoes((undo(bought[0], time=NOW),), bought)
    assert not undoes(other, bought)
    assert not undoes(bought, bought)
    assert not undoes((*other, *other), bought)
    assert stands(1, lambda at: book([bought, other], at))
    assert not stands(3, lambda at: book([bought, other], at))


def test_worth_is_what_came_less_what_went() -> None:
    assert worth([line(30), undo(line(10), time=NOW)]) == 2
    assert worth([]) == 0


def test_margins_by_order_and_by_month() -> None:
    sales = [
        Sale("1", date(2026, 10, 31), Decimal(10), Decimal(4)),
        Sale("2", date(2026, 11, 1), Decimal(5), Decimal(6)),
        Sale("1", date(2026, 11, 2), Decimal(-3), Decimal(-1)),
    ]
    by_order = margins(sales, lambda sale: sale.order)
    assert by_order == {"1": Margin(Decimal(7), Decimal(3)), "2": Margin(Decimal(5), Decimal(6))}
    assert by_order["2"].money == -1
    by_month = margins(sales, month_of)
    assert {month: one.money for month, one in by_month.items()} == {"2026-10": 6, "2026-11": -3}
