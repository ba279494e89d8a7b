"""Traces of an entry that was undone, or undone and made again: they follow the book."""

from __future__ import annotations

from collections.abc import Iterable

from baitwright.ledger.entries import Lines, root_of
from baitwright.ledger.movements import Reason
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.workshop.shelf.lots import link_all, lots_named, place_of
from baitwright.workshop.traces.order_records import order_from
from baitwright.workshop.traces.orders import ORDER, Order


def follow_traces(page: Page, entries: Iterable[int]) -> None:
    """Let traces go that entries from elsewhere took back, or have them again as they say.

    The book alone says it: an order that was taken back has the record that it had.

    Parameters
    ----------
    page: with the entries on it.
    entries: their numbers, in order; one that undoes nothing changes nothing.
    """
    for entry in entries:
        root = root_of(entry, page.entry_lines)
        if root == entry:
            continue
        lines, again = page.entry_lines(root), (entry - root) % 2 == 0
        order = sent_by(page, root)
        if order is not None:
            link_again(page, lines, Place(Stop.SALE, order.holder), again=again)
        made = {one.lot for one in lines if one.reason is Reason.MADE}
        for name, lot in lots_named(page, made):
            if lot.stop != Stop.BATCH:  # its record says how it stands
                link_again(page, lines, place_of(name, lot), again=again)


def link_again(page: Page, lines: Lines, into: Place, *, again: bool) -> None:
    """Have links of what an entry took into a place again, or let them go."""
    if again:
        link_all(page, (one.lot for one in lines if one.amount < 0), into)
    else:
        page.unlink(into)


def sent_by(page: Page, entry: int) -> Order | None:
    """The order that an entry sent."""
    if all(one.reason is not Reason.SOLD for one in page.entry_lines(entry)):
        return None
    found = (one for one in page.all(ORDER) if one.body and one.body["entry"] == entry)
    return next((order_from(one.name, one.body or {}, page.entry_lines) for one in found), None)
