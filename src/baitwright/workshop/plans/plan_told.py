"""A plan asked for by its two tables, recipe and bench, whichever door they come through."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from baitwright.batch.batch_plan import PlanRequest
from baitwright.materials.factors import prior_factors
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.forms.asked_fields import Group, asked
from baitwright.workshop.forms.told_fields import told_by
from baitwright.workshop.plans.liquid_sheets import Sheets, by_sheets
from baitwright.workshop.recipe_files.bench_file import bench_as
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.recipe_file import recipe_as
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile
from baitwright.workshop.typed.reading import parse


@dataclass(frozen=True, slots=True)
class PlanTold:
    """Recipe and bench as files have them."""

    recipe: Mapping[str, Any] = field(default_factory=dict)
    bench: Mapping[str, Any] = field(default_factory=dict)

    @property
    def is_empty(self) -> bool:
        """Whether nothing was told yet."""
        return not self.recipe and not self.bench

    @property
    def groups(self) -> tuple[Group, Group]:
        """The fields of both, filled with what was told."""
        return asked(RecipeFile, self.recipe), asked(BenchFile, self.bench)

    @property
    def pairs(self) -> list[tuple[str, str]]:
        """The fields that say something, by the names a page gives them."""
        walked = (one for group in self.groups for one in group.walk())
        return [(one.name, one.value) for one in walked if one.value]


def plan_told(pairs: Iterable[tuple[str, str]]) -> PlanTold:
    """Recipe and bench as the fields of one page tell them; no name stands in both.

    Raises
    ------
    InputError: a name that is none, or one told twice.
    """
    of_bench: list[tuple[str, str]] = []
    of_recipe: list[tuple[str, str]] = []
    for name, typed in pairs:
        first = name.partition(".")[0].partition("[")[0]
        (of_bench if first in BenchFile.model_fields else of_recipe).append((name, typed))
    return PlanTold(told_by(RecipeFile, of_recipe), told_by(BenchFile, of_bench))


def all_but(pairs: Iterable[tuple[str, str]], refused: str) -> PlanTold:
    """What fields tell but for the row that no table can be made of; nothing where that is not all.

    Parameters
    ----------
    pairs: the fields.
    refused: by what the error calls the field.
    """
    row = refused.rpartition(".")[0] or refused
    rest = [pair for pair in pairs if f".{row}." not in f".{pair[0]}."]
    try:
        return plan_told(rest)
    except InputError:
        return PlanTold()


def request_of(
    told: PlanTold,
    *,
    now: datetime,
    factors: FactorSet | None = None,
    sheets: Sheets | None = None,
) -> PlanRequest:
    """What is asked of a plan by two tables; ``now`` counts where the bench names no time.

    ``factors`` are the maker's own; those of the table unless told. ``sheets`` are what the
    notebook has of liquids.

    Raises
    ------
    InputError: anything that cannot be used, told with field and value.
    """
    recipe = parse(told.recipe, RecipeFile, where="")
    asked = asked_as(recipe, parse(told.bench, BenchFile, where=""), now=now)
    asked = asked if factors is None else replace(asked, factors=factors)
    return by_sheets(sheets or {})(asked)


def asked_as(
    recipe: RecipeFile, bench: BenchFile, *, now: datetime, batches: int | None = None
) -> PlanRequest:
    """What is asked of a plan by the fields of two files.

    Parameters
    ----------
    recipe, bench: their fields.
    now: the local time, which counts where the bench names none.
    batches: how many are imagined behind the bands.

    Raises
    ------
    InputError: what the fields say together cannot be.
    """
    draws = Draws() if batches is None else Draws(batches=batches)
    return PlanRequest(recipe_as(recipe), bench_as(bench, now), prior_factors(), draws)
