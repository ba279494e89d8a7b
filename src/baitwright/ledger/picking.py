"""Which lots to take from: tubs, then the first to expire, and of these the first that came."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class LotOnShelf:
    """A lot with what it holds and what of it is spoken for, in whole units of its item.

    A tub that ``is_mixed`` is used up before the base of its name that it was mixed of.
    """

    lot: str
    came: date
    best_before: date | None
    held: int
    reserved: int = 0
    quarantined: bool = False
    is_mixed: bool = False
    priced: bool = True
    """Whether all of its price is known."""

    @property
    def free(self) -> int:
        """What can still be taken."""
        return 0 if self.quarantined else max(self.held - self.reserved, 0)

    def past(self, day: date) -> bool:
        """Whether its best-before day is over."""
        return self.best_before is not None and self.best_before < day


@dataclass(frozen=True, slots=True)
class Picked:
    """How much to take of which lots, in the order to take them, and what is short."""

    lots: tuple[tuple[str, int], ...]
    short: int
    past: tuple[str, ...]
    """Lots left alone because their best-before day is over."""


def pick(shelf: Iterable[LotOnShelf], amount: int, *, day: date) -> Picked:
    """Take an amount from the shelf, the earliest to expire first.

    Lots without a best-before day come last; quarantined lots and those past their day are left.

    Raises
    ------
    InputError: nothing is to be taken.
    """
    if amount <= 0:
        raise InputError("amount to take", amount, "more than nothing")
    lots = sorted(shelf, key=first_to_go)
    taken, short = [], amount
    for lot in lots:
        part = 0 if lot.past(day) else min(lot.free, short)
        if part > 0:
            taken.append((lot.lot, part))
            short -= part
    past = tuple(lot.lot for lot in lots if lot.past(day) and lot.free > 0)
    return Picked(tuple(taken), short, past)


def due(shelf: Iterable[LotOnShelf], *, day: date, within: timedelta) -> tuple[LotOnShelf, ...]:
    """Lots with something in them whose best-before day is over, or comes within some days."""
    last = day + within
    soon = [lot for lot in shelf if lot.held > 0 and lot.best_before and lot.best_before <= last]
    return tuple(sorted(soon, key=first_to_go))


def first_to_go(lot: LotOnShelf) -> tuple[bool, date, date, str]:
    """What lots are taken by: tubs, then the earliest to expire, then the first that came."""
    return (not lot.is_mixed, lot.best_before or date.max, lot.came, lot.lot)
