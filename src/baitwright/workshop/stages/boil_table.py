"""A table of seconds in the pot from a recipe file: read, worked out, and handed on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.boil_table import BoilTable, boil_table, check_asked
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench
from baitwright.sheets.boil_table import boil_table_page, boil_table_text
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.stages.boil_sizes import asked_for
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.plain import plain, rounded

_DRAWS = Draws(batches=64, baits=4)
"""Enough for seconds rounded to 5, in every cell."""
_ANY_BAITS = 50
"""Baits to plan a paste for where no bench says; the table hangs on no number of baits."""


def table_of_seconds(
    recipe_path: Path,
    bench_path: Path | None,
    *,
    sizes: str,
    cores: str,
    factors_path: Path | None,
    clock: Callable[[], datetime],
) -> BoilTable:
    """Seconds in the pot by size and core, at this recipe's paste, this pot and this place.

    Parameters
    ----------
    recipe_path: what the bait is.
    bench_path: pot and place; defaults where there is none.
    sizes, cores: such as "14 mm, 15 mm" and "none, 9 mm"; about the recipe's own where empty.
    factors_path: the maker's own factors; the table's priors where there is none.
    clock: tells the local time.

    Raises
    ------
    InputError: anything in files or lists that cannot be used.
    """
    recipe = read_recipe(recipe_path)
    now = clock()
    bare = Bench(now=now, baits_wanted=_ANY_BAITS)
    bench = bare if bench_path is None else read_bench(bench_path, now=now)
    factors = prior_factors() if factors_path is None else read_factors(factors_path)
    check_asked(asked_for(recipe, bench, sizes=sizes, cores=cores))
    try:
        return seconds_for(PlanRequest(recipe, bench, factors), sizes=sizes, cores=cores)
    except InputError as error:
        of_bench = error.field.partition(".")[0] in BenchFile.model_fields
        where = bench_path if of_bench and bench_path is not None else recipe_path
        raise error.located(str(where)) from None


def seconds_for(request: PlanRequest, *, sizes: str, cores: str) -> BoilTable:
    """The same for the paste, the pot and the place of a plan.

    Raises
    ------
    InputError: sizes or cores that cannot be read, or a plan that cannot be worked out.
    """
    recipe, bench, factors = request.recipe, request.bench, request.factors
    asked = asked_for(recipe, bench, sizes=sizes, cores=cores)
    check_asked(asked)
    solid = replace(recipe, bait=replace(recipe.bait, core=None))  # its paste alone counts
    rolled = worked_out(PlanRequest(solid, bench, factors, _DRAWS)).rolled
    unknowns = Unknowns(_DRAWS, factors)
    return boil_table(rolled.bait, recipe, asked=asked, bench=bench, unknowns=unknowns)


def shown(made: BoilTable) -> str:
    """The table as text."""
    return boil_table_text(made).rstrip("\n")


def write_page(made: BoilTable, path: Path) -> Path:
    """Write the table as a PDF page.

    Raises
    ------
    InputError: the file cannot be written.
    """
    return write_together(path.parent, {path.name: boil_table_page(made)}, field="pdf")[0]


def table_as_json(made: BoilTable) -> dict[str, Any]:
    """The table as data for other programs; a time that never comes is null."""
    return {
        "recipe": made.recipe.name,
        "hardness": str(made.recipe.bait.hardness),
        "boiling_point_c": rounded(float(unwrap(made.boiling_point.value)) - 273.15),
        "paste_c": rounded(float(unwrap(made.start.value)) - 273.15),
        "core": made.asked.material,
        "cells": [
            {
                "diameter_mm": rounded(1e3 * cell.diameter),
                "core_mm": rounded(1e3 * cell.core),
                "set_s": rounded(float(unwrap(cell.middle.value))),
                "boil_s": rounded(float(unwrap(cell.advised.value))),
                "thin": cell.thin,
            }
            for cell in made.cells
        ],
        "notes": [plain(note) for note in made.notes],
    }
