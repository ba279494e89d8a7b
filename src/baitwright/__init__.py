"""Baitwright: plan, make, prove and record hookbaits.

``from baitwright import plan, PlanRequest, Recipe, Bench`` is the whole of the Python door; names
load when they are asked for, so that the quick answers stay quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

if TYPE_CHECKING:
    from baitwright.batch.batch_plan import BatchPlan as BatchPlan
    from baitwright.batch.batch_plan import PlanRequest as PlanRequest
    from baitwright.batch.plan import plan as plan
    from baitwright.materials.factors import prior_factors as prior_factors
    from baitwright.recipe.bench import Bench as Bench
    from baitwright.recipe.model import Recipe as Recipe

_HOMES = {
    "BatchPlan": "baitwright.batch.batch_plan",
    "PlanRequest": "baitwright.batch.batch_plan",
    "plan": "baitwright.batch.plan",
    "prior_factors": "baitwright.materials.factors",
    "Bench": "baitwright.recipe.bench",
    "Recipe": "baitwright.recipe.model",
}
__all__ = [
    "BatchPlan",
    "Bench",
    "PlanRequest",
    "Recipe",
    "__version__",
    "plan",
    "prior_factors",
]


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
