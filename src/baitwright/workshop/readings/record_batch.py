"""A batch's readings against its plan: the score, what they teach, and what that changes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.learning.evidence import Taken
from baitwright.learning.in_bowl import measured_eggs, of_one_grade
from baitwright.learning.propose import Lesson, learn
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.terms.records import BatchRecord, Reading
from baitwright.workshop.forms.readings_file import read_readings, typed_reading
from baitwright.workshop.plans.plan_file import read_plan_file
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.readings.changed_bands import Change, changes_by
from baitwright.workshop.readings.learned import keep, known_as, learned_batch, require_its_day
from baitwright.workshop.recipe_files.factors_file import read_factors


@dataclass(frozen=True, slots=True)
class Recorded:
    """A batch's record, what it teaches, the set it leads to, and what the next plan will change.

    ``written`` is the file the accepted set went to, None where nothing was accepted;
    ``planned_by`` the version of the program that wrote the plan; ``again`` whether the factors
    moved on from had learned from this batch already.
    """

    record: BatchRecord
    lesson: Lesson
    factors: FactorSet
    changes: tuple[Change, ...]
    written: Path | None
    planned_by: str
    again: bool


@dataclass(frozen=True, slots=True)
class RecordFiles:
    """The files of one record: the plan as written, the readings, the set to move on from."""

    plan: Path
    readings: Path
    factors: Path | None = None
    accept: Path | None = None


def record_batch(files: RecordFiles, *, clock: Callable[[], datetime]) -> Recorded:
    """Score a batch and propose factors; with a file to accept into, keep the new set there.

    The plan is worked out anew from its own request, so it is scored as it was predicted. Without
    another set the factors move on from those the plan was made with.

    Raises
    ------
    InputError: a file that cannot be used, a reading that can only be a slip of the unit, a batch
        made before it was planned or after today, one learned from already, or a file to accept
        into that is already there.
    """
    written_plan = read_plan_file(files.plan)
    request, moment = written_plan.request, clock()
    record = read_readings(files.readings, plan_name=request.recipe.name)
    require_its_day(record, planned=request.bench.now, now=moment, where=str(files.readings))
    today = request.factors if files.factors is None else read_factors(files.factors)
    try:
        told = scored(request, record, now=moment, today=today)
    except InputError as error:
        raise _as_written(error, record, files) from None
    told = replace(told, planned_by=written_plan.version)
    if files.accept is None:
        return told
    kept = keep(told.factors, files.accept, batch=learned_batch(request, record), today=today)
    return replace(told, factors=kept, written=files.accept)


def scored(
    request: PlanRequest, record: BatchRecord, *, now: datetime, today: FactorSet | None = None
) -> Recorded:
    """Score a batch against what its plan was asked, and propose factors; nothing is kept.

    Parameters
    ----------
    request: what the plan was asked.
    record: the readings of a batch of it.
    now: for the name of the proposed factors.
    today: the factors to move on from; those of the plan unless told.

    Raises
    ------
    InputError: a reading that cannot be.
    """
    today = request.factors if today is None else today
    made = worked_out(request)
    taken = [_beside(reading, made) for reading in record.readings]
    lesson = learn(made, [*taken, *measured_eggs(made)], factors=today)
    name = f"after {record.plan_name}, {record.made_on or now:%Y-%m-%d}"
    factors = lesson.accepted(today, name=name, made_on=now) if lesson.proposals else today
    changes, again = (
        changes_by(made, today, factors),
        known_as(learned_batch(request, record), today),
    )
    return Recorded(record, lesson, factors, changes, None, made.version, again is not None)


def _as_written(error: InputError, record: BatchRecord, files: RecordFiles) -> InputError:
    """What cannot be of a reading, told as its file has it."""
    if error.field not in {reading.quantity for reading in record.readings}:
        return error.located(str(files.plan))
    typed, where = typed_reading(files.readings, error.field), str(files.readings)
    return InputError(error.field, typed, error.accepted, hint=error.hint, where=where)


def _beside(reading: Reading, made: BatchPlan) -> Taken:
    """A reading beside its prediction; every plan predicts all that a readings file may hold."""
    measurement = next(one for one in made.readings if one.name == reading.quantity)
    return Taken(of_one_grade(measurement, made), reading.value)
