"""What stands on the shelf: items, their lots, what each holds, and what it is worth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from baitwright.ledger.movements import Account, Book, Counted, Movement
from baitwright.ledger.picking import LotOnShelf
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.lots import Lot, lots_named, without_price
from baitwright.workshop.typed.nearest import alike

ITEM = "item"


@dataclass(frozen=True, slots=True)
class Shelf:
    """An item of the shelf: its unit, the lots that hold some of it, and its account.

    ``apart`` has those of the lots of which not all of the price is known, with what is known.
    """

    item: str
    counted: Counted
    lots: tuple[LotOnShelf, ...]
    account: Account
    apart: Mapping[str, Account] = field(default_factory=dict)

    @property
    def priced(self) -> Account:
        """The account of the lots of which all of the price is known."""
        return self.account.without(self.apart.values())


def shelves(book: Notebook) -> tuple[Shelf, ...]:
    """Every item with its lots, by name."""
    with book.reading() as page:
        held, accounts = page.stock(), page.accounts()
        spoken_for = {lot: amount for _, lot, amount in page.all_reserved()}
        lots = dict(lots_named(page, {*(lot for _, lot, _ in held), *spoken_for}))
        apart = page.lot_accounts(name for name, lot in lots.items() if not lot.priced)
        items = page.all(ITEM)
    of_item: dict[str, list[LotOnShelf]] = {}
    standing = {lot: units for _, lot, units in held}
    for name, lot in lots.items():
        found = _on_shelf(name, lot, held=standing.get(name, 0), reserved=spoken_for.get(name, 0))
        of_item.setdefault(lot.item, []).append(found)
    return tuple(
        Shelf(
            one.name,
            Counted((one.body or {})["counted"]),
            tuple(of_item.get(one.name, ())),
            accounts.get(one.name, Account()),
            {lot: apart[lot] for lot in apart if lots[lot].item == one.name},
        )
        for one in items
    )


def units_of(book: Notebook) -> dict[str, Counted]:
    """What every item is counted in."""
    with book.reading() as page:
        return {one.name: Counted((one.body or {})["counted"]) for one in page.all(ITEM)}


def shelf_of(page: Page, item: str) -> Shelf:
    """One item of the shelf, with those of its lots that are not empty.

    Raises
    ------
    InputError: there is no such item.
    """
    counted = counted_as(page, item)
    held, spoken_for = page.lots(item), page.reserved(item)
    lots = tuple(
        _on_shelf(name, lot, held=held.get(name, 0), reserved=spoken_for.get(name, 0))
        for name, lot in lots_named(page, {*held, *spoken_for})
    )
    apart = page.lot_accounts(one.lot for one in lots if not one.priced)
    return Shelf(item, counted, lots, page.account(item), apart)


def moved_without_price(book: Notebook, lines: Iterable[Movement]) -> frozenset[str]:
    """Lots that lines moved of which not all of the price is known."""
    with book.reading() as page:
        return without_price(page, {one.lot for one in lines})


def item_named(page: Page, name: str) -> str | None:
    """The item of a name, however it is spaced or capitalised; nothing where there is none."""
    record = page.latest(ITEM, name)
    if record is not None and record.body is not None:
        return name
    wanted = alike(name)
    return next((one.name for one in page.all(ITEM) if alike(one.name) == wanted), None)


def as_item(page: Page, name: str) -> str:
    """An item's name as the shelf has it; as it was typed where there is none."""
    return item_named(page, name) or name


def counted_as(page: Page, item: str) -> Counted:
    """What amounts of an item are whole numbers of.

    Raises
    ------
    InputError: there is no such item.
    """
    record = page.latest(ITEM, item)
    if record is None or record.body is None:
        known = ", ".join(one.name for one in page.all(ITEM)) or "none yet"
        raise InputError("item", item, f"one of the shelf: {known}")
    return Counted(record.body["counted"])


def standing(page: Page, item: str) -> Book:
    """Where the book stands for an item."""
    held = page.lots(item)
    apart = page.lot_accounts(without_price(page, held))
    return Book(held, {item: page.account(item).without(apart.values())}, apart)


def _on_shelf(name: str, lot: Lot, *, held: int, reserved: int) -> LotOnShelf:
    best = None if lot.best_before is None else date.fromisoformat(lot.best_before)
    came = date.fromisoformat(lot.came)
    return LotOnShelf(
        *(name, came, best, held, reserved),
        quarantined=lot.quarantined,
        is_mixed=lot.stop == Stop.MIX,
        priced=lot.priced,
    )
