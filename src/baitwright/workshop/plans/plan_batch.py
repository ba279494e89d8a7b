"""Plan a batch from a recipe file and a bench file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.materials.factors import prior_factors
from baitwright.terms.errors import InputError
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile

Chosen = Callable[[PlanRequest], PlanRequest]
"""Gives a request the factors that its batch is to be planned with."""


def plan_batch(
    recipe_path: Path,
    bench_path: Path,
    *,
    factors_path: Path | Chosen | None = None,
    batches: int | None = None,
    change: Callable[[PlanRequest], PlanRequest] | None = None,
    clock: Callable[[], datetime],
) -> BatchPlan:
    """Read what the maker wrote and plan the batch.

    Parameters
    ----------
    recipe_path: what the bait is.
    bench_path: what stands on the table today.
    factors_path: the file of the maker's own factors, or what gives the request those of the
        notebook; the table's priors where there is none.
    batches: how many are imagined behind the bands; more give more digits.
    change: what else is to be told of the request, after the files are read.
    clock: tells the local time, which counts where the bench file names none.

    Raises
    ------
    InputError: anything in the files that cannot be used, told with file, field and value.
    """
    recipe = read_recipe(recipe_path)
    bench = read_bench(bench_path, now=clock())
    draws = Draws() if batches is None else Draws(batches=batches)
    request = PlanRequest(recipe, bench, prior_factors(), draws)
    if change is not None:
        request = change(request)
    if isinstance(factors_path, Path):
        request = replace(request, factors=read_factors(factors_path))
    elif factors_path is not None:
        request = factors_path(request)
    try:
        return worked_out(request)
    except InputError as error:
        raise told_where(error, recipe_path, bench_path) from None


def told_where(error: InputError, recipe: Path, bench: Path | None) -> InputError:
    """An error of a plan with the file that its field stands in, where it stands in one."""
    table = error.field.partition(".")[0].partition("[")[0]
    for path, file in ((bench, BenchFile), (recipe, RecipeFile)):
        if path is not None and table in file.model_fields:
            return error.located(str(path))
    return error
