"""The example files, and plans of them at a fixed time."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path

from baitwright.batch.plan import BatchPlan
from baitwright.workshop.plans.plan_batch import plan_batch
from tests.conftest import ALL

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SCHEMAS = EXAMPLES.parent / "docs" / "schema"
NOW = datetime(2026, 11, 26, 9, 0)
RECIPES = (
    "copper-wafter",
    "copper-wafter-glugged",
    "copper-wafter-corks",
    "chalk-sinker",
    "bought-mix",
)
BENCHES = (
    "bench-three-large-eggs",
    "bench-one-egg",
    "bench-white",
    "bench-yolk",
    "bench-carton",
    "bench-egg-free",
    "bench-rig",
)
PAIRS = [(recipe, BENCHES[0]) for recipe in RECIPES] + [
    (RECIPES[0], bench) for bench in BENCHES[1:]
]


def path(name: str) -> Path:
    """Where an example stands."""
    return EXAMPLES / f"{name}.toml"


@cache
def planned(recipe: str, bench: str) -> BatchPlan:
    """The plan of two examples, of all draws: whoever asks first, others lean on its numbers."""
    return plan_batch(path(recipe), path(bench), batches=ALL.batches, clock=lambda: NOW)
