"""What of the shelf is spoken for, on a page."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import func, select, true

from baitwright.notebook.hidden import refuse_hidden
from baitwright.notebook.leaf import Leaf, written
from baitwright.notebook.tables import reservations


class Reserved(Leaf):
    """What is set aside for batches and orders."""

    def reserve(self, holder: str, item: str, lots: Mapping[str, int], *, time: datetime) -> None:
        """Speak for so much of these lots of an item, or let go of it below nothing.

        Raises
        ------
        InputError: a control character in a name.
        """
        refuse_hidden("set aside", holder, item, *lots)
        told = {"time": written(time), "holder": holder, "item": item}
        rows = [{**told, "lot": lot, "amount": amount} for lot, amount in lots.items() if amount]
        if rows:
            self._connection.execute(reservations.insert(), rows)

    def reserved(self, item: str) -> Mapping[str, int]:
        """What of each lot of an item is spoken for."""
        return {lot: amount for _, lot, amount in self._reserved(reservations.c.item == item)}

    def all_reserved(self) -> tuple[tuple[str, str, int], ...]:
        """Item, lot and amount of all that is spoken for."""
        return self._reserved(true())

    def reserved_for(self, holder: str) -> tuple[tuple[str, str, int], ...]:
        """Item, lot and amount that are spoken for by a holder, such as "batch 2026-11-27/1"."""
        return self._reserved(reservations.c.holder == holder)

    def holders(self, lot: str) -> Mapping[str, int]:
        """Who speaks for how much of a lot."""
        holder, total = reservations.c.holder, func.sum(reservations.c.amount)
        found = select(holder, total).where(reservations.c.lot == lot).group_by(holder)
        rows = self._connection.execute(found.having(total != 0).order_by(holder))
        return {name: int(amount) for name, amount in rows}

    def _reserved(self, which: Any) -> tuple[tuple[str, str, int], ...]:
        total = func.sum(reservations.c.amount)
        lots = (reservations.c.item, reservations.c.lot)
        held = select(*lots, total).where(which).group_by(*lots).having(total != 0).order_by(*lots)
        rows = self._connection.execute(held)
        return tuple((item, lot, int(amount)) for item, lot, amount in rows)
