"""What the book has of one year: the lines that stand, the batches made, and what lines cost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from baitwright.ledger.entries import Lines, stands, worth
from baitwright.ledger.movements import NOTHING, Movement, Reason
from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.selling.takings import sales_of
from baitwright.workshop.shelf.lots import without_price
from baitwright.workshop.traces.order_records import orders_on


@dataclass(frozen=True, slots=True)
class Paid:
    """Money, and how many lots stand in it of which not all of the price is known."""

    value: Decimal = NOTHING
    unpriced: int = 0

    @property
    def whole(self) -> bool:
        """Whether all of it is known."""
        return not self.unpriced


@dataclass(frozen=True, slots=True)
class MadeOn:
    """A batch that was made, its day, what went into it, and the good baits it gave."""

    batch: Revision
    day: date
    used: Lines
    baits: int

    @property
    def recipe(self) -> str:
        """Of which it is."""
        return str((self.batch.body or {})["about"])


class YearBook:
    """One year of a page.

    Parameters
    ----------
    page: of the notebook; the book is read once.
    year: of the calendar.
    now: days are those of the clock that it is told by.
    """

    def __init__(self, page: Page, year: int, *, now: datetime) -> None:
        self.page, self.year, self._zone = page, year, now.tzinfo
        self._written = page.entries()
        standing = {one: lines for one, lines in self._written.items() if self._stands(one)}
        orders = orders_on(page, self._lines)
        ordered = {order.entry for order in orders}
        self.moved = tuple(self._within(standing.values()))
        self.unordered = tuple(
            line
            for line in self._within(
                lines for entry, lines in standing.items() if entry not in ordered
            )
            if line.reason is Reason.SOLD
        )
        self.batches = page.all(BATCH)
        self.made = tuple(one for one in self._every_made() if one.day.year == year)
        sent = tuple(line for one in orders if one.entry for line in self._lines(one.entry))
        used = tuple(line for one in self.made for line in one.used)
        self._unpriced = without_price(page, {line.lot for line in (*self.moved, *used, *sent)})
        self.sales = tuple(
            sale
            for order in orders
            for sale in sales_of(order, self._lines, self._unpriced)
            if sale.day.year == year
        )

    def of(self, *reasons: Reason) -> Lines:
        """The lines of the year that moved for one of some reasons."""
        return tuple(line for line in self.moved if line.reason in reasons)

    def paid(self, lines: Iterable[Movement]) -> Paid:
        """What lines took out of the book, or brought in, as money above nothing."""
        every = tuple(lines)
        unpriced = {line.lot for line in every} & self._unpriced
        return Paid(abs(worth(every)), len(unpriced))

    def day_of(self, moment: datetime) -> date:
        """The day of a moment by the maker's clock."""
        return moment.astimezone(self._zone).date()

    def _lines(self, entry: int) -> Lines:
        return self._written.get(entry, ())

    def _stands(self, entry: int) -> bool:
        return stands(entry, self._lines)

    def _within(self, entries: Iterable[Lines]) -> Iterable[Movement]:
        return (
            line for lines in entries for line in lines if self.day_of(line.time).year == self.year
        )

    def _every_made(self) -> Iterable[MadeOn]:
        for one in self.batches:
            body = one.body or {}
            if body["state"] != State.MADE:
                continue
            standing = filter(self._stands, body["entries"])
            lines = tuple(line for entry in standing for line in self._lines(entry))
            gave = [line for line in lines if line.reason is Reason.MADE]
            told = body["actual"].get("made")
            day = date.fromisoformat((told or body["day"])[:10])
            if gave and not told:
                day = self.day_of(gave[0].time)
            used = tuple(line for line in lines if line.reason is not Reason.MADE)
            yield MadeOn(one, day, used, sum(line.amount for line in gave))
