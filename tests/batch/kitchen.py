"""An invented kitchen for the tests: recipes and benches built in code."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from baitwright.batch.plan import BatchPlan, PlanRequest, plan
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench, Hook, Room
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.levels import read_level
from baitwright.recipe.liquid import Liquid
from baitwright.recipe.model import (
    BaitKind,
    BaseMix,
    Core,
    FreeBait,
    Hardener,
    HardenerBasis,
    Hardness,
    Part,
    Recipe,
    WantedBait,
)
from baitwright.uncertainty.draws import Draws

FEW = Draws(batches=64, baits=4)
NOW = datetime(2026, 11, 26, 8, 0)
COPPER = BaseMix(
    "Copper",
    parts=(
        Part("semolina", 0.45),
        Part("maize-meal-fine", 0.15),
        Part("soya-flour-full-fat-roasted", 0.15),
        Part("brewers-yeast", 0.10),
        Part("liver-powder", 0.10),
        Part("maize-meal-coarse", 0.05),
    ),
)
MALT = Liquid(
    "Malt", read_level("0.8 ml per egg of 50 ml", "liquid.level"), "propylene-glycol", "quality"
)
CARAWAY = Liquid(
    "Caraway",
    read_level("0.1 ml per egg of 50 ml", "liquid.level"),
    "essential-oil",
    "concentrated",
)
RECIPE = Recipe(
    name="Copper wafter",
    bait=WantedBait(BaitKind.WAFTER, 0.015, Core("cork-ball", 0.009), Hardness.NORMAL),
    base=COPPER,
    hardener=Hardener(0.10, HardenerBasis.ON_TOP, "egg-albumen-powder"),
    sieve="kitchen",
    liquids=(MALT, CARAWAY),
    free_bait=FreeBait(0.018, 0.5, 2.0),
)
BENCH = Bench(
    now=NOW,
    eggs=(Eggs(EggKind.WHOLE, count=3, contents_mass=0.165),),
    leaving=datetime(2026, 11, 27, 17, 0),
    lake_temperature=279.15,
    room=Room(temperature=293.15, humidity=0.6),
    hook=Hook(size=6),
    cores=(0.008, 0.009),
)


@cache
def planned(recipe: Recipe = RECIPE, bench: Bench = BENCH, *, draws: Draws = FEW) -> BatchPlan:
    """A plan with few draws and the factors a new workshop starts from; each made once."""
    return plan(PlanRequest(recipe, bench, prior_factors(), draws))


def with_bait(**changes: Any) -> Recipe:
    """The recipe with another bait wanted."""
    return replace(RECIPE, bait=replace(RECIPE.bait, **changes))


def with_eggs(*eggs: Eggs) -> Bench:
    """The bench with other eggs on it."""
    return replace(BENCH, eggs=eggs)
