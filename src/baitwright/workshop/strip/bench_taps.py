"""The taps of a batch as the notebook keeps them: a list that only grows, page after page.

Every writing of a record holds all of it, so that a long list in one record would cost its square:
a page is full after a few taps, and the next one stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from itertools import count
from typing import Any

from baitwright.notebook.page import Page, Revision
from baitwright.workshop.strip.bench_tap import TAPS, Tap, tap_from_json

ON_A_PAGE = 20
"""Taps that fill a page (judgement): some four steps of a batch."""


def tap_pages(page: Page, batch: str) -> Iterator[Revision]:
    """The records that hold the taps of a batch, the first one first; emptied ones too."""
    for _, found in _places(page, batch):
        if found is None:
            return
        yield found


def taps_of(page: Page, batch: str) -> tuple[Tap, ...]:
    """Every tap of a batch, in the order in which they came."""
    told = (found.body["taps"] for found in tap_pages(page, batch) if found.body is not None)
    return tuple(tap_from_json(one) for taps in told for one in taps)


def add_taps(
    page: Page, batch: str, taps: Sequence[Tap], *, filed: Mapping[str, Any], now: datetime
) -> None:
    """Write taps behind those that are there.

    Parameters
    ----------
    filed: what the batch is about and its day, as its own record has them.
    """
    left = [one.as_json() for one in taps]
    for name, found in _places(page, batch):
        there = [] if found is None or found.body is None else found.body["taps"]
        room = max(ON_A_PAGE - len(there), 0)
        if room:
            told = {**filed, "batch": batch, "taps": [*there, *left[:room]]}
            page.write(TAPS, name, told, seen=0 if found is None else found.version, time=now)
            left = left[room:]
        if not left:
            return


def _places(page: Page, batch: str) -> Iterator[tuple[str, Revision | None]]:
    """The names under which taps of a batch stand or may stand: no batch is called like these."""
    for number in count(1):
        name = batch if number == 1 else f"{batch}, page {number} of its taps"
        yield name, page.latest(TAPS, name)
