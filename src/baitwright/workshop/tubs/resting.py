"""Records that stock rests on: tubs and blends, which the book and the trace go with."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from baitwright.ledger.entries import Lines, stands
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.shelf.lots import lot_of, place_of
from baitwright.workshop.traces.quarantine import keep_aside
from baitwright.workshop.tubs.tellings import BLEND, ENTRY, MADE_LOTS, TUB, is_there, lot_named

_OTHER = "one that no stock rests on"


def refuse_resting(page: Page, last: Revision, *, is_away: bool = False) -> None:
    """Refuse to take a version back that stock rests on, or a record of a lot that is not empty.

    Raises
    ------
    InputError: it is one.
    """
    if last.kind not in MADE_LOTS or last.body is None:
        return
    entry, lot = last.body.get(ENTRY), lot_named(last)
    if entry is not None and stands(entry, page.entry_lines):
        hint = "`baitwright shelf undo` takes it back, or weigh the lot anew."
        raise InputError(
            f"{last.kind} {last.name}", "a version that moved stock", _OTHER, hint=hint
        )
    if is_away and is_there(page, lot) and page.lots(lot_of(page, lot).item).get(lot, 0):
        hint = f"Write left=0 first, or `baitwright shelf out`: lot {lot} holds something."
        raise InputError(f"{last.kind} {last.name}", "a lot of the shelf", _OTHER, hint=hint)


def follow_record(page: Page, lines: Lines, root: int, *, again: bool, now: datetime) -> None:
    """The record of a tub or a blend goes with its entry, and comes back with it.

    A later version of it stays as it is.

    Parameters
    ----------
    page: with the undoing on it.
    lines, root: the entry that is undone or done again, and its number.
    again: which of the two.
    now: when.
    """
    for kind, name in {(TUB, one.lot) for one in lines} | {(BLEND, one.item) for one in lines}:
        versions = page.history(kind, name)
        was = versions[-2 if again else -1] if len(versions) > again else None
        if was is not None and (was.body or {}).get(ENTRY) == root:
            page.undo(kind, name, time=now)
            if weighed_after(was.body or {}):
                _into_batch(page, was, again=again, now=now)


def weighed_after(body: Mapping[str, Any]) -> bool:
    """Whether a record tells what a tub held after a batch."""
    return body.get("weighed") == "after" and "batch" in body


def into_batch(page: Page, tub: str, batch: str, *, now: datetime) -> None:
    """A tub that was lighter after a batch is in it, whichever tub the book drew on."""
    into = Place(Stop.BATCH, batch)
    page.link(Link(place_of(tub, lot_of(page, tub)), into))
    keep_aside(page, [(tub, into)], now=now)


def _into_batch(page: Page, was: Revision, *, again: bool, now: datetime) -> None:
    """The same again; or not, but for what the batch itself drew out of the tub."""
    tub, batch = was.name, str((was.body or {})["batch"])
    if again:
        into_batch(page, tub, batch, now=now)
        return
    made = page.latest(BATCH, batch)
    entries = (made.body or {}).get("entries", ()) if made is not None else ()
    if tub not in {one.lot for entry in entries for one in page.entry_lines(entry)}:
        page.unlink(Place(Stop.BATCH, batch), source=place_of(tub, lot_of(page, tub)))
