"""A tub or a blend that is written down is a lot of the shelf: made of named lots, and weighed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from baitwright.ledger.movements import Amount, Counted, Reason
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.batches.batch_needs import mass
from baitwright.workshop.entries.stock_moves import counted_on
from baitwright.workshop.forms.names import as_kept, fair_name
from baitwright.workshop.shelf.draft import Draft, Part
from baitwright.workshop.shelf.drawing import make
from baitwright.workshop.shelf.item_units import agree_on_unit
from baitwright.workshop.shelf.lots import LOT, Lot, lot_of, refuse_quarantined
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.tubs.resting import into_batch, weighed_after
from baitwright.workshop.tubs.tellings import LEFT, Named, Telling, is_there, parts_named
from baitwright.workshop.typed.nearest import alike

_RESTS_ON = ("base", "base_lot", "hardener", "hardener_basis", "hardener_lot", "part", "lot")
_BY_DAY = re.compile(r"\d{4}-\d{2}-\d{2}/")


def on_shelf(page: Page, told: Telling, before: Mapping[str, Any] | None) -> int | None:
    """Make the lot of what is told out of the lots it names, or set it to what was weighed.

    Without lots that it names, and without a lot of its own, nothing moves.

    Parameters
    ----------
    page: to write on.
    told: what is told now.
    before: the record's body so far.

    Returns
    -------
    The entry of the book, if there is one.

    Raises
    ------
    InputError: a lot that is something else, unknown, in quarantine or too small; parts changed of
        what is made already; or a tub weighed after a batch that is not made yet.
    """
    if not is_there(page, told.lot):
        parts = tuple(parts_named(page, told))
        return _made(page, told, parts) if parts else None
    lot = lot_of(page, told.lot)
    if (lot.item, lot.stop) != (told.item, told.stop):
        accepted = f"another name, for this one is a lot of {lot.item}"
        raise InputError(told.kind, told.lot, accepted)
    _refuse_other_parts(told, before)
    if told.left is None:
        return None
    after = str(told.body["batch"]) if weighed_after(told.body) else ""
    if after:
        _refuse_planned(page, after)
    wrong, entry = counted_on(page, told.lot, told.left, now=told.now)
    if after and wrong < 0:
        into_batch(page, told.lot, after, now=told.now)
    return entry


def _made(page: Page, told: Telling, parts: tuple[Named, ...]) -> int:
    known = page.latest(LOT, told.lot)
    if told.left is None:
        raise InputError(LEFT, None, f"how much {told.lot} holds, for it is made of lots you name")
    if known is not None and known.body is not None:  # made before, and undone
        refuse_quarantined(told.lot, lot_of(page, told.lot))
    if _BY_DAY.match(told.lot) or fair_name(page, LOT, told.lot) != told.lot:
        raise InputError("lot", told.lot, "a name of its own that no day begins, such as T1")
    draft = Draft(page, now=told.now)
    for one in parts:
        draft.take(_part(page, one, told.left, why=told.why))
    agree_on_unit(page, told.item, told.left, now=told.now)
    best = draft.earliest()
    came = str(told.body.get("day") or told.now.date().isoformat())
    lot = Lot(told.item, came, None if best is None else best.isoformat(), stop=told.stop.value)
    used = tuple(draft.lines)
    return make(page, told.lot, lot, units=told.left.units, used=used, time=told.now)


def _part(page: Page, named: Named, whole: Amount, *, why: str) -> Part:
    """A share of what is made; of a liquid that is counted by weight, by its density."""
    if not is_there(page, named.lot):
        raise InputError(named.field, named.lot, "a lot of the shelf")
    item, units = lot_of(page, named.lot).item, round(whole.units * named.share)
    if named.item and alike(named.item) != alike(item):
        raise InputError(named.field, f"{named.lot}, {item}", f"a lot of {named.item}")
    amount = Amount(units, whole.counted)
    if whole.counted is Counted.MICROLITRES and counted_as(page, item) is Counted.MILLIGRAMS:
        record = page.latest("liquid", as_kept(page, "liquid", item))
        density = None if record is None else (record.body or {}).get("density")
        if density is None:
            hint = f'The shelf weighs it: baitwright record liquid "{item}" density="1.1 g/ml"'
            raise InputError(f"density of {item}", None, "one in its record", hint=hint)
        amount = mass(units * 1e-9 * density)
    return Part(item, amount, Reason.USED, named.lot, why)


def _refuse_other_parts(told: Telling, before: Mapping[str, Any] | None) -> None:
    """What a lot was made of stays: its stock and its trace rest on it."""
    if before is None or Telling(told.kind, told.name, before, told.now).lot != told.lot:
        return
    for entry in _RESTS_ON:
        if before.get(entry) != told.body.get(entry):
            hint = "`baitwright shelf undo` takes it off the shelf while it is the last entry."
            accepted = f"what lot {told.lot} was made of, as it was written"
            raise InputError(entry, told.body.get(entry), accepted, hint=hint)


def _refuse_planned(page: Page, batch: str) -> None:
    """Made later, the batch would be drawn from the tub a second time."""
    record = page.latest(BATCH, batch)
    if record is not None and (record.body or {}).get("state") == State.PLANNED:
        hint = f"`baitwright batch made {batch} FILE` draws the tub down; weigh it then."
        raise InputError("batch", f"{batch}, planned", "one that is made", hint=hint)
