"""What every made batch of the notebook shows of the maker's own factors, the first batch first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache
from statistics import fmean, stdev
from typing import Any, Protocol

from pydantic import TypeAdapter

from baitwright.learning.history import Seen
from baitwright.learning.moments import COARSE, SIZES, Moments, seen_by
from baitwright.materials.defaults import default
from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batches.batch_hours import BATCH, PLAN
from baitwright.workshop.batches.good_ones import in_order, is_made
from baitwright.workshop.factors.lots_seen import lots_of
from baitwright.workshop.factors.tests_seen import readable_tests, tests_of, tests_seen

MOMENTS = "moments"
"""The entry of a plan's record that keeps what is learned from it."""
_ONE_ALONE = 0.03
"""How far the diameter of one bait that was measured alone may be off the tray's (judgement)."""
SPREAD = "diameter_spread"
_TELL_SPREAD = 5
"""Fewer diameters than so many tell nothing of how much they differ (judgement)."""
_CLEAR = 1e-6
"""Of blurs of one batch, the least that is told apart: a thousandth."""
Body = Mapping[str, Any]


def batches_seen(
    page: Page, *, most: int | None = None, work_out: WorkOut | None = None
) -> Iterator[tuple[Revision, tuple[Seen, ...]]]:
    """Every made batch with what it and its bottle tests show; nothing where its plan was purged.

    What goes by the lot says which one, where the batch was made of one only.

    Parameters
    ----------
    page: the notebook's.
    most: look through so many at most, the last ones; through all unless told.
    work_out: for plans and tests of which nothing is kept yet; without, those show nothing.
    """
    every = page.all(BATCH) if most is None else page.last(BATCH, most)
    batches = in_order(one for one in every if is_made(one))
    plans = {one.name: one.body or {} for one in page.named(PLAN, (one.name for one in batches))}
    tests, lots = tests_of(page), lots_of(page, batches)
    for one in batches:
        plan, told = plans.get(one.name, {}), tests.get(one.name, ())
        moments = _moments(plan, None if work_out is None else work_out.moments)
        actual = (one.body or {})["actual"]
        seen = () if moments is None else _seen(moments, actual, one.name)
        of_tests = None if work_out is None else work_out.test
        tested = tests_seen(plan, told, batch=one.name, work_out=of_tests)
        yield one, tuple(_in_lots(together((*seen, *tested)), lots[one.name]))


class WorkOut(Protocol):
    """Works out what is kept nowhere: of a plan, and of a test of its batch."""

    def moments(self, plan: Body, /) -> Moments:
        """What a plan is learned from."""
        ...

    def test(self, plan: Body, written: Body, batch: str, /) -> tuple[Seen, ...]:
        """What a test shows."""
        ...


def together(every: Iterable[Seen]) -> Iterator[Seen]:
    """What readings and tests of one batch show of one factor is one sight of it, not several.

    Notes
    -----
    All see the same batch through blurs of their own: their mean weighed by 1 / blur, whose own
    blur is 1 over the sum of these.

    Reference: gelman-bda, section 2.5, normal data of known variances.
    """
    told: dict[tuple[str, str], list[Seen]] = {}
    for one in every:
        told.setdefault((one.key, one.about), []).append(one)
    for first, *others in told.values():
        if not others:
            yield first
            continue
        sure = [1.0 / max(one.blur, _CLEAR) for one in (first, *others)]
        mean = sum(w * one.log_ratio for w, one in zip(sure, (first, *others), strict=True))
        yield first._replace(log_ratio=mean / sum(sure), blur=1.0 / sum(sure))


def _in_lots(every: Iterable[Seen], lots: Mapping[str, str]) -> Iterator[Seen]:
    return (one._replace(lot=lots.get(one.key, "")) for one in every)


def readable(plan: Body) -> None:
    """Read what a plan's record keeps to be learned from, where it keeps any."""
    _moments(plan, None)
    readable_tests(plan)


def _moments(plan: Body, work_out: Callable[[Body], Moments] | None) -> Moments | None:
    if MOMENTS in plan:
        return _shapes().validate_python(plan[MOMENTS])
    return work_out(plan) if plan and work_out is not None else None


def _seen(moments: Moments, actual: Body, batch: str) -> tuple[Seen, ...]:
    """What a batch shows; of diameters the mean, as sure as so many that differ so much make it."""
    read, scatter, sizes = _read(actual), {}, actual.get(SIZES) or ()
    if sizes:
        read[SIZES] = fmean(sizes)
        differ = stdev(sizes) / read[SIZES] if len(sizes) > 1 else _ONE_ALONE
        scatter[SIZES] = differ / math.sqrt(len(sizes))
    if 0.0 < read.get("coarse_left", 0.0) < read.get("base_sieved", 0.0):
        read[COARSE] = read["coarse_left"] / read["base_sieved"]
    return (*seen_by(moments, read, batch=batch, scatter=scatter), *_differing(sizes, batch))


def _differing(sizes: Sequence[float], batch: str) -> Iterator[Seen]:
    """How much diameters differ from bait to bait, beside what is taken for them.

    Notes
    -----
    ln of a standard deviation of n normal values has about the variance 1 / (2 (n - 1)).

    Reference: recalled, delta method.
    """
    if len(sizes) >= _TELL_SPREAD and (differ := stdev(sizes)) > 0.0:
        ratio = math.log(differ / default(SPREAD).value)
        yield Seen(batch, SPREAD, "", ratio, 0.5 / (len(sizes) - 1))


def _read(actual: Body) -> dict[str, float]:
    return {
        name: float(one)
        for name, one in actual.items()
        if isinstance(one, int | float) and not isinstance(one, bool)
    }


@cache
def _shapes() -> TypeAdapter[Moments]:
    return TypeAdapter(Moments)
