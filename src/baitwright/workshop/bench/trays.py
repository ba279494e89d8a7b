"""What stands about in the workshop: on the trays, ready, still to be made, to be used first.

It reads what is kept with each batch and works nothing out of a plan, so that it answers at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, time
from typing import Any

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.batch_hours import BATCH, DRY, Hour, Hours, State, hours_from
from baitwright.workshop.bench.bench_tray import on_tray
from baitwright.workshop.factors.running_score import Score, running_score
from baitwright.workshop.shelf.lots import LOT, lot_of
from baitwright.workshop.shelf.shelf_view import Due, use_first
from baitwright.workshop.shelf.stock import shelves

_LATEST = 60
"""Batches that are looked through, the latest first."""


@dataclass(frozen=True, slots=True)
class Tray:
    """Baits that are in no bag yet, since when they lie there, and when they come off.

    ``off`` is when the plan takes them off, then the low and the high end of the band in which four
    in five are ready; nothing where no plan told. ``left`` counts the baits, nothing where the
    batch is not written down yet; ``passed`` is the share of the tray's time that is over.
    """

    batch: str
    about: str
    since: datetime
    left: int | None
    off: tuple[datetime, datetime, datetime] | None
    leaving: datetime | None
    is_ready: bool
    passed: float = 1.0


@dataclass(frozen=True, slots=True)
class Ahead:
    """A planned batch: its steps by the clock, when its maker leaves, and whether it is late."""

    batch: str
    about: str
    steps: tuple[Hour, ...]
    leaving: datetime | None
    is_late: bool


@dataclass(frozen=True, slots=True)
class Trays:
    """What stands about: drying, ready and not bagged, planned, and what to use first."""

    drying: tuple[Tray, ...]
    ready: tuple[Tray, ...]
    ahead: tuple[Ahead, ...]
    use_first: tuple[Due, ...]
    score: Score | None


def trays(book: Notebook, *, now: datetime) -> Trays:
    """What stands about in the workshop at a moment, told with its zone."""
    here = now.replace(tzinfo=None)
    with book.reading() as page:
        batches = [one for one in page.last(BATCH, _LATEST) if one.body is not None]
        lying = tuple(_trays(page, batches, now=now))
    begun = {one.batch for one in lying}
    waits = (one for one in batches if _state(one) is State.PLANNED and one.name not in begun)
    ahead = tuple(_ahead(one, now=here) for one in waits)
    return Trays(
        tuple(one for one in lying if not one.is_ready),
        tuple(one for one in lying if one.is_ready),
        tuple(sorted(ahead, key=lambda one: one.steps[0].start if one.steps else here)),
        use_first(shelves(book), today=now.date(), most=8),
        running_score(batches),
    )


def _trays(page: Page, batches: Iterable[Revision], *, now: datetime) -> Iterator[Tray]:
    batches = tuple(batches)
    for one in batches:
        begun = on_tray(page, one.name) if _state(one) is State.PLANNED else None
        if begun is not None:
            yield _tray(one, begun.astimezone(now.tzinfo).replace(tzinfo=None), left=None, now=now)
    made = [one for one in batches if _state(one) is State.MADE]
    stands = {one.name for one in page.named(LOT, (one.name for one in made))}
    for one in made:
        held = page.lots(lot_of(page, one.name).item) if one.name in stands else {}
        left = held.get(one.name, 0)
        if left > 0:
            yield _tray(one, _since(page, one, _hours(one), now=now), left=left, now=now)


def _tray(one: Revision, since: datetime, *, left: int | None, now: datetime) -> Tray:
    body, hours = _told(one), _hours(one)
    spans = None if hours is None else hours.tray
    off = None if spans is None else (since + spans[0], since + spans[1], since + spans[2])
    here = now.replace(tzinfo=None)
    is_ready = off is not None and off[0] <= here
    passed = 1.0 if off is None or is_ready else max((here - since) / (off[0] - since), 0.0)
    leaving = None if hours is None else hours.leaving
    return Tray(one.name, str(body["about"]), since, left, off, leaving, is_ready, passed)


def _since(page: Page, one: Revision, hours: Hours | None, *, now: datetime) -> datetime:
    """When baits came onto the tray: by the bench, by what was told, by when it was written.

    Of another day than that of the writing, without an hour, it is the hour that was planned.
    """
    begun = on_tray(page, one.name)
    if begun is not None:
        return begun.astimezone(now.tzinfo).replace(tzinfo=None)
    made = (each for each in page.history(BATCH, one.name) if _state(each) is State.MADE)
    wrote = next(made).time.astimezone(now.tzinfo).replace(tzinfo=None)
    said = _told(one)["actual"].get("made")
    if said is None:
        return wrote
    told = datetime.fromisoformat(said).replace(tzinfo=None)
    if told.time() != time() or told.date() == wrote.date():
        return wrote if told.time() == time() else told
    steps = () if hours is None else hours.steps
    planned = next((step.start.time() for step in steps if step.name == DRY), time(12))
    return datetime.combine(told.date(), planned)


def _ahead(one: Revision, *, now: datetime) -> Ahead:
    hours = _hours(one) or Hours((), None, None)
    late = bool(hours.steps) and hours.steps[0].start < now
    return Ahead(one.name, str(_told(one)["about"]), hours.steps, hours.leaving, late)


def _hours(one: Revision) -> Hours | None:
    told = _told(one).get("hours")
    return None if told is None else hours_from(told)


def _state(one: Revision) -> State | None:
    return None if one.body is None else State(one.body["state"])


def _told(one: Revision) -> Mapping[str, Any]:
    return one.body or {}
