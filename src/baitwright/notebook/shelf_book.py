"""The shelf's book on a page: its lines, and what lots hold."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import BigInteger, Row, bindparam, cast, func, select, text

from baitwright.ledger.movements import STEP, Account, Movement, Reason
from baitwright.notebook.hidden import refuse_hidden
from baitwright.notebook.leaf import Leaf, in_parts, written
from baitwright.notebook.tables import levels, movements

# Asked again and again: made once, they need not be put into SQL each time.
_LAST_ENTRY = select(func.coalesce(func.max(movements.c.entry), 0))
_LINES = movements.insert()
_RAISED = text(
    "INSERT INTO levels (item, lot, amount, value_millionths)"
    " VALUES (:item, :lot, :amount, :value_millionths)"
    " ON CONFLICT (item, lot) DO UPDATE SET amount = levels.amount + excluded.amount,"
    " value_millionths = levels.value_millionths + excluded.value_millionths"
)
_OF_ITEM = levels.c.item == bindparam("item")
_HELD = (
    select(levels.c.item, levels.c.lot, levels.c.amount)
    .where(levels.c.amount != 0)
    .order_by(levels.c.item, levels.c.lot)
)
_HELD_OF_ITEM = _HELD.where(_OF_ITEM)
_SUMS = select(
    levels.c.item, func.sum(levels.c.amount), func.sum(levels.c.value_millionths)
).group_by(levels.c.item)
_SUMS_OF_ITEM = _SUMS.where(_OF_ITEM)


class ShelfBook(Leaf):
    """The shelf's book of a page."""

    def post(self, lines: Iterable[Movement]) -> int:
        """Write lines that the book has accepted, as one entry; its number.

        Raises
        ------
        InputError: a control character in a name or a reason.
        """
        lines = tuple(lines)
        refuse_hidden("entry of the shelf", [(one.item, one.lot, one.override) for one in lines])
        entry = int(self._connection.execute(_LAST_ENTRY).scalar_one()) + 1
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
            self._connection.execute(_LINES, rows)
            self._connection.execute(_RAISED, rows)
        return entry

    def entry_lines(self, entry: int | None = None) -> tuple[Movement, ...]:
        """The lines of an entry, or of the last one."""
        wanted: Any = entry
        if entry is None:
            wanted = select(func.max(movements.c.entry)).scalar_subquery()
        found = select(movements).where(movements.c.entry == wanted).order_by(movements.c.id)
        return tuple(_movement(row) for row in self._connection.execute(found))

    def entries(self, item: str | None = None) -> Mapping[int, tuple[Movement, ...]]:
        """The whole book, entry by entry; of one item alone where told."""
        found: dict[int, list[Movement]] = {}
        wanted = select(movements).order_by(movements.c.id)
        if item is not None:
            wanted = wanted.where(movements.c.item == item)
        for row in self._connection.execute(wanted):
            found.setdefault(row.entry, []).append(_movement(row))
        return {entry: tuple(lines) for entry, lines in found.items()}

    def book_lines(self, item: str | None = None) -> tuple[Movement, ...]:
        """The lines of the book as they were written, of one item or of all."""
        wanted = select(movements).order_by(movements.c.id)
        if item is not None:
            wanted = wanted.where(movements.c.item == item)
        return tuple(_movement(row) for row in self._connection.execute(wanted))

    def lots(self, item: str) -> Mapping[str, int]:
        """What each lot of an item holds that is not empty."""
        return {lot: held for _, lot, held in self.stock(item)}

    def stock(self, item: str | None = None) -> tuple[tuple[str, str, int], ...]:
        """Item, lot and what it holds, of every lot that is not empty; of one item where told."""
        held = _HELD if item is None else _HELD_OF_ITEM
        return tuple(tuple(row) for row in self._connection.execute(held, {"item": item}))

    def account(self, item: str) -> Account:
        """How much of an item there is over all its lots, and what it is worth."""
        return self.accounts(item).get(item, Account())

    def lot_accounts(self, lots: Iterable[str]) -> Mapping[str, Account]:
        """What some lots hold, and what they are worth by their own lines; none that is empty."""
        found = {}
        for part in in_parts(lots):
            is_it = levels.c.lot.in_(part) & (levels.c.amount != 0)
            for row in self._connection.execute(select(levels).where(is_it)):
                found[row.lot] = Account(row.amount, row.value_millionths * STEP)
        return found

    def accounts(self, item: str | None = None) -> Mapping[str, Account]:
        """The account of every item that ever moved, or of one."""
        sums = _SUMS if item is None else _SUMS_OF_ITEM
        found = self._connection.execute(sums, {"item": item})
        return {
            name: Account(int(units), int(millionths) * STEP) for name, units, millionths in found
        }

    def sum_anew(self) -> None:
        """Add up what lots hold from the lines alone, for a book that was filled in one go."""
        sums = (func.sum(movements.c.amount), func.sum(movements.c.value_millionths))
        lots = (movements.c.item, movements.c.lot)
        found = select(*lots, *(cast(one, BigInteger) for one in sums)).group_by(*lots)
        self._connection.execute(levels.delete())
        self._connection.execute(levels.insert().from_select(list(levels.c), found))


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
