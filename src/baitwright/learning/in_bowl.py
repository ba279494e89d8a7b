"""Eggs that were measured although their grade was known: what the grade would have said."""

from __future__ import annotations

import math
from dataclasses import replace

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.eggs import crack_eggs
from baitwright.batch.prove import Measurement
from baitwright.batch.unknowns import Unknowns
from baitwright.learning.evidence import Taken
from baitwright.learning.plain_evidence import WEIGHED
from baitwright.recipe.eggs import Eggs

BEAKER = 0.05 / math.sqrt(3.0)
"""Standard error of a beaker whose marks are right within 5 % (common practice, no source)."""


def measured_eggs(plan: BatchPlan) -> tuple[Taken, ...]:
    """A reading for each line of eggs on the bench that has a grade and was measured as well."""
    request = plan.request
    unknowns = Unknowns(request.draws, request.factors)
    return tuple(
        _beside_its_grade(eggs, unknowns)
        for eggs in request.bench.eggs
        if eggs.grade is not None and eggs.count is not None and _is_measured(eggs)
    )


def of_one_grade(measurement: Measurement, plan: BatchPlan) -> Measurement:
    """A reading of egg as what it can teach: of several grades at once, the general factor only."""
    grades = {eggs.grade for eggs in plan.request.bench.eggs}
    if measurement.factor == "egg_volume" and len(grades) > 1:
        return replace(measurement, about="")
    return measurement


def _is_measured(eggs: Eggs) -> bool:
    return eggs.contents_mass is not None or eggs.contents_volume is not None


def _beside_its_grade(eggs: Eggs, unknowns: Unknowns) -> Taken:
    ungauged = replace(eggs, contents_mass=None, contents_volume=None)
    expected = crack_eggs((ungauged,), unknowns=unknowns)
    weighed = eggs.contents_mass is not None
    predicted = expected.mass if weighed else expected.volume
    grade = eggs.grade or ""
    measurement = Measurement(
        name="egg_in_bowl",
        how="Weigh or measure the egg out of the shell.",
        predicted=predicted.labelled(f"{predicted.label}, by the grade {grade}"),
        minutes=1,
        factor="egg_volume",
        about=grade,
    )
    reading = eggs.contents_mass if weighed else eggs.contents_volume
    return Taken(measurement, float(reading or 0.0), WEIGHED if weighed else BEAKER)
