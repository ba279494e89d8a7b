"""All that the notebook shows of the maker's own factors, in the order of its days."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from baitwright.learning.history import Seen
from baitwright.notebook.page import Page, Revision
from baitwright.workshop.factors.things_seen import things_seen


def in_days(page: Page, batches: Iterable[tuple[Revision, tuple[Seen, ...]]]) -> Iterator[Seen]:
    """What batches show and what lots of cores and liquids do, whichever came first.

    Parameters
    ----------
    page: the notebook's.
    batches: as they were made, with what each shows.
    """
    dated = [(_day(one), seen) for one, every in batches for seen in every]
    dated += things_seen(page)
    return (seen for _, seen in sorted(dated, key=lambda told: told[0]))


def _day(batch: Revision) -> date:
    """The day that a batch is named after, on which it was planned."""
    return date.fromisoformat(batch.name.partition("/")[0])
