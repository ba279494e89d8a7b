"""Kitchens as unlike as they come: every number and every remark of their plans is well formed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from baitwright.batch.plan import BatchPlan
from baitwright.quantities import si_unit
from baitwright.recipe.bench import Bench, Hook, LaterAir, Pot, Quench, ReadyMark, Room, Storage
from baitwright.recipe.bench import Tub as TubOnBench
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.finish import Coat, Glug
from baitwright.recipe.levels import read_level
from baitwright.recipe.model import (
    Analysis,
    BaitKind,
    BaseMix,
    Core,
    Filler,
    Hardener,
    HardenerBasis,
    Hardness,
    Recipe,
    WantedBait,
)
from baitwright.recipe.rig import Hole, Link, Rig
from baitwright.sources import sources
from baitwright.terms.evidence import Evidence
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Origin, Quantity
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, MALT, NOW, RECIPE, planned, with_bait, with_eggs

TINY = Draws(batches=8, baits=2)
GRADED = with_eggs(Eggs(EggKind.WHOLE, count=3, grade="EU L"))
BARE = Recipe(
    name="Bare",
    bait=WantedBait(BaitKind.SINKER, 0.014, None, Hardness.NORMAL),
    base=BaseMix("Bought"),
    hardener=None,
    sieve=None,
    liquids=(),
    free_bait=None,
)
MILKY = replace(
    RECIPE,
    base=BaseMix("Milky", analysis=Analysis(protein=0.5, fat=0.05), milk_protein=True),
    hardener=Hardener(0.05, HardenerBasis.OF_FINISHED, "egg-albumen-powder"),
)
SWEET = Glug("Sweet", "glycerol", "quality", 2e-6, 0.1, 12 * 3600.0)
DROPS = replace(
    MALT,
    level=read_level("12 drops per egg of 50 ml", "liquid.level"),
    limit=read_level("4 ml per kg of dry mix", "liquid.limit"),
    drops_per_volume=25e6,
)
COLD_AND_DAMP = replace(
    BENCH,
    room=Room(
        ready=ReadyMark(water_activity=0.8),
        exposure=0.7,
        then=(LaterAir(after=7200.0, air_speed=0.6, humidity=0.7, temperature=290.15),),
    ),
    pot=Pot(water_volume=2e-3, net_power=900.0, salt=0.02, basket=15, quench=Quench.ICE_WATER),
    store=Storage(fridge=281.15, freezer=258.15, packed=False, keep_for=200 * 86400.0),
    altitude=800.0,
    tub=TubOnBench(mass=0.2),
    lake_temperature=None,
    country="GB",
)
WHOLE_RIG = replace(
    BENCH,
    rig=Rig(Link("fluorocarbon", 0.15), ("bait-stop",), Hole(0.0015), depth=3.5, salinity=0.005),
)
SHELVES: dict[str, tuple[Recipe, Bench]] = {
    "the demo": (RECIPE, BENCH),
    "graded eggs": (RECIPE, GRADED),
    "eggs weighed in the shell": (
        RECIPE,
        with_eggs(
            Eggs(EggKind.WHITE, count=2, shell_mass=0.13), Eggs(EggKind.YOLK, count=3, grade="EU M")
        ),
    ),
    "eggs in a beaker": (RECIPE, with_eggs(Eggs(EggKind.WHOLE, contents_volume=150e-6))),
    "a carton": (RECIPE, with_eggs(Eggs(EggKind.CARTON, contents_mass=0.15))),
    "no eggs at all": (RECIPE, with_eggs(Eggs(EggKind.EGG_FREE, contents_mass=0.15))),
    "baits wanted": (
        RECIPE,
        replace(GRADED, eggs=(Eggs(EggKind.WHOLE, grade="EU L"),), baits_wanted=90),
    ),
    "a bare table": (BARE, Bench(NOW, eggs=(Eggs(EggKind.WHOLE, count=2, usual=True),))),
    "milk proteins": (MILKY, BENCH),
    "cold and damp": (RECIPE, COLD_AND_DAMP),
    "a whole rig": (with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.01)), WHOLE_RIG),
    "weighed hook, dryer, weight lost": (
        RECIPE,
        replace(
            BENCH,
            hook=Hook(mass=0.3e-3),
            room=Room(dryer=308.15, ready=ReadyMark(loss=0.3), air_speed=0.3),
        ),
    ),
    "dried by the clock": (
        RECIPE,
        replace(BENCH, room=Room(ready=ReadyMark(time=20 * 3600.0))),
    ),
    "coat and glug": (replace(RECIPE, coat=Coat("liver-powder", share=0.02), glug=SWEET), BENCH),
    "loose coat": (replace(RECIPE, coat=Coat("liver-powder", layer=2e-4)), BENCH),
    "corks and granules": (
        with_bait(core=Core("cork-ball", 0.004, 2), fillers=(Filler("cork-granules", 0.05),)),
        BENCH,
    ),
    "drops": (replace(RECIPE, liquids=(DROPS,)), BENCH),
}
KNOWN = {"maker", *sources()}
NAME = re.compile(r"[a-z][a-z0-9_-]*(:[a-z0-9_-]+)?")


@pytest.fixture(params=SHELVES.values(), ids=SHELVES.keys())
def made(request: pytest.FixtureRequest) -> BatchPlan:
    recipe, bench = request.param
    return planned(recipe, bench, draws=TINY)


def numbers(plan: BatchPlan) -> Iterator[Quantity]:
    seen: set[int] = set()
    for quantity in plan.quantities():
        yield from quantity.walk(seen)


def test_every_number_is_named_labelled_and_has_a_unit_and_a_source(made: BatchPlan) -> None:
    found = list(numbers(made))
    assert len(found) > 200
    for one in found:
        assert NAME.fullmatch(one.name), one.name
        assert one.label, one.name
        assert not re.search("XX|^[A-Z ]+$", one.label), one.label
        assert one.source in KNOWN, one.name
        assert isinstance(one.origin, Origin), one.name
        assert isinstance(one.evidence, Evidence), one.name
        assert isinstance(one.note, str), one.name
        expected = si_unit(one.shown) if one.shown else ""
        assert one.unit == expected, (one.name, one.unit, one.shown)


def notes_in(node: Any) -> Iterator[Note]:
    """The remarks anywhere in a stage."""
    if isinstance(node, Note):
        yield node
    elif isinstance(node, tuple):
        for part in node:
            yield from notes_in(part)


STAGES = {
    *("eggs", "mix", "dose", "roll", "boil", "coat", "dry", "glug", "keep"),
    *("float", "balance", "soak", "day", "match"),
}


def test_every_remark_has_a_stage_words_a_source_and_a_weight(made: BatchPlan) -> None:
    assert made.notes
    for note in made.notes:
        assert note.stage in STAGES, note.stage
        assert re.fullmatch(r"[A-Z0-9].*[.?]", note.text, re.DOTALL), note.text
        assert "None" not in note.text
        assert note.source in KNOWN, note.text
        assert isinstance(note.weight, Weight)
