"""Lots that a batch was made of and no good one was, and what to look at of such a lot."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batches.batch_hours import holder
from baitwright.workshop.batches.good_ones import is_made
from baitwright.workshop.shelf.lots import LOT
from baitwright.workshop.typed.nearest import alike

CHECKS: Mapping[str, str] = {
    "eggs": "weigh the eggs: another lot may give more or less",
    "dry mix": "weigh the tub before and after: another tub may take up more or less egg",
    "liquid": "smell it beside the old one: strength differs from lot to lot",
    "core": "weigh twenty: lift goes by them",
}
"""What another lot may change, and what tells, by what it is to a batch."""


@dataclass(frozen=True, slots=True)
class OtherLot:
    """A lot that no good batch was made of, those of the last good one, and what to look at.

    ``part`` is what it is to the batch: eggs, dry mix, liquid or core.
    """

    item: str
    lot: str
    before: tuple[str, ...]
    supplier: str
    check: str
    part: str = ""


def other_lots(page: Page, found: Revision, good: Sequence[Revision]) -> Iterator[OtherLot]:
    """The lots of a batch, or spoken for it, that are in none of the good ones."""
    known = [_lots_of(page, one) for one in good]
    wishes = (found.body or {}).get("wishes", ())
    parts = {alike(one["name"]): str(one["part"]) for one in wishes}
    for item, lot in sorted(_lots_of(page, found) - set().union(*known)):
        before = tuple(sorted(of for name, of in known[-1] if name == item))
        record = page.latest(LOT, lot)
        told = {} if record is None else record.body or {}
        if before:
            part = parts.get(alike(item), "")
            supplier = str(told.get("supplier", ""))
            yield OtherLot(item, lot, before, supplier, CHECKS.get(part, ""), part)


def _lots_of(page: Page, one: Revision) -> set[tuple[str, str]]:
    """Item and lot of all that went into a batch, or is spoken for it."""
    if not is_made(one):
        return {(item, lot) for item, lot, _ in page.reserved_for(holder(one.name))}
    lines = (line for entry in (one.body or {})["entries"] for line in page.entry_lines(entry))
    return {(line.item, line.lot) for line in lines if line.amount < 0}
