"""One entry of the book as it is drawn up: several items taken and put, written all together."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime

from baitwright.ledger.making import Taken, Why, use
from baitwright.ledger.movements import Amount, Book, Movement, Reason
from baitwright.ledger.picking import pick
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.item_units import agree_on_unit, refuse_unit
from baitwright.workshop.shelf.lots import LOT, Lot, earliest, lot_of, next_lot, refuse_quarantined
from baitwright.workshop.shelf.stock import Shelf, as_item, shelf_of, standing
from baitwright.workshop.shelf.too_little import left_of, not_picked, too_little


@dataclass(frozen=True, slots=True)
class Part:
    """So much of an item, for which reason; from one lot where it is named.

    ``override`` says why more goes of a named lot than is free, or why it goes past its day.
    """

    item: str
    amount: Amount
    reason: Reason
    lot: str = ""
    override: str = ""


class Draft:
    """Lines of one entry, each valued as if those before it were written already.

    Parameters
    ----------
    page: they are going to be written on.
    now: when.
    """

    def __init__(self, page: Page, *, now: datetime) -> None:
        self.page, self.now = page, now
        self.lines: list[Movement] = []
        self._book = Book({}, {})

    def take(self, part: Part) -> tuple[Movement, ...]:
        """Take so much of an item, the earliest to expire first; never from quarantine.

        Raises
        ------
        InputError: an unknown item or lot, another unit, a lot in quarantine, or too little.
        """
        part = replace(part, item=as_item(self.page, part.item))
        shelf = self._shelf(part.item)
        refuse_unit(part.item, shelf.counted, part.amount)
        lots = self._named(shelf, part) if part.lot else self._picked(shelf, part)
        taken = tuple(Taken(part.item, lot, units) for lot, units in lots)
        lines = use(self._book, taken, Why(self.now, part.reason, part.override))
        return tuple(self.put(line) for line in lines)

    def put(self, line: Movement) -> Movement:
        """Add a line with the value it has.

        Raises
        ------
        InputError: the book does not accept it.
        """
        self._know(line.item)
        self._book = self._book.take(line)
        self.lines.append(line)
        return line

    def earliest(self) -> date | None:
        """The first best-before day of all lots that were taken from."""
        return earliest(self.page, (one.lot for one in self.lines if one.amount < 0))

    def new_lot(self, told: Lot, amount: Amount) -> str:
        """A new lot for something that comes in, with its name."""
        agree_on_unit(self.page, told.item, amount, now=self.now)
        lot = next_lot(self.page, self.now.date())
        self.page.write(LOT, lot, told.as_body(), seen=0, time=self.now)
        return lot

    def post(self) -> int:
        """Write the lines as one entry; its number."""
        return self.page.post(self.lines)

    def _know(self, item: str) -> None:
        if item not in self._book.items:
            self._book = self._book.joined(standing(self.page, item))

    def _shelf(self, item: str) -> Shelf:
        """An item of the shelf as it is once the lines so far are written."""
        self._know(item)
        shelf = shelf_of(self.page, item)
        lots = tuple(replace(one, held=self._book.lots.get(one.lot, 0)) for one in shelf.lots)
        return replace(shelf, lots=lots)

    def _picked(self, shelf: Shelf, part: Part) -> tuple[tuple[str, int], ...]:
        found = pick(shelf.lots, part.amount.units, day=self.now.date())
        if found.short:
            hint, there = not_picked(shelf, found.past).strip(), part.amount.units - found.short
            raise too_little(shelf, part.amount.units, there, hint=hint)
        return found.lots

    def _named(self, shelf: Shelf, part: Part) -> tuple[tuple[str, int], ...]:
        lot = lot_of(self.page, part.lot)
        if lot.item != shelf.item:
            raise InputError("lot", part.lot, f"a lot of {shelf.item}, not of {lot.item}")
        refuse_quarantined(part.lot, lot)
        if not part.override.strip():
            self._check(shelf, part, lot)
        return ((part.lot, part.amount.units),)

    def _check(self, shelf: Shelf, part: Part, lot: Lot) -> None:
        """Refuse what does not go without a reason: past its day, or more than is free."""
        if lot.best_before is not None and lot.best_before < self.now.date().isoformat():
            got, hint = f"{part.lot}, past {lot.best_before}", "Say --why it is to go all the same."
            raise InputError("lot", got, "one within its day", hint=hint)
        free, spoken = left_of(shelf, part.lot)
        if part.amount.units > free:
            hint = f"{spoken}Count it, or say --why."
            raise too_little(shelf, part.amount.units, free, hint=hint)
