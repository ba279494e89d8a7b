"""Same as last time? Asked of a batch by its name, or of the last one."""

from __future__ import annotations

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.batches.same_batch import Sameness, is_cancelled, same_on


def same_batch(book: Notebook, name: str = "") -> Sameness:
    """Hold a batch against the good ones of its recipe that were made before it.

    Parameters
    ----------
    book: the notebook.
    name: of the batch; the last one unless told.

    Raises
    ------
    InputError: no such batch, or one that was cancelled.
    """
    with book.reading() as page:
        last = next(iter(page.last(BATCH, 1)), None) if not name else None
        found = batch_of(page, last.name if last else name)
        if is_cancelled(found):
            raise InputError("batch", found.name, "one that is planned or made")
        return same_on(page, found)
