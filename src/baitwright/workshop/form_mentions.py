"""What a record mentions: bags and batches, which lead to a night in the trace, and people."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.batch_hours import BATCH
from baitwright.workshop.form import mentions
from baitwright.workshop.lots import LOT, lot_of, place_of
from baitwright.workshop.names import as_kept

PEOPLE = ("customer", "owner", "companion")
BAITS = ("bag", "batch")
_OF_BAITS = (Stop.BATCH.value, Stop.BAG.value)


def as_mentioned(page: Page, written: Mapping[str, Any]) -> dict[str, Any]:
    """What was written, with bags and batches named as the notebook has them, capitals too."""

    def named(key: str, value: Any) -> Any:
        if isinstance(value, list):
            return [as_mentioned(page, one) if isinstance(one, dict) else one for one in value]
        if key not in BAITS or not isinstance(value, str):
            return value
        lot = as_kept(page, LOT, value)
        return lot if page.latest(LOT, lot) is not None else as_kept(page, BATCH, value)

    return {key: named(key, value) for key, value in written.items()}


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


def _place(page: Page, name: str) -> Place:
    lot = page.latest(LOT, name)
    is_there = lot is not None and lot.body is not None
    return place_of(name, lot_of(page, name)) if is_there else Place(Stop.BATCH, name)
