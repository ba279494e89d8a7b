"""Soaks side by side: which lakes, which other body, and whose remarks are told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from baitwright.batch.plan import PlanRequest
from baitwright.batch.soak import NIGHT
from baitwright.batch.soak_table import SUMMER, WINTER, SoakTable, first_night, soak_table
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import BaitKind, Core, Recipe
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, RECIPE, with_bait

TINY = Draws(batches=8, baits=2)
SOLID = with_bait(kind=BaitKind.SINKER, core=None)


def tabled(
    recipe: Recipe, bench: Bench = BENCH, *, lakes: tuple[float, ...] = (280.0,), hours: float = 2
) -> SoakTable:
    request = PlanRequest(recipe, bench, prior_factors(), TINY)
    return soak_table(request, lakes, time=3600.0 * hours)


@pytest.mark.parametrize(
    ("recipe", "shelf", "other"),
    [
        (RECIPE, (0.008, 0.009), None),
        (SOLID, (0.005, 0.008, 0.011), Core("cork-ball", 0.008)),  # 0.55 x 15 mm is 8.25 mm
        (SOLID, (), Core("cork-ball", 0.008)),  # of those that are sold
    ],
    ids=["cored", "solid", "solid, no cores on the bench"],
)
def test_the_other_body(recipe: Recipe, shelf: tuple[float, ...], other: Core | None) -> None:
    made = tabled(recipe, replace(BENCH, cores=shelf))
    assert [case.core for case in made.cases] == [recipe.bait.core, other]
    assert [case.planned for case in made.cases] == [True, False]
    assert made.time == 7200.0
    assert made.recipe is recipe
    assert made.first is made.cases[0]


@pytest.mark.parametrize(
    ("own", "lakes"),
    [
        (None, [WINTER, SUMMER]),
        (284.15, [284.15, WINTER, SUMMER]),
        (WINTER + 3.0, [WINTER + 3.0, SUMMER]),  # not worth a column each
    ],
)
def test_the_usual_lakes_stand_beside_the_benchs_own(own: float | None, lakes: list[float]) -> None:
    made = tabled(SOLID, replace(BENCH, lake_temperature=own), lakes=(), hours=1)
    found = [unwrap(case.stage.temperature.value) for case in made.cases]
    assert found == pytest.approx([*lakes, *lakes])


def test_a_lake_named_twice_is_soaked_in_once() -> None:
    assert len(tabled(SOLID, lakes=(280.0, 285.0, 280.0), hours=1).cases) == 4


def test_remarks_are_those_of_the_bait_as_planned_each_once() -> None:
    made = tabled(RECIPE, lakes=(280.0, 285.0))
    planned = [note for case in made.cases[:2] for note in case.stage.notes]
    assert set(made.notes) == set(planned)
    assert len(made.notes) == len(set(planned))


def test_the_first_night_is_a_night_of_a_longer_soak() -> None:
    short = tabled(RECIPE)
    assert first_night(short) is short.first.stage
    long = tabled(RECIPE, hours=36)
    night = first_night(long)
    assert night.curve[-1].time == pytest.approx(NIGHT)
    assert unwrap(night.temperature.value) == pytest.approx(280.0)
