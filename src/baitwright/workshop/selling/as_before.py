"""A price and the parts of a kit as they were before: the version before the newest, once more."""

from __future__ import annotations

from datetime import datetime

from baitwright.notebook.store import Notebook
from baitwright.workshop.costs.prices import PRICE
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.selling.kits import KIT, Kit, kit_from
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.stock import as_item, counted_as, shelf_of


def price_as_before(book: Notebook, item: str, *, now: datetime) -> None:
    """Take the last change of a price back; the first one leaves none.

    Raises
    ------
    InputError: no such item, or none that a price was ever asked for.
    """
    with book.writing() as page:
        item = as_item(page, item)
        shelf_of(page, item)
        page.undo(PRICE, item, time=now)


def kit_as_before(book: Notebook, kit: str, *, now: datetime) -> Kit:
    """Take the last change of a kit's parts back; the first one leaves no parts.

    Kits that stand on the shelf stay what they were put together of.

    Raises
    ------
    InputError: no such kit, or a part that is counted in another unit by now.
    """
    with book.writing() as page:
        kit = as_kept(page, KIT, kit)
        body = page.undo(KIT, kit, time=now).body
        before = Kit(kit, ()) if body is None else kit_from(kit, body)
        for item, amount in before.parts:
            refuse_unit(item, counted_as(page, item), amount)
    return before
