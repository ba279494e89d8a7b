"""Labels of what was made here: bags of a batch, packs, kits, a tub of mix, a blend."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from baitwright.ledger.movements import Amount
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.sheets.labels import Label
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import BAG
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.costs.costs import ASSEMBLY, PACKING
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.labels.label_lots import (
    is_mixed,
    label_of_bag,
    label_of_mixed,
    labels_of_kits,
    labels_of_packs,
    made_stands,
)
from baitwright.workshop.records.people_book import contact_of
from baitwright.workshop.shelf.lots import LOT

MOST = 2000
"""Labels in one file: more is a slip of the pen."""
Labels = tuple[tuple[Label, int], ...]
"""Labels, each with how many of it are wanted."""


@dataclass(frozen=True, slots=True)
class Telling:
    """What the notebook does not know: where it is kept, who made it, what is in each tub.

    ``maker`` is the code of a person of the notebook; ``copies`` are one of each, and of packs and
    kits as many as there are, unless told.
    """

    kept: str = ""
    maker: str = ""
    net: Amount | None = None
    copies: int | None = None


def labels_of(book: Notebook, name: str, told: Telling) -> Labels:
    """The labels of a batch's bags, of one bag, of packs, of kits, of a tub or of a blend.

    Raises
    ------
    InputError: nothing of the name was made here, it is undone or in quarantine, a tub or a
        bottle that holds less, no such person, or too many labels.
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
        bags = [one for one in page.all(BAG, about=batch) if made_stands(page, one)]
        if not bags:
            raise InputError("batch", batch, f"one with bags: baitwright batch bag {batch} 50")
        yield from ((label_of_bag(page, one), 1) for one in bags)
        return
    name = as_kept(page, LOT, name)
    bag, run, joined = (page.latest(kind, name) for kind in (BAG, PACKING, ASSEMBLY))
    if bag is not None and made_stands(page, bag):
        yield label_of_bag(page, bag), 1
    elif run is not None and made_stands(page, run):
        yield labels_of_packs(page, run)
    elif joined is not None and made_stands(page, joined):
        yield labels_of_kits(page, joined)
    elif is_mixed(page, name):
        yield label_of_mixed(page, name, told.net, copies=told.copies or 1), 1
    else:
        accepted = "a batch, a bag, packs, kits, a tub of mix or a blend that were made here"
        raise InputError("label", name, accepted)
