"""Kits: a bill of parts, put together so many times, and taken apart again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Any

from baitwright.ledger.entries import stands, worth
from baitwright.ledger.movements import Amount, Counted, Movement, Reason
from baitwright.ledger.price import shared_out, stretch
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.costs import ASSEMBLY
from baitwright.workshop.forms.names import as_kept, fair_name
from baitwright.workshop.forms.newest import body_of, write_again
from baitwright.workshop.selling.packing import Made, bring_together, refuse_count
from baitwright.workshop.shelf.draft import Draft, Part
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.stock import as_item, counted_as

KIT = "kit"


@dataclass(frozen=True, slots=True)
class Kit:
    """A kit and how much of each item is in one."""

    item: str
    parts: tuple[tuple[str, Amount], ...]


def keep_kit(book: Notebook, kit: Kit, *, now: datetime) -> None:
    """Write down what is in a kit, as its next version.

    Raises
    ------
    InputError: no parts, an unknown one, one told twice, in another unit, or the kit itself.
    """
    with book.writing() as page:
        kit = replace(kit, parts=tuple((as_item(page, item), one) for item, one in kit.parts))
        names = [item for item, _ in kit.parts]
        if not names or len(set(names)) < len(names) or as_item(page, kit.item) in names:
            told = ", ".join(names) or None
            raise InputError(f"parts of {kit.item}", told, "other items, each of them once")
        for item, amount in kit.parts:
            refuse_unit(item, counted_as(page, item), amount)
        parts = [[item, one.units, one.counted.value] for item, one in kit.parts]
        name = fair_name(page, KIT, kit.item)
        write_again(page, KIT, name, body={"item": name, "parts": parts}, now=now)


def kits(book: Notebook) -> tuple[Kit, ...]:
    """Every kit with its parts, by name."""
    with book.reading() as page:
        return tuple(kit_from(one.name, one.body) for one in page.all(KIT) if one.body is not None)


def put_together(book: Notebook, kit: str, count: int, *, now: datetime) -> Made:
    """Take the parts of so many kits, the earliest to expire first; a lot of kits comes in.

    Raises
    ------
    InputError: no such kit, none of it, or too little of a part.
    """
    refuse_count("kits", count)
    with book.writing() as page:
        draft, kit = Draft(page, now=now), as_kept(page, KIT, kit)
        for item, amount in kit_from(kit, body_of(page, KIT, kit)).parts:
            draft.take(Part(item, Amount(amount.units * count, amount.counted), Reason.PACKED))
        made = bring_together(draft, kit, count)
        told = {"item": kit, "day": now.date().isoformat(), "kits": count, "apart": []}
        page.write(ASSEMBLY, made.lot, {**told, "entries": [draft.post()]}, seen=0, time=now)
    return made


def take_apart(book: Notebook, lot: str, count: int, *, now: datetime) -> Made:
    """Take kits of a lot apart; the parts go back into their lots with all the kits' value.

    Parts share the value as they did when they went in. What went in last comes out first.

    Raises
    ------
    InputError: no lot of kits, none of it, or more than it holds.
    """
    refuse_count("kits", count)
    with book.writing() as page:
        lot = as_kept(page, ASSEMBLY, lot)
        run = body_of(page, ASSEMBLY, lot)
        (entry,) = run["entries"]
        if not stands(entry, page.entry_lines):
            raise InputError("lot", lot, "a lot of kits; putting these together was undone")
        before = sum(one["kits"] for one in run["apart"] if stands(one["entry"], page.entry_lines))
        if count > run["kits"] - before:
            accepted = f"{run['kits'] - before} at most"
            raise InputError(f"kits of {lot} to take apart", count, accepted)
        draft = Draft(page, now=now)
        amount = Amount(count, Counted.PIECES)
        gone = draft.take(Part(run["item"], amount, Reason.USED, lot))
        went_in = [one for one in page.entry_lines(entry) if one.amount < 0]
        last = run["kits"] - before
        back = _parts_back(went_in, run["kits"], (last - count, last))
        values = shared_out(-worth(gone), _weights(went_in, back))
        for (item, into, units), value in zip(back, values, strict=True):
            draft.put(Movement(item, into, now, units, value, Reason.RETURNED))
        apart = [*run["apart"], {"kits": count, "entry": draft.post()}]
        write_again(page, ASSEMBLY, lot, body={**run, "apart": apart}, now=now)
    return Made(lot, tuple(draft.lines))


def kit_from(name: str, body: Mapping[str, Any]) -> Kit:
    """A kit as its record has it."""
    parts = ((item, Amount(units, Counted(counted))) for item, units, counted in body["parts"])
    return Kit(name, tuple(parts))


def _parts_back(
    went_in: Sequence[Movement], kits: int, between: tuple[int, int]
) -> list[tuple[str, str, int]]:
    """Item, lot and amount of what lies in the kits of a run from one to another."""
    back = []
    for item in dict.fromkeys(one.item for one in went_in):
        lots = [(one.lot, -one.amount) for one in went_in if one.item == item]
        each = sum(units for _, units in lots) // kits
        start, stop = (each * at for at in between)
        back += [(item, lot, units) for lot, units in stretch(lots, start, stop)]
    return back


def _weights(went_in: Sequence[Movement], back: Sequence[tuple[str, str, int]]) -> list[Decimal]:
    """What each part that comes back was worth when it went in; alike if all were worth nothing."""
    worths = {item: Decimal(0) for item, _, _ in back}
    units = dict.fromkeys(worths, 0)
    for one in went_in:
        worths[one.item] -= one.value
        units[one.item] -= one.amount
    weights = [worths[item] * amount / units[item] for item, _, amount in back]
    return weights if any(weights) else [Decimal(1)] * len(back)
