"""Bags kept back as samples: where each is, so that it can be looked at when somebody complains."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import BAG
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.drawing import let_go
from baitwright.workshop.shelf.lots import LOT, lot_of, refuse_quarantined
from baitwright.workshop.shelf.stock import shelf_of
from baitwright.workshop.shelf.too_little import left_of

SAMPLE = "sample"


@dataclass(frozen=True, slots=True)
class Sample:
    """A bag that is kept back: its name, how many baits are in it, and where it is."""

    bag: str
    baits: int
    where: str


def keep_back(book: Notebook, bag: str, where: str, *, now: datetime) -> Sample:
    """Keep a bag back as a sample; nothing picks it from then on.

    Raises
    ------
    InputError: no such bag, one that is spoken for, empty or in quarantine, or nowhere to find it.
    """
    if not where.strip():
        raise InputError("where", None, "where it is to be found, such as freezer, door")
    with book.writing() as page:
        name = as_kept(page, BAG, bag)
        record = page.latest(BAG, name)
        if record is None or record.body is None:
            last = ", ".join(one.name for one in page.last(BAG, 5)) or "none yet"
            raise InputError("bag", bag, f"a bag of the notebook, the last are: {last}")
        lot = lot_of(page, name)
        refuse_quarantined(name, lot)
        let_go(page, _holder(name), time=now)
        free, spoken = left_of(shelf_of(page, lot.item), name)
        if free < 1:
            raise InputError("bag", name, "one with baits left in it", hint=spoken)
        page.reserve(_holder(name), lot.item, {name: free}, time=now)
        body = {**record.body, SAMPLE: where.strip()}
        page.write(BAG, name, body, seen=record.version, time=now, reason="kept back as a sample")
    return Sample(name, free, where.strip())


def give_up(book: Notebook, bag: str, *, now: datetime) -> str:
    """Keep a bag back no longer; its baits are free again.

    Raises
    ------
    InputError: it is no sample.
    """
    with book.writing() as page:
        name = as_kept(page, BAG, bag)
        record = page.latest(BAG, name)
        if record is None or record.body is None or not record.body.get(SAMPLE):
            raise InputError("bag", bag, "one that is kept back as a sample")
        let_go(page, _holder(name), time=now)
        body = {key: one for key, one in record.body.items() if key != SAMPLE}
        page.write(BAG, name, body, seen=record.version, time=now, reason="no sample any more")
    return name


def samples_on(page: Page, batches: Iterable[str]) -> Iterator[Sample]:
    """The samples of some batches, on a page."""
    for batch in batches:
        for one in page.all(BAG, about=batch):
            body = one.body or {}
            if body.get(SAMPLE) and page.latest(LOT, one.name) is not None:
                held = page.lots(lot_of(page, one.name).item)
                yield Sample(one.name, held.get(one.name, 0), str(body[SAMPLE]))


def _holder(bag: str) -> str:
    """Who a sample's baits are spoken for by."""
    return f"sample {bag}"
