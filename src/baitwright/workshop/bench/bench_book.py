"""The bench in the notebook: the strip of a batch as it was begun, and every tap on it.

The strip is kept with the plan, so that a batch keeps its steps whatever the program becomes; one
planned by an older program gets its strip with the first tap. Taps are a list that only grows, in
records of their own (`bench_taps`): nothing tapped is ever changed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import PLAN
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.strip.bench_fold import BenchState, folded
from baitwright.workshop.strip.bench_strip import (
    STRIP,
    Strip,
    strip_as_json,
    strip_from_json,
    strip_of,
)
from baitwright.workshop.strip.bench_tap import Tap
from baitwright.workshop.strip.bench_taps import add_taps, taps_of

MOST = 3_000
"""Taps of one batch (judgement): a long day at the bench has a hundred."""


@dataclass(frozen=True, slots=True)
class AtBench:
    """A batch at the bench."""

    batch: Revision
    strip: Strip
    taps: tuple[Tap, ...]

    @property
    def state(self) -> BenchState:
        """How it stands."""
        return folded(self.strip, self.taps)


def look(book: Notebook, name: str) -> AtBench:
    """A batch with its steps and what was tapped.

    Steps of a batch that has none yet are worked out from its plan.

    Raises
    ------
    InputError: no such batch, or one whose plan is not kept.
    """
    with book.reading() as page:
        batch, strip = batch_of(page, name), _kept(page, name)
        taps, planned = taps_of(page, name), page.latest(PLAN, name)
    if strip is None:
        if planned is None or planned.body is None:
            raise InputError("batch", name, "one whose plan is in the notebook")
        strip = strip_of(worked_out(request_from_json(planned.body)))
    return AtBench(batch, strip, taps)


def tap(book: Notebook, name: str, taps: Iterable[Tap], *, now: datetime) -> AtBench:
    """Write down what was tapped; what is there already stays as it is.

    Raises
    ------
    InputError: as `look`, or more taps than a batch takes.
    """
    found = look(book, name)
    with book.writing() as page:
        there = taps_of(page, name)
        known = {one.id for one in there}
        new = tuple({one.id: one for one in taps if one.id not in known}.values())
        every = (*there, *new)
        if len(every) > MOST:
            raise InputError("taps", len(every), f"{MOST} at most for one batch")
        if new:
            filed = {key: (found.batch.body or {})[key] for key in ("about", "day")}
            if _kept(page, name) is None:
                told = {**filed, "batch": name, "steps": strip_as_json(found.strip)}
                page.write(STRIP, name, told, seen=_version(page, STRIP, name), time=now)
            add_taps(page, name, new, filed=filed, now=now)
    return AtBench(found.batch, found.strip, every)


def _kept(page: Page, name: str) -> Strip | None:
    found = page.latest(STRIP, name)
    return None if found is None or found.body is None else strip_from_json(found.body["steps"])


def _version(page: Page, kind: str, name: str) -> int:
    found = page.latest(kind, name)
    return 0 if found is None else found.version
