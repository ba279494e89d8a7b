"""The last batches, found without loading what plans one."""

from __future__ import annotations

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.batch_hours import BATCH


def last_batches(book: Notebook, count: int = 50, *, words: str = "") -> tuple[Revision, ...]:
    """The last batches, the latest first; only those with some words in them, where told."""
    with book.reading() as page:
        return page.last(BATCH, count, words=words)
