"""What was learned, in words and as data."""

from __future__ import annotations

import math
from collections.abc import Iterator

from baitwright.learning.change import ONE_FALSE_IN
from baitwright.learning.history import Grown, Seen
from baitwright.learning.next_reading import Next
from baitwright.materials.factors import label_of_factor, set_said
from baitwright.quantities import percent
from baitwright.sheets.wording import count_of
from baitwright.terms.factors import Factor
from baitwright.uncertainty.special import student_quantile
from baitwright.workshop.factors.learning_book import Learning
from baitwright.workshop.readings.record_words import change_words

WORTH_SAYING = 0.05
"""A band narrowed by less is not worth a measurement (judgement)."""


def label_of(factor: Factor) -> str:
    """What a factor multiplies."""
    return label_of_factor(factor.key)


def named(factor: Factor) -> str:
    """What a factor is called: what it multiplies, and what it speaks of."""
    return f"{label_of(factor)}, {factor.about}" if factor.about else label_of(factor)


def between(factor: Factor) -> tuple[float, float]:
    """Where the next batch lies in eight cases of ten, as a multiple of the table's value."""
    far = factor.scale * student_quantile(0.9, factor.nu)
    return math.exp(factor.mu - far), math.exp(factor.mu + far)


def origin_of(seen: Seen) -> tuple[str, str]:
    """The kind of record that showed something, nothing for a batch, and its name."""
    kind, parted, name = seen.batch.partition(" ")
    return (kind, name) if parted and kind in ("core", "liquid") else ("", seen.batch)


def next_line(every: tuple[Next, ...]) -> str:
    """The measurement that would tell most, in one line; nothing where none tells much."""
    if not every or every[0].removed < WORTH_SAYING:
        return ""
    best = every[0]
    width = f"{percent(best.removed)} of the width of the band of {best.result}"
    minutes = count_of(best.minutes, "minute", "minutes")
    return f"Next, if you have {minutes}: {best.how} It would take away about {width}."


def learning_text(made: Learning) -> str:
    """Each factor with its band and its batches, what plans gain, and what to measure next."""
    return "\n".join(_lines(made))


def _lines(made: Learning) -> Iterator[str]:
    yield f"{count_of(made.batches, 'batch', 'batches')} made, {made.read} of them taught something"
    if made.score is not None:
        yield (
            f"predicted before: {made.score.inside} of {made.score.of} readings lay inside the "
            "band that should hold four of five"
        )
    for one in made.history.grown:
        low, high = between(one.now)
        yield (
            f"{named(one.now)}: {one.now.median:.2f} times the table's "
            f"({low:.2f} to {high:.2f}), {_from(one)}; {width_words(one)}"
        )
        yield from (f"  ! {said}" for said in warnings(one))
    if made.gains:
        yield f"batch {made.plan}, planned by the tables alone and with all of this:"
        yield from (f"  {change_words(one)}" for one in made.gains)
    if line := next_line(made.next_readings):
        yield line
    yield _standing(made)


def _from(one: Grown) -> str:
    names = [step.seen.batch for step in one.steps]
    told = ", ".join(names[-3:])
    if any(origin_of(step.seen)[0] for step in one.steps):
        many = count_of(len(names), "record", "records")
    else:
        many = count_of(len(names), "batch", "batches")
    return f"from {many}: {'... ' if len(names) > 3 else ''}{told}"


def width_words(one: Grown) -> str:
    """How much narrower the next batch is known than before the first."""
    if one.width >= 1.0:
        return "your batches differ more than was thought"
    return f"{percent(1.0 - one.width)} narrower than before the first"


def warnings(one: Grown) -> Iterator[str]:
    """Batches that lie far from the others, and a change that is told at the last ones."""
    for step in one.steps:
        if step.is_far:
            yield f"{step.seen.batch} lies far off; it counts all the same: weigh again if you can"
    if one.is_recent:
        last = one.changes[-1]
        way = "up" if last.goes_up else "down"
        yield (
            f"changed, {way}, about {one.steps[last.began].seen.batch}: another lot, supplier or "
            f"way? (1 false alarm in {ONE_FALSE_IN} batches)"
        )


def _standing(made: Learning) -> str:
    if not made.is_news:
        return f"Plans are made with: {set_said(made.standing.name)}."
    return (
        f"Plans are made with: {set_said(made.standing.name)}. `baitwright learn --accept` plans "
        "with what stands above from now on."
    )
