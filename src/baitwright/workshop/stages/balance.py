"""A planned bait on its rig: the bench file's, and over it what was typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.rig_balance import RigBalance, balance_rig
from baitwright.recipe.bench import Bench
from baitwright.sheets.text_balance import balance_text
from baitwright.terms.errors import InputError
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.rig_table import RigTable, rig_from
from baitwright.workshop.typed.reading import parse


def balanced(
    recipe_path: Path,
    bench_path: Path,
    asked: Mapping[str, Any],
    *,
    factors_path: Path | None,
    clock: Callable[[], datetime],
) -> RigBalance:
    """Plan the bait and put it on the rig.

    Parameters
    ----------
    recipe_path, bench_path: what the bait is, and what stands on the table today.
    asked: keys of a bench file's table ``[rig]`` as typed, which win over those in the file.
    factors_path: the maker's own factors; the table's priors where there is none.
    clock: tells the local time.

    Raises
    ------
    InputError: anything in files or rig that cannot be used.
    """
    told = parse(asked, RigTable, where="")

    def rigged(request: PlanRequest) -> PlanRequest:
        return replace(request, bench=_on_rig(request.bench, told))

    try:
        made = plan_batch(
            recipe_path, bench_path, factors_path=factors_path, change=rigged, clock=clock
        )
    except InputError as error:
        raise _as_typed(error, asked) from None
    return balance_rig(made)


def balanced_as_planned(request: PlanRequest, told: RigTable) -> RigBalance:
    """Put the bait of a plan on its rig, with what is told of that over what stands in the plan.

    Raises
    ------
    InputError: anything of the rig that cannot be used.
    """
    return balance_rig(worked_out(replace(request, bench=_on_rig(request.bench, told))))


def _on_rig(bench: Bench, told: RigTable) -> Bench:
    return replace(bench, rig=rig_from(told, bench.rig))


def _as_typed(error: InputError, asked: Mapping[str, Any]) -> InputError:
    """The same error, without the file where the value was typed beside it."""
    key = error.field.removeprefix("rig.")
    if key == error.field or key not in asked:
        return error
    return InputError(key, error.got, error.accepted, hint=error.hint)


def shown(made: RigBalance) -> str:
    """The balance as text."""
    return balance_text(made).rstrip("\n")
