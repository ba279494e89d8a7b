"""Where a recipe stands besides its own record: in plans of its batches and at the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from baitwright.notebook.page import Page
from baitwright.workshop.batches.batch_hours import BATCH, PLAN
from baitwright.workshop.strip.bench_strip import STRIP
from baitwright.workshop.strip.bench_taps import tap_pages

_WITH_PLAN = (PLAN, STRIP)
"""A plan, and the steps of its batch at the bench, which tell its doses too, as taps do."""


def plans_of(page: Page, recipe: str) -> Iterator[str]:
    """Plans of a recipe's batches, and those that were emptied already: copies may have them."""
    for batch in page.all(BATCH, about=recipe):
        if page.latest(PLAN, batch.name) is not None:
            yield batch.name


def told_with(page: Page, plans: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Kind and name of every record that tells what a plan tells."""
    for plan in plans:
        yield from ((kind, plan) for kind in _WITH_PLAN if page.latest(kind, plan) is not None)
        yield from ((found.kind, found.name) for found in tap_pages(page, plan))
