"""Labels of what was made here: the bags of a batch, a tub of mix, the packs of a packing run."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from baitwright.ledger.entries import stands
from baitwright.ledger.movements import Amount
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.sheets.labels import Label
from baitwright.sheets.wording import count_of
from baitwright.terms.errors import InputError
from baitwright.workshop.amounts import in_words
from baitwright.workshop.bags import BAG, Kept
from baitwright.workshop.batch_hours import BATCH, State
from baitwright.workshop.batches import batch_of
from baitwright.workshop.costs import PACKING
from baitwright.workshop.item_units import refuse_unit
from baitwright.workshop.label_care import care_of
from baitwright.workshop.lots import LOT, lot_of, refuse_quarantined
from baitwright.workshop.names import as_kept
from baitwright.workshop.people_book import contact_of
from baitwright.workshop.stock import counted_as

MOST = 2000
"""Labels in one file: more is a slip of the pen."""
Labels = tuple[tuple[Label, int], ...]
"""Labels, each with how many of it are wanted."""


@dataclass(frozen=True, slots=True)
class Telling:
    """What the notebook does not know: where it is kept, by whom it was made, what is in each tub.

    ``maker`` is the code of a person of the notebook; ``copies`` are one of each, and of packs as
    many as were packed, unless told.
    """

    kept: str = ""
    maker: str = ""
    net: Amount | None = None
    copies: int | None = None


def labels_of(book: Notebook, name: str, told: Telling) -> Labels:
    """The labels of a batch's bags, of one bag, of a tub, or of the packs of a run.

    Raises
    ------
    InputError: nothing of the name was made here, it is undone or in quarantine, a tub that holds
        less, no such person, or too many labels.
    """
    if told.copies is not None:
        _refuse_count(told.copies)
    with book.reading() as page:
        maker = contact_of(page, told.maker) if told.maker else ""
        found = tuple(_labels(page, name, told))
    copies = [count if told.copies is None else told.copies for _, count in found]
    _refuse_count(sum(copies))
    labels = (replace(one, maker=maker, kept=told.kept or one.kept) for one, _ in found)
    return tuple(zip(labels, copies, strict=True))


def _refuse_count(count: int) -> None:
    if not 1 <= count <= MOST:
        raise InputError("copies", count, f"1 to {MOST} labels at once")


def _labels(page: Page, name: str, told: Telling) -> Iterator[tuple[Label, int]]:
    batch = as_kept(page, BATCH, name)
    if page.latest(BATCH, batch) is not None:
        batch_of(page, batch, state=State.MADE)
        bags = [one for one in page.all(BAG, about=batch) if _stands(page, one)]
        if not bags:
            raise InputError("batch", batch, f"one with bags: baitwright batch bag {batch} 50")
        yield from ((_bag(page, one), 1) for one in bags)
        return
    name = as_kept(page, LOT, name)
    bag, run, lot = (page.latest(kind, name) for kind in (BAG, PACKING, LOT))
    if bag is not None and _stands(page, bag):
        yield _bag(page, bag), 1
    elif run is not None and run.body and _stands(page, run):
        label = _label(page, name, count_of(run.body["each"], "bait"), dated="Packed")
        yield replace(label, kind=_both(run.body["baits"], label.kind)), run.body["packs"]
    elif lot is not None and lot.body and lot.body["stop"] == Stop.MIX:
        label = _label(page, name, _net(page, name, told), dated="Made")
        yield replace(label, kind="mix for baits", kept=Kept.ROOM), 1
    else:
        raise InputError("label", name, "a batch, a bag, a tub of mix or packs that were made here")


def _stands(page: Page, one: Revision) -> bool:
    """Whether what was bagged or packed was not undone in the shelf's book."""
    if one.body is None:
        return False
    return all(stands(entry, page.entry_lines) for entry in one.body["entries"])


def _bag(page: Page, bag: Revision) -> Label:
    body = bag.body or {}
    label = _label(page, bag.name, count_of(body["baits"], "bait"), dated="Bagged")
    return replace(label, kept=body["kept"])


def _label(page: Page, name: str, content: str, *, dated: str) -> Label:
    """A label with what the notebook knows; baits of one batch have the day it was made."""
    lot, care = lot_of(page, name), care_of(page, name)
    refuse_quarantined(name, lot)
    best = lot.best_before
    return Label(
        lot.item,
        care.bait,
        content,
        name,
        dated if care.made is None else "Made",
        date.fromisoformat(care.made or lot.came),
        None if best is None else date.fromisoformat(best),
        "",
        care.allergens.holds,
        care.allergens.may_hold,
        care.allergens.unknown,
        care.cautions,
        invented=care.invented,
    )


def _net(page: Page, name: str, told: Telling) -> str:
    """What each label of a tub says is in it: all the tub holds unless told."""
    item = lot_of(page, name).item
    counted, held = counted_as(page, item), page.lots(item).get(name, 0)
    net = Amount(held, counted) if told.net is None else told.net
    refuse_unit(item, counted, net)
    if not 0 < net.units * (told.copies or 1) <= held:
        accepted = (
            f"{in_words(max(held, 0), counted)} at most on all labels, which lot {name} holds"
        )
        raise InputError("net", in_words(net.units, counted), accepted)
    return f"net {in_words(net.units, counted)}"


def _both(first: str, second: str) -> str:
    return ", ".join(filter(None, (first, second)))
