"""What follows when the last entry is undone, or its undoing: traces, and what is set aside."""

from __future__ import annotations

from datetime import datetime

from baitwright.ledger.entries import Lines, root_of
from baitwright.ledger.movements import Reason
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import BAG
from baitwright.workshop.shelf.drawing import let_go
from baitwright.workshop.shelf.lots import (
    LOT,
    Lot,
    lot_of,
    place_of,
    refuse_gone_on,
    refuse_quarantined,
)
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.traces.undone_traces import link_again, sent_by
from baitwright.workshop.tubs.resting import follow_record
from baitwright.workshop.typed.amounts import in_words


def follow(page: Page, undoing: int, *, now: datetime) -> None:
    """Let links of an undone entry go, and set aside again what an order had; or the reverse.

    Parameters
    ----------
    page: with the entry that undoes on it.
    undoing: its number.
    now: when.

    Raises
    ------
    InputError: the entry made a batch or took its making back, made what has gone on or is spoken
        for since, took what is in quarantine by now, or sent an order that was cancelled since.
    """
    for one in page.entry_lines(undoing):
        _refuse_unmade(page, one.lot)
    root = root_of(undoing, page.entry_lines)
    lines, again = page.entry_lines(root), (undoing - root) % 2 == 0
    if again:
        _refuse_quarantined(page, lines)
    made = next((one.lot for one in lines if one.reason is Reason.MADE), None)
    if made is not None:
        _refuse_batch(made, lot_of(page, made))
        place = place_of(made, lot_of(page, made))
        if not again:
            refuse_gone_on(page, place)
        _bag(page, made, again=again, now=now)
        link_again(page, lines, place, again=again)
    order = sent_by(page, root)
    if order is not None:
        link_again(page, lines, Place(Stop.SALE, order.holder), again=again)
        if again:
            if order.is_cancelled:
                raise InputError(f"order {order.name}", "cancelled", "an order that is open")
            let_go(page, order.holder, time=now)
        else:
            for item, lot, units in order.aside:
                page.reserve(order.holder, item, {lot: units}, time=now)
    follow_record(page, lines, root, again=again, now=now)
    for one in page.entry_lines(undoing):
        if one.amount < 0:
            refuse_kept(page, one.item, one.lot)


def refuse_kept(page: Page, item: str, lot: str) -> None:
    """Refuse to undo what leaves less in a lot than is spoken for of it.

    Parameters
    ----------
    page: with the undoing on it.
    item, lot: of what, and which.

    Raises
    ------
    InputError: it does.
    """
    kept = page.holders(lot)
    if kept and sum(kept.values()) > page.lots(item).get(lot, 0):
        counted = counted_as(page, item)
        told = ", ".join(f"{in_words(one, counted)} for {who}" for who, one in kept.items())
        hint = f"Spoken for: {told}. Cancel the order or the batch first."
        raise InputError("undo", f"lot {lot}", "what nobody has spoken for", hint=hint)


def _refuse_quarantined(page: Page, lines: Lines) -> None:
    """What was put into quarantine meanwhile is lost or counted again, but goes nowhere else."""
    for one in lines:
        if one.amount < 0 and one.reason not in (Reason.LOST, Reason.COUNTED):
            refuse_quarantined(one.lot, lot_of(page, one.lot))


def _refuse_unmade(page: Page, lot: str) -> None:
    """A batch whose making was taken back is made again by its own words."""
    record = page.latest(LOT, lot)
    if record is not None and record.body is None:
        hint = f"Say `baitwright batch made {lot} FILE`."
        raise InputError("undo", f"batch {lot}, unmade", "an entry that is no batch", hint=hint)


def _refuse_batch(name: str, lot: Lot) -> None:
    """A batch is more than its entry: its own undo takes back all of it."""
    if lot.stop == Stop.BATCH:
        hint = f"Say `baitwright batch undo {name}`."
        raise InputError("undo", f"batch {name}", "an entry that is no batch", hint=hint)


def _bag(page: Page, name: str, *, again: bool, now: datetime) -> None:
    """The record of a bag goes with its baits, and comes back with them."""
    record = page.latest(BAG, name)
    if record is not None and (record.body is None) == again:
        page.undo(BAG, name, time=now)
