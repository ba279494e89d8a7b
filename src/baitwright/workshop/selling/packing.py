"""A packing run: a lot of baits into packs, with bags and labels, and what was lost on the way."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from baitwright.ledger.making import Taken, Why, yielded
from baitwright.ledger.movements import Amount, Counted, Movement, Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.costs import PACKING
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.draft import Draft, Part
from baitwright.workshop.shelf.lots import LOT, Lot, link_all, lot_of, place_of, without_price
from baitwright.workshop.shelf.stock import as_item

MOST = 10**6
"""Packs, or baits in one: more is a slip of the pen."""


@dataclass(frozen=True, slots=True)
class Packing:
    """What is packed: the lot of baits, the item that the packs are, how many, and of how many.

    ``materials`` are items that go with it, such as bags and labels, for the whole run;
    ``override`` says why more goes than the book holds, or what is past its day.
    """

    lot: str
    into: str
    packs: int
    each: int
    lost: int = 0
    materials: tuple[tuple[str, Amount], ...] = ()
    override: str = ""


@dataclass(frozen=True, slots=True)
class Made:
    """A lot that was packed or put together, and all lines of its entry."""

    lot: str
    lines: tuple[Movement, ...]


def pack(book: Notebook, run: Packing, *, now: datetime) -> Made:
    """Pack baits; the packs come in as a lot of their own with all the value that went out.

    Raises
    ------
    InputError: an unknown lot or item, one in quarantine, no packs, or too little of anything.
    """
    refuse_count("packs", run.packs)
    refuse_count("baits in a pack", run.each)
    refuse_count("baits lost", run.lost, least=0)
    with book.writing() as page:
        draft = Draft(page, now=now)
        run = replace(run, lot=as_kept(page, LOT, run.lot), into=as_item(page, run.into))
        baits = lot_of(page, run.lot).item
        _take_baits(draft, baits, run)
        for item, amount in run.materials:
            draft.take(Part(item, amount, Reason.PACKED))
        made = bring_together(draft, run.into, run.packs)
        told = {"item": run.into, "day": now.date().isoformat(), "baits": baits, "from": run.lot}
        counts = {"packs": run.packs, "each": run.each, "lost": run.lost}
        body = {**told, **counts, "entries": [draft.post()]}
        page.write(PACKING, made.lot, body, seen=0, time=now)
    return made


def bring_together(draft: Draft, into: str, count: int) -> Made:
    """So many of an item come in for all that an entry took; best before the earliest of it.

    Raises
    ------
    InputError: the item is among what was taken, or is not counted in pieces.
    """
    used = tuple(draft.lines)
    if any(one.item == into for one in used):
        raise InputError("item that comes of it", into, "another than those that go into it")
    best, day = draft.earliest(), draft.now.date().isoformat()
    lots = dict.fromkeys(one.lot for one in used)
    told = Lot(
        item=into,
        came=day,
        best_before=None if best is None else best.isoformat(),
        stop=Stop.BAG.value,
        priced=not without_price(draft.page, lots),
    )
    lot = draft.new_lot(told, Amount(count, Counted.PIECES))
    line = draft.put(yielded(used, Taken(into, lot, count), Why(draft.now, Reason.MADE)))
    link_all(draft.page, lots, place_of(lot, told))
    return Made(lot, (*used, line))


def refuse_count(field: str, count: int, *, least: int = 1) -> None:
    """Refuse a number of things that is none.

    Raises
    ------
    InputError: it is less than the least, or beyond reason.
    """
    if not least <= count <= MOST:
        raise InputError(field, count, f"a whole number from {least} to {MOST:,}")


def _take_baits(draft: Draft, baits: str, run: Packing) -> None:
    for count, reason in ((run.packs * run.each, Reason.PACKED), (run.lost, Reason.LOST)):
        if count:
            amount = Amount(count, Counted.PIECES)
            draft.take(Part(baits, amount, reason, run.lot, run.override))
