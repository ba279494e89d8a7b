"""One complaint followed: to its batch, to who else has of it, to the bag kept back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.advice.complaint_care import FirstCare, first_care
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.batches.good_ones import is_made
from baitwright.workshop.batches.same_batch import Sameness, same_on
from baitwright.workshop.batches.samples import Sample, samples_on
from baitwright.workshop.faults.complaints import Row, found_on, row_of
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.lots import LOT, lot_of
from baitwright.workshop.traces.traces import place_named, trace_on


@dataclass(frozen=True, slots=True)
class Followed:
    """A complaint with all that the notebook knows of what it is about.

    ``recall`` is who else has of it, each with what the notebook says of the place; ``aside``
    whether its batches stand in quarantine; ``same`` the first batch beside the good ones.
    """

    row: Row
    batches: tuple[str, ...]
    recall: tuple[tuple[Place, str], ...]
    aside: bool
    same: Sameness | None
    samples: tuple[Sample, ...]
    care: tuple[FirstCare, ...]
    customer: str = ""


def followed(book: Notebook, name: str) -> Followed:
    """One complaint, followed.

    Raises
    ------
    InputError: no such complaint, or one that was taken away or purged.
    """
    with book.reading() as page:
        row = row_of(found_on(page, name))
        batches = tuple(_batches(page, row.bag))
        found = None if not batches else batch_of(page, batches[0])
        person = page.persons().get(row.customer)
        lots = [lot_of(page, one) for one in batches if page.latest(LOT, one) is not None]
        return Followed(
            row,
            batches,
            tuple(dict.fromkeys(each for one in batches for each in _reached(page, one))),
            bool(lots) and all(one.quarantined for one in lots),
            None if found is None else same_on(page, found),
            tuple(samples_on(page, batches)),
            first_care(harm=row.harm),
            customer=str((person or {}).get("name", "")),
        )


def _batches(page: Page, bag: str) -> Iterator[str]:
    """The batches of what a complaint names: the batch itself, or those that went into it."""
    if not bag:
        return
    kept = as_kept(page, BATCH, bag)
    if page.latest(BATCH, kept) is not None:
        yield kept
        return
    found = trace_on(page, place_named(page, bag, lots_first=True))
    yield from (one.place.name for one in found.back if one.place.stop is Stop.BATCH)


def _reached(page: Page, batch: str) -> Iterator[tuple[Place, str]]:
    if is_made(batch_of(page, batch)):
        found = trace_on(page, Place(Stop.BATCH, batch))
        yield from ((one, found.about.get(one, "")) for one in found.recall)
