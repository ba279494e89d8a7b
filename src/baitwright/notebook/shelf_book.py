"""The shelf's book on a page: its lines, what lots hold, and what of them is spoken for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Row, func, select

from baitwright.ledger.movements import STEP, Account, Movement, Reason
from baitwright.notebook.leaf import Leaf, written
from baitwright.notebook.tables import movements, reservations


class ShelfBook(Leaf):
    """The shelf's book of a page."""

    def post(self, lines: Iterable[Movement]) -> int:
        """Write lines that the book has accepted, as one entry; its number."""
        last = select(func.coalesce(func.max(movements.c.entry), 0))
        entry = int(self._connection.execute(last).scalar_one()) + 1
        rows = [
            {
                "entry": entry,
                "time": written(one.time),
                "item": one.item,
                "lot": one.lot,
                "amount": one.amount,
                "value_millionths": int(one.value / STEP),
                "reason": one.reason.value,
                "override": one.override,
            }
            for one in lines
        ]
        if rows:
            self._connection.execute(movements.insert(), rows)
        return entry

    def entry_lines(self, entry: int | None = None) -> tuple[Movement, ...]:
        """The lines of an entry, or of the last one."""
        wanted: Any = entry
        if entry is None:
            wanted = select(func.max(movements.c.entry)).scalar_subquery()
        found = select(movements).where(movements.c.entry == wanted).order_by(movements.c.id)
        return tuple(_movement(row) for row in self._connection.execute(found))

    def book_lines(self, item: str | None = None) -> tuple[Movement, ...]:
        """The lines of the book as they were written, of one item or of all."""
        wanted = select(movements).order_by(movements.c.id)
        if item is not None:
            wanted = wanted.where(movements.c.item == item)
        return tuple(_movement(row) for row in self._connection.execute(wanted))

    def lots(self, item: str) -> Mapping[str, int]:
        """What each lot of an item holds."""
        held = (
            select(movements.c.lot, func.sum(movements.c.amount))
            .where(movements.c.item == item)
            .group_by(movements.c.lot)
        )
        return {lot: int(amount) for lot, amount in self._connection.execute(held)}

    def account(self, item: str) -> Account:
        """How much of an item there is over all its lots, and what it is worth."""
        sums = select(func.sum(movements.c.amount), func.sum(movements.c.value_millionths))
        row = self._connection.execute(sums.where(movements.c.item == item)).one()
        amount, millionths = (int(one or 0) for one in row)
        return Account(amount, millionths * STEP)

    # --- what is spoken for ----------------------------------------------------------------

    def reserve(self, holder: str, item: str, lots: Mapping[str, int], *, time: datetime) -> None:
        """Speak for so much of these lots of an item, or let go of it below nothing."""
        told = {"time": written(time), "holder": holder, "item": item}
        rows = [{**told, "lot": lot, "amount": amount} for lot, amount in lots.items() if amount]
        if rows:
            self._connection.execute(reservations.insert(), rows)

    def reserved(self, item: str) -> Mapping[str, int]:
        """What of each lot of an item is spoken for."""
        return {lot: amount for _, lot, amount in self._reserved(reservations.c.item == item)}

    def reserved_for(self, holder: str) -> tuple[tuple[str, str, int], ...]:
        """Item, lot and amount that are spoken for by a holder, such as "batch 2026-11-27/1"."""
        return self._reserved(reservations.c.holder == holder)

    def _reserved(self, which: Any) -> tuple[tuple[str, str, int], ...]:
        total = func.sum(reservations.c.amount)
        lots = (reservations.c.item, reservations.c.lot)
        held = select(*lots, total).where(which).group_by(*lots).having(total != 0).order_by(*lots)
        rows = self._connection.execute(held)
        return tuple((item, lot, int(amount)) for item, lot, amount in rows)


def _movement(row: Row[Any]) -> Movement:
    return Movement(
        item=row.item,
        lot=row.lot,
        time=datetime.fromisoformat(row.time),
        amount=row.amount,
        value=Decimal(row.value_millionths) * STEP,
        reason=Reason(row.reason),
        override=row.override,
    )
