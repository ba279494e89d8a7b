"""Lines of the book that tell what something cost: those that stand, and those that lost some."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.ledger.entries import Lines, stands
from baitwright.ledger.movements import Movement, Reason
from baitwright.notebook.page import Page
from baitwright.workshop.batches.bags import BAG
from baitwright.workshop.batches.batches import batch_of


def lines_of(page: Page, batch: str) -> Lines:
    """The lines of the book that a batch took and gave; none of an entry that was undone.

    Raises
    ------
    InputError: there is no such batch.
    """
    return standing_lines(page, (batch_of(page, batch).body or {}).get("entries", ()))


def standing_lines(page: Page, entries: list[int]) -> Lines:
    """The lines of some entries; none of one that was undone."""
    standing = (entry for entry in entries if stands(entry, page.entry_lines))
    return tuple(line for entry in standing for line in page.entry_lines(entry))


def lost_of(page: Page, batch: str) -> int:
    """Baits of a batch and its bags that were lost since, or not found when they were counted."""
    names = {batch, *(one.name for one in page.all(BAG, about=batch))}
    gone = (Reason.LOST, Reason.COUNTED)
    items = {one.item for one in lines_of(page, batch) if one.reason is Reason.MADE}
    lines = (one for item in items for one in that_stand(page, item) if one.lot in names)
    return -sum(one.amount for one in lines if one.reason in gone)


def that_stand(page: Page, item: str) -> Iterator[Movement]:
    """The lines of an item whose entries were not undone."""
    written = page.entries(item)

    def entries(entry: int) -> Lines:
        return written.get(entry, ())

    for entry, lines in written.items():
        if stands(entry, entries):
            yield from lines
