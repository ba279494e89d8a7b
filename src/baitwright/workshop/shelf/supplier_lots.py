"""Suppliers' lots that came already, by item, supplier and the lot on their label."""

from __future__ import annotations

from collections.abc import Iterable

from baitwright.ledger.movements import Movement, Reason
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.lots import LOT
from baitwright.workshop.typed.nearest import plain_name

SupplierLot = tuple[str, str, str]


def supplier_lot(item: str, supplier: str, lot: str) -> SupplierLot:
    """A lot of an item as a supplier calls it, however it is spaced or capitalised."""
    return item, plain_name(supplier), lot.strip().casefold()


def came_already(page: Page, item: str | None = None) -> dict[SupplierLot, str]:
    """Each supplier's lot with the name of the last lot here that it became; undone ones are none.

    Parameters
    ----------
    page: the notebook's.
    item: of this item only, where told.
    """
    undone = _undone(page.book_lines(item))
    return {
        supplier_lot(one.body["item"], one.body["supplier"], one.body["supplier_lot"]): one.name
        for one in page.all(LOT, about=item)
        if one.body is not None and one.body["supplier_lot"] and one.name not in undone
    }


def came_twice(lot: str, where: str) -> InputError:
    """What is wrong with a supplier's lot that is known, and where it came before."""
    hint = f"It is {where}. If it came again, say --again."
    accepted = "a lot that this supplier has not sent before"
    return InputError("supplier lot", lot, accepted, hint=hint)


def _undone(lines: Iterable[Movement]) -> set[str]:
    """Lots that were bought and taken back, and of which nothing else ever happened."""
    found: dict[str, tuple[set[Reason], int]] = {}
    for one in lines:
        reasons, held = found.get(one.lot, (set(), 0))
        found[one.lot] = ({*reasons, one.reason}, held + one.amount)
    return {lot for lot, told in found.items() if told == ({Reason.BOUGHT, Reason.UNDONE}, 0)}
