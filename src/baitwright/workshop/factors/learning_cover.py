"""What the notebook's cover says: how past predictions did, and factors that changed of late."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.learning.history import history_of
from baitwright.materials.factors import label_of_factor, prior_factors
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.good_ones import LOOKED_THROUGH
from baitwright.workshop.factors.all_seen import in_days
from baitwright.workshop.factors.batches_seen import batches_seen
from baitwright.workshop.factors.running_score import Score, running_score


@dataclass(frozen=True, slots=True)
class Changed:
    """A factor that changed, up or down, about a batch."""

    label: str
    about: str
    batch: str
    goes_up: bool


@dataclass(frozen=True, slots=True)
class Cover:
    """The score of past predictions, and every change that is told now; of the last batches."""

    score: Score | None
    changed: tuple[Changed, ...]


def cover(book: Notebook) -> Cover:
    """By what is kept with the batches; nothing is worked out of a plan."""
    with book.reading() as page:
        told = tuple(batches_seen(page, most=LOOKED_THROUGH))
        every = tuple(in_days(page, told))
    history = history_of(every, prior=prior_factors())
    changed = tuple(
        Changed(
            label_of_factor(one.now.key),
            one.now.about,
            one.steps[one.changes[-1].began].seen.batch,
            one.changes[-1].goes_up,
        )
        for one in history.grown
        if one.is_recent
    )
    return Cover(running_score(one for one, _ in told), changed)
