"""A bottle test against its plan: what it proves, what it teaches, and what that changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.soak import NIGHT
from baitwright.learning.bottle import BottleLesson, learn_from_bottle
from baitwright.quantities import show
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.terms.quantity import Quantity
from baitwright.terms.records import BatchRecord, BottleTest, Reading
from baitwright.uncertainty.bands import band_of, band_of_mean
from baitwright.workshop.forms.bottle_file import read_bottle_test
from baitwright.workshop.plans.plan_file import read_plan_file
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.readings.changed_bands import Change
from baitwright.workshop.readings.learned import keep, known_as, learned_batch, require_its_day
from baitwright.workshop.readings.record_batch import RecordFiles
from baitwright.workshop.recipe_files.factors_file import read_factors


@dataclass(frozen=True, slots=True)
class Bottled:
    """A bottle test, what it teaches, the set it leads to, and what the next plan will change.

    ``written`` is the file the accepted set went to, None where nothing was accepted; ``again``
    whether the factors moved on from had learned from this test already.
    """

    test: BottleTest
    plan: BatchPlan
    lesson: BottleLesson
    factors: FactorSet
    changes: tuple[Change, ...]
    written: Path | None
    again: bool


def bottle_test(files: RecordFiles, *, clock: Callable[[], datetime]) -> Bottled:
    """Hold a bottle test against its plan and propose factors; keep them where told to.

    Parameters
    ----------
    files: the plan as written, the test in place of readings, the set to move on from.
    clock: says what time it is.

    Raises
    ------
    InputError: a file that cannot be used, a test that cannot be, one learned from already, or a
        file to accept into that is already there.
    """
    request, moment = read_plan_file(files.plan).request, clock()
    test = read_bottle_test(files.readings, plan_name=request.recipe.name)
    where = str(files.readings)
    require_its_day(_as_record(test), planned=request.bench.now, now=moment, where=where)
    today = request.factors if files.factors is None else read_factors(files.factors)
    try:
        told = held_against(request, test, now=moment, today=today)
    except InputError as error:
        raise error.located(where) from None
    if files.accept is None:
        return told
    batch = learned_batch(request, _as_record(test))
    kept = keep(told.factors, files.accept, batch=batch, today=today)
    return replace(told, factors=kept, written=files.accept)


def held_against(
    request: PlanRequest, test: BottleTest, *, now: datetime, today: FactorSet | None = None
) -> Bottled:
    """Hold a test against what a plan was asked, and propose factors; nothing is kept.

    Parameters
    ----------
    request: what the plan was asked.
    test: of a batch of that plan.
    now: for the name of the proposed factors.
    today: the factors to move on from; those of the plan unless told.

    Raises
    ------
    InputError: a test that cannot be.
    """
    today = request.factors if today is None else today
    made = worked_out(request)
    lesson = learn_from_bottle(made, test, factors=today)
    name = f"after a bottle test of {test.plan_name}, {test.made_on or now:%Y-%m-%d}"
    factors = lesson.accepted(today, name=name, made_on=now) if lesson.proposals else today
    changes = tuple(one for one in _changes(made, today, factors) if one.before != one.after)
    again = known_as(learned_batch(request, _as_record(test)), today) is not None
    return Bottled(test, made, lesson, factors, changes, None, again)


def _changes(made: BatchPlan, before: FactorSet, after: FactorSet) -> Iterator[Change]:
    """Lift and water taken up of the same batch, where the new set changes them."""
    if after is before:
        return
    old, new = (worked_out(replace(made.request, factors=one)) for one in (before, after))
    for was, will in zip(_lifts(old), _lifts(new), strict=True):
        yield Change(f"{was.label}, one bait", was.shown, band_of(was), band_of(will))
    was, will = old.water.dried, new.water.dried
    yield Change("lift of the tray's mean bait", was.shown, band_of_mean(was), band_of_mean(will))
    if after.find("soak") != before.find("soak"):
        was, will = (one.soak.curve[-1].taken for one in (old, new))
        label = f"{was.label} in {show(NIGHT, 'h')} in the lake, one bait"
        yield Change(label, was.shown, band_of(was), band_of(will))


def _lifts(made: BatchPlan) -> tuple[Quantity, ...]:
    return made.water.dried, made.water.rig


def _as_record(test: BottleTest) -> BatchRecord:
    """The test as readings, so that it is told from others and never learned from twice."""
    told: list[tuple[str, float, int]] = [("bottle_water", test.water_temperature, 1)]
    for look in test.looks:
        place = "rig" if look.on_rig else "alone"
        for outcome in ("floated", "hung", "sank"):
            told.append((f"{outcome}_{place}", look.after, getattr(look, outcome)))
    for one in test.pushed_under:
        told += [("pushed_weight", one.mass, 1), ("pushed_rise", one.rise, 1)]
    for name, weighed in (("baits_weighed", test.baits), ("cores_weighed", test.cores)):
        if weighed is not None:
            told.append((name, weighed.mass, weighed.count))
    for wet in test.soaked:
        told += [("soaked_before", wet.before, wet.count), ("soaked_after", wet.after, 1)]
        told.append(("soaked_weight", wet.mass, wet.count))
    readings = tuple(Reading(*each) for each in told)
    return BatchRecord(test.plan_name, test.made_on, readings, test.remark)
