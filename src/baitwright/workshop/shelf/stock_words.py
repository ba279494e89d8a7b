"""Stock in words: the shelf as a list, what came, and what lines of the book moved."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from datetime import date, timedelta
from decimal import Decimal

from baitwright.ledger.movements import Counted, Movement
from baitwright.ledger.picking import LotOnShelf, due, first_to_go
from baitwright.notebook.store import Notebook
from baitwright.workshop.shelf.deliveries import Delivery
from baitwright.workshop.shelf.stock import Shelf, moved_without_price, units_of
from baitwright.workshop.told.worth_words import money, worth
from baitwright.workshop.typed.amounts import in_words

SOON = timedelta(days=30)
"""Within which lots are told to be soon past their day."""


def shelf_lines(found: Iterable[Shelf], *, today: date) -> str:
    """The shelf as a list: items, what they are worth, lots by their day, and what is due."""
    shelves = tuple(found)
    if not shelves:
        return "The shelf is empty: baitwright shelf in semolina 25kg --price 32.50"
    lines, soon = [], []
    for one in shelves:
        held = in_words(one.account.amount, one.counted)
        lines.append(f"{one.item}: {held}, worth {worth(one.account.value, len(one.apart))}")
        lots = [lot for lot in one.lots if lot.held]
        lines += [f"    {_lot(lot, one)}" for lot in sorted(lots, key=first_to_go)]
        for lot in due(one.lots, day=today, within=SOON):
            word = "past its day" if lot.past(today) else "soon past its day"
            soon.append(f"  ! {one.item} {lot.lot}: {word}, {lot.best_before}")
    total = sum((one.account.value for one in shelves), Decimal(0))
    unknown = sum(len(one.apart) for one in shelves)
    return "\n".join((*lines, f"all together worth {worth(total, unknown)}", *soon))


def came_text(lot: str, came: Delivery, *, today: date) -> str:
    """What to write on the bag, and what to mind about a delivery."""
    lines = [f"lot {lot}: write it on the bag"]
    if came.value is None:
        lines.append("  ! no price told: what it is worth is unknown")
    if came.best_before is not None and came.best_before < today:
        lines.append(f"  ! past its day, {came.best_before}: it is taken only by its lot's name")
    return "\n".join(lines)


def moved_of(
    lines: Iterable[Movement], counted: Mapping[str, Counted], unpriced: Container[str] = ()
) -> str:
    """What lines of the book moved, each with its lot and value.

    Parameters
    ----------
    lines: of the book.
    counted: what each item is counted in.
    unpriced: lots of which not all of the price is known.
    """
    return "\n".join(
        f"{one.lot}: {'+' if one.amount > 0 else '-'}"
        f"{in_words(abs(one.amount), counted[one.item])} of {one.item}, "
        f"{money(abs(one.value), whole=one.lot not in unpriced)}"
        for one in lines
    )


def counted_text(lot: str, wrong: int, counted: Counted) -> str:
    """By how much the book was wrong of a lot that was counted."""
    if not wrong:
        return f"{lot}: as in the book"
    way = "more" if wrong > 0 else "less"
    return f"{lot}: {in_words(abs(wrong), counted)} {way} than in the book"


def moved_in(book: Notebook, lines: Iterable[Movement]) -> str:
    """The same, with units and unknown prices as the notebook has them."""
    found = tuple(lines)
    return moved_of(found, units_of(book), moved_without_price(book, found))


def _lot(lot: LotOnShelf, shelf: Shelf) -> str:
    counted = shelf.counted
    best = "" if lot.best_before is None else f", best before {lot.best_before}"
    spoken = f", {in_words(lot.reserved, counted)} of it spoken for" if lot.reserved else ""
    aside = ", in quarantine" if lot.quarantined else ""
    unknown = f", {money(shelf.apart[lot.lot].value, whole=False)}" if not lot.priced else ""
    return f"{lot.lot}: {in_words(lot.held, counted)}{best}{unknown}{spoken}{aside}"
