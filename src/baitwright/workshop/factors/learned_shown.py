"""What was learned, as a page shows it: each factor with its band, its batches and its chart."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.learning.history import Grown, Step
from baitwright.learning.next_reading import Next, next_readings
from baitwright.quantities import percent, show
from baitwright.sheets.picture_control import ControlChart, control_picture
from baitwright.sheets.svg import Picture
from baitwright.workshop.factors import learning_words as words
from baitwright.workshop.factors.learning_book import Learning
from baitwright.workshop.readings.changed_bands import Change

_FOR_A_CHART = 3


@dataclass(frozen=True, slots=True)
class OfBatch:
    """What one batch, or one record of ``kind``, showed, as a multiple of the table's value."""

    batch: str
    kind: str
    times: str
    is_far: bool


@dataclass(frozen=True, slots=True)
class FactorShown:
    """A factor: its middle and band as multiples of the table's value, and where they are from.

    ``narrower`` is what the band lost since before the first batch, nothing where it did not;
    ``changed`` the batch about which a change began, and ``goes_up`` its way.
    """

    label: str
    about: str
    middle: str
    low: str
    high: str
    narrower: str
    batches: tuple[OfBatch, ...]
    changed: str
    goes_up: bool
    picture: Picture | None


@dataclass(frozen=True, slots=True)
class NextShown:
    """A measurement, its minutes, and what share of which band it would take away."""

    hows: tuple[str, ...]
    minutes: int
    removed: str
    result: str


@dataclass(frozen=True, slots=True)
class Gain:
    """A number of the last plan by the tables alone and by what was learned."""

    label: str
    before: tuple[str, str]
    after: tuple[str, str]
    narrower: str


@dataclass(frozen=True, slots=True)
class LearnedShown:
    """All of it: the next measurement first, then factors, then what plans gain."""

    next: tuple[NextShown, ...]
    factors: tuple[FactorShown, ...]
    gains: tuple[Gain, ...]


def learned_shown(made: Learning) -> LearnedShown:
    """What was learned, ready for a page."""
    return LearnedShown(
        tuple(_worth_taking(made.next_readings)),
        tuple(_factor(one, at) for at, one in enumerate(made.history.grown, start=1)),
        tuple(map(_gain, made.gains)),
    )


def next_of(plan: BatchPlan) -> NextShown | None:
    """The measurement of a plan's batch that would tell most, where any tells much."""
    return next(_worth_taking(next_readings(plan)), None)


def _worth_taking(every: Iterable[Next]) -> Iterator[NextShown]:
    for one in (each for each in every if each.removed >= words.WORTH_SAYING):
        yield NextShown(one.hows, one.minutes, percent(one.removed), one.result)


def _gain(one: Change) -> Gain:
    was, now = one.before, one.after
    before = show(was.low80, one.shown), show(was.high80, one.shown)
    after = show(now.low80, one.shown), show(now.high80, one.shown)
    return Gain(one.label, before, after, _narrower(one.width))


def _factor(one: Grown, at: int) -> FactorShown:
    low, high = words.between(one.now)
    change = one.changes[-1] if one.is_recent else None
    return FactorShown(
        label=words.label_of(one.now),
        about=one.now.about,
        middle=_times(one.now.median),
        low=_times(low),
        high=_times(high),
        narrower=_narrower(one.width),
        batches=tuple(map(_of, reversed(one.steps))),
        changed="" if change is None else one.steps[change.began].seen.batch,
        goes_up=change is not None and change.goes_up,
        picture=_picture(one, at) if len(one.steps) >= _FOR_A_CHART else None,
    )


def _of(step: Step) -> OfBatch:
    kind, name = words.origin_of(step.seen)
    return OfBatch(name, kind, _times(math.exp(step.seen.log_ratio)), step.is_far)


def _picture(one: Grown, at: int) -> Picture:
    low, high = words.between(one.now)
    many = len(one.steps)
    chart = ControlChart(
        value="times the table's",
        unit="",
        names=tuple(step.seen.batch for step in one.steps),
        values=tuple(math.exp(step.seen.log_ratio) for step in one.steps),
        centre=one.now.median,
        low=(low,) * many,
        high=(high,) * many,
    )
    title = f"{words.named(one.now)}: what each batch showed, and where 8 in 10 lie"
    return control_picture(chart, name=f"factor-{at}", title=title)


def _narrower(width: float) -> str:
    return percent(1.0 - width) if width < 1.0 - 0.005 else ""


def _times(value: float) -> str:
    return f"{value:.2f}"
