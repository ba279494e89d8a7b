"""What an item is counted in: told by its first delivery, and kept to by all that follows."""

from __future__ import annotations

from datetime import datetime

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.names import fair_name
from baitwright.workshop.shelf.stock import ITEM

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
    InputError: this one does not, or the item is new and its name will not do.
    """
    record = page.latest(ITEM, item)
    if record is None and fair_name(page, ITEM, item) != item:
        raise InputError("item", item, "a name without spaces around it")
    if record is None or record.body is None:
        held, seen = None, 0 if record is None else record.version
    else:
        held, seen = Counted(record.body["counted"]), record.version
    if held is not None and any(page.lots(item).values()):
        refuse_unit(item, held, amount)
    elif held is not amount.counted:  # new, or empty and counted anew
        page.write(ITEM, item, {"counted": amount.counted.value}, seen=seen, time=now)
