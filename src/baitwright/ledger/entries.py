"""Entries of the book: what their lines come to, and which of them stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal

from baitwright.ledger.movements import NOTHING, Movement, Reason

Lines = tuple[Movement, ...]
Entries = Callable[[int], Lines]
"""The lines of an entry by its number; none where it was not written."""


def worth(lines: Iterable[Movement]) -> Decimal:
    """What lines brought in together, less what they took out."""
    return sum((one.value for one in lines), NOTHING)


def undoes(lines: Lines, before: Lines) -> bool:
    """Whether an entry takes another back, line by line."""
    if not lines or len(lines) != len(before):
        return False
    return all(
        one.reason is Reason.UNDONE
        and (one.item, one.lot, one.amount, one.value)
        == (was.item, was.lot, -was.amount, -was.value)
        for one, was in zip(lines, before, strict=True)
    )


def stands(entry: int, entries: Entries) -> bool:
    """Whether an entry was written and not undone; one that was undone twice stands again.

    What undoes an entry comes directly after it.
    """
    last = entry
    while undoes(entries(last + 1), entries(last)):
        last += 1
    return bool(entries(entry)) and (last - entry) % 2 == 0


def root_of(entry: int, entries: Entries) -> int:
    """The entry that one undoes, or undoes the undoing of; itself if it undoes none."""
    while undoes(entries(entry), entries(entry - 1)):
        entry -= 1
    return entry
