"""A shop with baits, bags, labels and hooks on its shelf, for tests of selling."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

from baitwright.ledger.movements import NOTHING, Account, Amount, Counted
from baitwright.notebook.store import Notebook
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import shelves

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
TODAY = NOW.date()
MAY, JUNE = date(2027, 5, 1), date(2027, 6, 1)


def pieces(count: int) -> Amount:
    return Amount(count, Counted.PIECES)


def grams(amount: int) -> Amount:
    return Amount(1000 * amount, Counted.MILLIGRAMS)


def stocked(book: Notebook) -> dict[str, str]:
    """Put a shop's shelf up; the name of each lot."""
    shelf = {
        "baits": Delivery("wafters", pieces(200), Decimal("10.00"), MAY),
        "later": Delivery("wafters", pieces(100), Decimal("8.00"), JUNE),
        "bags": Delivery("bags", pieces(100), Decimal("5.00")),
        "labels": Delivery("labels", pieces(100), Decimal("3.00"), date(2030, 1, 1)),
        "hooks": Delivery("hooks", pieces(50), Decimal("12.50")),
        "semolina": Delivery("semolina", grams(25_000), Decimal("32.50")),
    }
    return {name: bring_in(book, one, now=NOW) for name, one in shelf.items()}


def accounts(book: Notebook) -> dict[str, Account]:
    """Every item that there is anything of."""
    found = {one.item: one.account for one in shelves(book)}
    return {item: one for item, one in found.items() if one != Account()}


def held(book: Notebook) -> dict[str, int]:
    """What each lot holds, of those that hold anything."""
    return {lot.lot: lot.held for one in shelves(book) for lot in one.lots if lot.held}


def set_aside(book: Notebook) -> dict[str, int]:
    """What of each lot is spoken for."""
    return {lot.lot: lot.reserved for one in shelves(book) for lot in one.lots if lot.reserved}


def worth_of_all(book: Notebook) -> Decimal:
    """The whole shelf's value."""
    return sum((one.account.value for one in shelves(book)), NOTHING)
