"""What a record mentions: bags and batches, which lead to a night in the trace, lots, people."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.forms.form import mentions
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.lots import LOT, lot_of, place_of
from baitwright.workshop.shelf.stock import as_item
from baitwright.workshop.tubs.tellings import MADE_LOTS

PEOPLE = ("customer", "owner", "companion")
BAITS = ("bag", "batch")
_OF_BAITS = (Stop.BATCH.value, Stop.BAG.value)


def as_mentioned(page: Page, written: Mapping[str, Any], kind: str) -> dict[str, Any]:
    """What was written in a record of a kind, with names as the notebook has them, capitals too.

    Bags and batches are, and of a tub or a blend its base and the lots that it names.
    """
    named = _NAMED_OF_MADE if kind in MADE_LOTS else _NAMED

    def walked(key: str, value: Any) -> Any:
        if isinstance(value, list):
            return [
                as_mentioned(page, one, kind) if isinstance(one, dict) else one for one in value
            ]
        return named[key](page, value) if key in named and isinstance(value, str) else value

    return {key: walked(key, value) for key, value in written.items()}


def refuse_unknown(page: Page, body: Mapping[str, Any]) -> None:
    """Refuse a bag, a batch or a person that the notebook does not have.

    Raises
    ------
    InputError: the first such mention.
    """
    for field, name in mentions(body, *BAITS):
        lot, batch = (page.latest(kind, name) for kind in (LOT, BATCH))
        stop = "" if lot is None or lot.body is None else lot.body["stop"]
        # bought baits come in bags too, but in no batch
        is_bait = stop in _OF_BAITS if field.endswith(BATCH) else stop != ""
        if not is_bait and (batch is None or batch.body is None):
            last = ", ".join(one.name for one in page.last(BATCH, 3)) or "none yet"
            accepted = f"a bag or a batch of the notebook; the last batches are: {last}"
            raise InputError(field, name, accepted)
    known = page.persons() if any(mentions(body, *PEOPLE)) else {}
    for field, code in mentions(body, *PEOPLE):
        if code not in known:
            accepted = f"one of: {', '.join(known) or 'nobody yet'}"
            hint = "`baitwright record person name=...` gives a code."
            raise InputError(field, code, accepted, hint=hint)


def follow(page: Page, made: Revision) -> None:
    """A night stands in the trace behind the bags and batches that were fished."""
    if made.kind != "night":
        return
    night = Place(Stop.NIGHT, made.name)
    page.unlink(night)
    fished = dict.fromkeys(name for _, name in mentions(made.body or {}, *BAITS))
    page.link(*(Link(_place(page, one), night) for one in fished))


def _as_bait(page: Page, name: str) -> str:
    lot = _as_lot(page, name)
    return lot if page.latest(LOT, lot) is not None else as_kept(page, BATCH, name)


def _as_lot(page: Page, name: str) -> str:
    return as_kept(page, LOT, name)


_NAMED: Mapping[str, Callable[[Page, str], str]] = dict.fromkeys(BAITS, _as_bait)
_LOTS = dict.fromkeys(("base_lot", "hardener_lot", "lot"), _as_lot)
_NAMED_OF_MADE = {**_NAMED, **_LOTS, "base": as_item}


def _place(page: Page, name: str) -> Place:
    lot = page.latest(LOT, name)
    is_there = lot is not None and lot.body is not None
    return place_of(name, lot_of(page, name)) if is_there else Place(Stop.BATCH, name)
