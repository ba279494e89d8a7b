"""Plans the sheets are printed for: the usual one, a bare one and a crowded one."""

from __future__ import annotations

from dataclasses import replace

from baitwright.batch.batch_plan import BatchPlan
from baitwright.recipe.bench import Bench, Hook, Room, Tub
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.levels import read_level
from baitwright.recipe.liquid import Liquid
from baitwright.recipe.model import BaitKind, BaseMix, Hardness, Recipe, WantedBait
from tests.batch.kitchen import BENCH, CARAWAY, COPPER, MALT, NOW, RECIPE, planned

EXTRACT = Liquid(
    "Yeast extract",
    read_level("2.5 ml per egg of 50 ml", "liquid.level"),
    "thick-extract",
    "thick extract",
    thick=True,
)
USUAL_RECIPE = replace(RECIPE, liquids=(MALT, CARAWAY, EXTRACT), invented=True)
USUAL_BENCH = replace(
    BENCH, eggs=(Eggs(EggKind.WHOLE, count=3, shell_mass=0.1935),), room=Room(), hook=Hook()
)

BARE_RECIPE = Recipe(
    name="Bought mix",
    bait=WantedBait(BaitKind.SINKER, 0.014, None, Hardness.NORMAL),
    base=BaseMix("A bag"),
    hardener=None,
    sieve=None,
    liquids=(),
    free_bait=None,
)
BARE_BENCH = Bench(now=NOW, eggs=(Eggs(EggKind.WHOLE, count=2, grade="EU L"),))

LONG = "a name that its maker liked so much that nobody dared to shorten it in all those years"
CARRIERS = ("propylene-glycol", "ethanol", "essential-oil", "acid", "water", "vegetable-oil")
CROWDED_RECIPE = replace(
    USUAL_RECIPE,
    name=f"{LONG.capitalize()}, {'and' * 40} {LONG}",
    base=replace(COPPER, name=f"Winter base with {LONG}"),
    liquids=tuple(
        replace(
            MALT,
            name=f"Flavour {place}, {LONG} {'x' * 40}",
            level=read_level(f"0.{place + 2} ml per egg of 50 ml", "liquid.level"),
            carrier=carrier,
        )
        for place, carrier in enumerate(CARRIERS)
    ),
)
CROWDED_BENCH = replace(
    USUAL_BENCH,
    eggs=(
        Eggs(EggKind.WHOLE, count=3, shell_mass=0.1935),
        Eggs(EggKind.YOLK, count=2, grade="EU L"),
        Eggs(EggKind.WHITE, contents_mass=0.060),
    ),
    tub=Tub(mass=0.3),
)

# Names such as stand on bottles, and doses small enough that most are better drawn from a blend.
SIX = (
    ("Scalded malt and dark molasses flavour, third recipe", "0.8", "propylene-glycol"),
    ("Caraway and star anise oil, cold pressed, from the tall bottle", "0.02", "essential-oil"),
    ("Butyric acid let down in glycol by the maker", "0.03", "acid"),
    ("Cream, vanilla and toasted coconut sweet flavour", "0.04", "ethanol"),
    ("Fermented shrimp and squid liquid, salted", "1.2", "water"),
    ("Hemp and salmon oil with lecithin", "0.5", "vegetable-oil"),
)
SIX_RECIPE = replace(
    USUAL_RECIPE,
    name="Copper wafter with six liquids for the cold months",
    liquids=tuple(
        replace(
            MALT,
            name=name,
            level=read_level(f"{amount} ml per egg of 50 ml", "liquid.level"),
            carrier=carrier,
        )
        for name, amount, carrier in SIX
    ),
)
MANY_RECIPE = replace(SIX_RECIPE, liquids=3 * SIX_RECIPE.liquids)

EGG_FREE_BENCH = replace(USUAL_BENCH, eggs=(Eggs(EggKind.EGG_FREE, contents_volume=150e-6),))

DAMP_BENCH = replace(USUAL_BENCH, room=Room(temperature=283.15, humidity=0.99))

PLANS = {
    "usual": (USUAL_RECIPE, USUAL_BENCH),
    "six": (SIX_RECIPE, USUAL_BENCH),
    "egg-free": (USUAL_RECIPE, EGG_FREE_BENCH),
    "damp": (USUAL_RECIPE, DAMP_BENCH),
    "bare": (BARE_RECIPE, BARE_BENCH),
    "crowded": (CROWDED_RECIPE, CROWDED_BENCH),
}


def usual() -> BatchPlan:
    """The plan most tests look at."""
    return planned(USUAL_RECIPE, USUAL_BENCH)
