"""What stands on the shelf: items, their lots, what each holds, and what it is worth."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from baitwright.ledger.movements import Account, Amount, Book, Counted
from baitwright.ledger.picking import LotOnShelf
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.quantities import show
from baitwright.terms.errors import InputError

ITEM, LOT = "item", "lot"


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot as the notebook has it; days in ISO 8601."""

    item: str
    came: str
    best_before: str | None
    supplier: str
    supplier_lot: str
    quarantined: bool = False


@dataclass(frozen=True, slots=True)
class Shelf:
    """An item of the shelf: its unit, all its lots with what they hold, and its account."""

    item: str
    counted: Counted
    lots: tuple[LotOnShelf, ...]
    account: Account


def shelves(book: Notebook) -> tuple[Shelf, ...]:
    """Every item with its lots, by name."""
    with book.reading() as page:
        return tuple(shelf_of(page, one.name) for one in page.all(ITEM))


def shelf_of(page: Page, item: str) -> Shelf:
    """One item of the shelf.

    Raises
    ------
    InputError: there is no such item.
    """
    record = page.latest(ITEM, item)
    if record is None or record.body is None:
        known = ", ".join(one.name for one in page.all(ITEM)) or "none yet"
        raise InputError("item", item, f"one of the shelf: {known}")
    held, spoken_for = page.lots(item), page.reserved(item)
    lots = tuple(
        _on_shelf(name, lot, held=held.get(name, 0), reserved=spoken_for.get(name, 0))
        for name, lot in _lots_of(page, item)
    )
    return Shelf(item, Counted(record.body["counted"]), lots, page.account(item))


def lot_of(page: Page, name: str) -> Lot:
    """A lot by its name.

    Raises
    ------
    InputError: there is no such lot.
    """
    record = page.latest(LOT, name)
    if record is None or record.body is None:
        raise InputError("lot", name, "a lot of the shelf: `baitwright shelf` lists them")
    return Lot(**record.body)


def standing(page: Page, item: str) -> Book:
    """Where the book stands for an item."""
    return Book(page.lots(item), {item: page.account(item)})


_SAID = {
    Counted.MILLIGRAMS: "a weight",
    Counted.MICROLITRES: "a volume",
    Counted.PIECES: "a count",
}


def refuse_unit(item: str, held: Counted, told: Amount) -> None:
    """Refuse an amount in another unit than the item's.

    Raises
    ------
    InputError: it is one.
    """
    if held is not told.counted:
        accepted = f"{_SAID[held]}, as on the shelf"
        raise InputError(f"amount of {item}", _SAID[told.counted], accepted)


def agree_on_unit(page: Page, item: str, amount: Amount, *, now: datetime) -> None:
    """The first delivery of an item says what it is counted in; later ones keep to it.

    Raises
    ------
    InputError: this one does not.
    """
    record = page.latest(ITEM, item)
    if record is None or record.body is None:
        held, seen = None, 0 if record is None else record.version
    else:
        held, seen = Counted(record.body["counted"]), record.version
    if held is not None and any(page.lots(item).values()):
        refuse_unit(item, held, amount)
    elif held is not amount.counted:  # new, or empty and counted anew
        page.write(ITEM, item, {"counted": amount.counted.value}, seen=seen, time=now)


def next_lot(page: Page, day: date) -> str:
    """A name for a lot: the day and a number, which mean nothing else."""
    return f"{day}/{page.count(LOT, name=f'{day}/') + 1}"


_READ_IN = {
    Counted.MILLIGRAMS: (1e-6, "kg", "g", 1.0),
    Counted.MICROLITRES: (1e-9, "l", "ml", 1e-3),
}


def in_words(units: int, counted: Counted) -> str:
    """An amount with the unit it is read in."""
    if counted is Counted.PIECES:
        return str(units)
    scale, large, small, one = _READ_IN[counted]
    value = units * scale
    return show(value, large if abs(value) >= one else small, 4)


def _lots_of(page: Page, item: str) -> Iterator[tuple[str, Lot]]:
    for one in page.all(LOT, about=item):
        if one.body is not None:
            yield one.name, Lot(**one.body)


def _on_shelf(name: str, lot: Lot, *, held: int, reserved: int) -> LotOnShelf:
    best = None if lot.best_before is None else date.fromisoformat(lot.best_before)
    came = date.fromisoformat(lot.came)
    return LotOnShelf(name, came, best, held, reserved, quarantined=lot.quarantined)
