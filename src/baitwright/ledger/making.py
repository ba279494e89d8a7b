"""Making one thing of others: what goes in takes its value along, and what comes out holds it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from baitwright.ledger.movements import NOTHING, Book, Movement, Reason


@dataclass(frozen=True, slots=True)
class Taken:
    """So many whole units out of one lot of an item."""

    item: str
    lot: str
    units: int


@dataclass(frozen=True, slots=True)
class Why:
    """When stock moves, for what, and why it may go below nothing."""

    time: datetime
    reason: Reason
    override: str = ""


def use(book: Book, taken: Iterable[Taken], why: Why) -> tuple[Movement, ...]:
    """The lines that take things out of the book, each with its value at the average.

    Parameters
    ----------
    book: where the items stand.
    taken: what goes out, in the order in which it goes.
    why: of all lines.

    Raises
    ------
    OverdrawnError: a lot holds less, and no reason is given.
    """
    lines = []
    for one in taken:
        bare = Movement(one.item, one.lot, why.time, -one.units, NOTHING, why.reason, why.override)
        line = book.out(bare)
        book = book.take(line)
        lines.append(line)
    return tuple(lines)


def yielded(used: Iterable[Movement], made: Taken, why: Why) -> Movement:
    """The line that brings in what was made; it is worth all that was used."""
    value = -sum((one.value for one in used), NOTHING)
    return Movement(made.item, made.lot, why.time, made.units, value, why.reason)
