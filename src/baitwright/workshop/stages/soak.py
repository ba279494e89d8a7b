"""A soak from a recipe file and a bench file: read, worked out, and handed on."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.batch.plan import PlanRequest
from baitwright.batch.soak_table import SoakCase, SoakTable, soak_table
from baitwright.materials.factors import prior_factors
from baitwright.quantities import Kind, read
from baitwright.sheets.text_soak import soak_text
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import unwrap
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.told.plain import core_as_data, plain, rounded, told

_BETWEEN = re.compile(r"(?<=[A-Za-z])\s*[,;]\s*")
_MOST = 4
"""Lakes set side by side at once."""
_TYPED = ("hours", "at")


def soak_baits(
    recipe_path: Path,
    bench_path: Path,
    *,
    hours: str,
    at: str,
    factors_path: Path | None,
    clock: Callable[[], datetime],
) -> SoakTable:
    """Baits of a recipe in lakes of several temperatures, as planned and with or without a core.

    Parameters
    ----------
    recipe_path, bench_path: what the bait is, and what stands on the table today.
    hours: how long they lie, such as "48" or "48 h".
    at: lakes such as "5 C, 18 C"; the bench's own, winter and summer where empty.
    factors_path: the maker's own factors; the table's priors where there is none.
    clock: tells the local time.

    Raises
    ------
    InputError: anything in files or on the command line that cannot be used.
    """
    recipe = read_recipe(recipe_path)
    bench = read_bench(bench_path, now=clock())
    factors = prior_factors() if factors_path is None else read_factors(factors_path)
    lakes = lakes_in(at)
    try:
        return soaked(PlanRequest(recipe, bench, factors), hours=hours, at=at)
    except InputError as error:
        head = error.field.partition(".")[0]
        if head in _TYPED or (head == "lake" and lakes):
            raise
        of_bench = head in BenchFile.model_fields
        raise error.located(str(bench_path if of_bench else recipe_path)) from None


def soaked(request: PlanRequest, *, hours: str, at: str) -> SoakTable:
    """The baits of a plan in lakes of several temperatures.

    Parameters
    ----------
    request: what the plan was asked.
    hours, at: as `soak_baits`.

    Raises
    ------
    InputError: hours or lakes that cannot be read, or a plan that cannot be worked out.
    """
    return soak_table(request, lakes_in(at), time=time_in(hours))


def time_in(text: str) -> float:
    """How long baits lie, as it is typed [s]; hours where it has no unit.

    Raises
    ------
    InputError: it is no time.
    """
    plain_number = re.fullmatch(r"\s*\d+(?:[.,]\d+)?\s*", text)
    return read(f"{text.strip()} h" if plain_number else text, Kind.DURATION, "hours")


def lakes_in(text: str) -> tuple[float, ...]:
    """Temperatures of lakes, as they are typed one after the other [K].

    Raises
    ------
    InputError: one that is none, or too many of them.
    """
    parts = [part.strip() for part in _BETWEEN.split(text.strip()) if part.strip()]
    if len(parts) > _MOST:
        raise InputError("at", text, f"at most {_MOST} temperatures")
    return tuple(read(part, Kind.TEMPERATURE, "at") for part in parts)


def shown(made: SoakTable) -> str:
    """The soak as text."""
    return soak_text(made).rstrip("\n")


def soak_as_json(made: SoakTable) -> dict[str, Any]:
    """The soak as data for other programs; a time that never comes is null."""
    return {
        "recipe": made.recipe.name,
        "invented": made.recipe.invented,
        "hours": rounded(made.time / 3600.0),
        "cases": [_case(case) for case in made.cases],
        "notes": [plain(note) for note in made.notes],
    }


def _case(case: SoakCase) -> dict[str, Any]:
    stage = case.stage
    return {
        **core_as_data(case.core),
        "planned": case.planned,
        "lake_c": rounded(float(unwrap(stage.temperature.value)) - 273.15),
        "curve": [{**plain(point), "time": rounded(point.time / 3600.0)} for point in stage.curve],
        "fades": [told(one) for one in stage.fades],
        "softens": told(stage.softens),
        "lasts": told(stage.lasts),
        "recast": told(stage.recast),
    }
