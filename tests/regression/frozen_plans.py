"""Whole plans of unlike kitchens, number by number; run as a program it writes them down anew.

Each line is one thing that a plan tells: where it stands, its words, and its numbers. Of
sentences only the numbers are told, since their wording is nobody's figure, and of rows of tables
only the name.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import datetime, timedelta
from enum import Enum
from pathlib import Path
from typing import Any

import numpy as np

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.plan import plan
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import (
    Bench,
    FromFreezer,
    Frozen,
    LaterAir,
    Pot,
    Quench,
    ReadyMark,
    Room,
    Storage,
    Tub,
)
from baitwright.recipe.bench import ThawsIn as In
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.finish import Coat, Glug
from baitwright.recipe.levels import read_level
from baitwright.recipe.liquid import Liquid, Purpose
from baitwright.recipe.model import BaitKind, Core, Filler, Hardness, Recipe
from baitwright.recipe.rig import Hole, Link, Rig
from baitwright.terms.factors import Factor
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, MALT, RECIPE, with_bait
from tests.sheets.kitchen import BARE_BENCH, BARE_RECIPE, SIX_RECIPE

FOLDER = Path(__file__).parent / "plans"
DRAWS = Draws(batches=12, baits=2)
DRIPPED = replace(
    MALT,
    level=read_level("12 drops per egg of 50 ml", "liquid.level"),
    limit=read_level("4 ml per kg of dry mix", "liquid.limit"),
    drops_per_volume=25e6,
)
STRONG = replace(
    MALT, level=read_level("4 ml per egg of 50 ml", "liquid.level"), limit=DRIPPED.limit
)
DYE = Liquid(
    "Ochre",
    read_level("10 g per kg of dry mix", "liquid.level"),
    "water",
    "normal",
    purpose=Purpose.DYE,
)
UNTOLD = Liquid(
    "Old bottle",
    read_level("3 ml per egg of 50 ml", "liquid.level"),
    "unknown",
    "normal",
    strength_assumed=True,
)
NOSE = Factor("flavour_strength", "Malt", math.log(0.7), 3.0, 5.0, 0.02, "maker", batches=2)
POP_UP = with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.010))
DEEP = Rig(Link("fluorocarbon", 0.15), ("bait-stop",), Hole(0.0015), depth=3.5, salinity=0.005)
FIRM = replace(DEEP, current=0.1, putty=0.2e-3, slowest=0.02, fastest=0.2)
KITCHENS: dict[str, tuple[Recipe, Bench]] = {
    "demo": (RECIPE, BENCH),
    "bare": (BARE_RECIPE, BARE_BENCH),
    "rig": (POP_UP, replace(BENCH, rig=FIRM)),
    "shot": (
        with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.012)),
        replace(
            BENCH,
            rig=replace(
                DEEP, link=Link("braid", 0.1), hole=Hole(0.0012, sealed=True), salinity=0.0
            ),
            country="GB",
        ),
    ),
    "late": (
        replace(
            RECIPE,
            liquids=(DYE, STRONG, UNTOLD),
            bait=replace(RECIPE.bait, kind=BaitKind.SINKER, core=None, diameter=0.022),
            glug=Glug("Sour", "water", "normal", 1e-6, 0.05, 6 * 3600.0),
        ),
        replace(
            BENCH,
            eggs=(
                Eggs(EggKind.WHOLE, count=2, shell_mass=0.13),
                Eggs(EggKind.WHITE, contents_mass=0.06),
            ),
            leaving=datetime(2026, 11, 26, 15, 0),
            frozen=(FromFreezer(Frozen.PASTE, thickness=0.03, place=In.ROOM),),
            room=Room(temperature=285.15, humidity=0.5, air_speed=0.5),
            pot=Pot(water_volume=1e-3, net_power=500.0, quench=Quench.COLD_WATER),
            syringes=(1e-6, 2e-6),
            pace=0.2,
            roller=True,
            tub=Tub(wanted=1.0),
        ),
    ),
    "freezer": (
        replace(SIX_RECIPE, bait=replace(SIX_RECIPE.bait, hardness=Hardness.HARD)),
        replace(
            BENCH,
            eggs=(
                Eggs(EggKind.WHOLE, count=4, grade="EU L"),
                Eggs(EggKind.YOLK, count=1, grade="EU M"),
            ),
            frozen=(
                FromFreezer(Frozen.EGG, thickness=0.03, place=In.ROOM),
                FromFreezer(Frozen.PASTE, thickness=0.025, place=In.FRIDGE),
                FromFreezer(Frozen.HOOKBAITS, place=In.COLD_WATER),
                FromFreezer(Frozen.FREE_BAITS, thickness=0.06),
            ),
            store=Storage(fridge=279.15, freezer=255.15, packed=True, keep_for=120 * 86400.0),
            pot=Pot(water_volume=2e-3, net_power=900.0, salt=0.02, basket=15),
            altitude=800.0,
            country="GB",
        ),
    ),
    "coat and glug": (
        replace(
            with_bait(core=Core("cork-ball", 0.004, 2), fillers=(Filler("cork-granules", 0.05),)),
            liquids=(DRIPPED,),
            coat=Coat("liver-powder", share=0.02),
            glug=Glug("Sweet", "glycerol", "quality", 2e-6, 0.1, 12 * 3600.0),
        ),
        replace(
            BENCH,
            room=Room(
                dryer=328.15,
                ready=ReadyMark(loss=0.2),
                air_speed=0.3,
                then=(LaterAir(after=7200.0, air_speed=0.6, humidity=0.7, temperature=290.15),),
            ),
        ),
    ),
}


def plan_of(kitchen: str) -> BatchPlan:
    """A kitchen's plan, by few draws, for a maker whose nose knows one bottle."""
    factors = prior_factors()
    factors = replace(factors, factors=(*factors.factors, NOSE))
    return plan(PlanRequest(*KITCHENS[kitchen], factors, DRAWS))


@dataclass(frozen=True, slots=True)
class Line:
    """One thing of a plan: where it stands and what it says, and its numbers."""

    says: str
    numbers: tuple[float, ...] = ()

    def __str__(self) -> str:
        return "\t".join([self.says, *(f"{number:.7g}" for number in self.numbers)])

    @classmethod
    def read(cls, text: str) -> Line:
        """The line that was written so."""
        says, *numbers = text.split("\t")
        return cls(says, tuple(map(float, numbers)))


def lines(made: BatchPlan) -> Iterator[Line]:
    """Everything in a plan but its request."""
    seen: set[int] = set()
    for field in fields(made):
        if field.name not in ("request", "version"):
            yield from _lines(getattr(made, field.name), field.name, seen)


def _lines(node: Any, path: str, seen: set[int]) -> Iterator[Line]:
    match node:
        case Quantity():
            yield from (_number(one, path) for one in node.walk(seen))
        case Note():
            said = f"{node.stage} {_word(node.text)} {node.source} {node.weight.value}"
            yield Line(f"{path}: {said}")
        case frozenset():
            yield Line(f"{path}: {' '.join(sorted(map(str, node)))}")
        case tuple() | dict():
            inside = node.items() if isinstance(node, dict) else enumerate(node)
            for key, part in inside:
                yield from _lines(part, f"{path}[{key}]", seen)
        case bool() | None | str() | Enum() | datetime():
            yield Line(f"{path}: {_word(node)}")
        case timedelta():
            yield Line(path, (node.total_seconds(),))
        case _ if hasattr(node, "id"):
            yield Line(f"{path}: {node.id}")  # a row of a table, which has tests of its own
        case _ if is_dataclass(node):
            for field in fields(node):
                yield from _lines(getattr(node, field.name), f"{path}.{field.name}", seen)
        case _:
            yield Line(path, _middle_and_ends(node))


def _number(one: Quantity, path: str) -> Line:
    """A quantity's record in one line: what it is called, where it is from, what it comes to."""
    made_of = ", ".join(f"{name}={part.name}" for name, part in one.inputs)
    words = (one.name, _word(one.label), one.unit, one.shown, one.origin, one.source, one.evidence)
    told = " ".join(str(getattr(word, "value", word)) or "-" for word in words)
    value = unwrap(one.value)
    numbers = _middle_and_ends(value) if isinstance(value, float | int | np.ndarray) else ()
    return Line(f"{path}: {told} <- {made_of}", numbers)


def _middle_and_ends(value: Any) -> tuple[float, ...]:
    array = np.atleast_1d(np.asarray(value, dtype=float)).ravel()
    if array.size == 1:
        return (float(array[0]),)
    return tuple(float(np.quantile(array, share, method="nearest")) for share in (0.0, 0.5, 1.0))


def _word(told: Any) -> str:
    """A word as it stands; of a sentence, its numbers."""
    text = str(getattr(told, "value", told))
    is_sentence = isinstance(told, str) and " " in text
    return " ".join(["...", *re.findall(r"\d[\d.:/-]*", text)]) if is_sentence else text


def frozen(kitchen: str) -> Path:
    """Where a kitchen's plan is written down."""
    return FOLDER / f"{kitchen}.txt"


def main() -> None:
    """Write every plan down as it is now."""
    FOLDER.mkdir(exist_ok=True)
    for kitchen in KITCHENS:
        told = lines(plan_of(kitchen))
        frozen(kitchen).write_text("".join(f"{line}\n" for line in told), encoding="utf-8")


if __name__ == "__main__":
    main()
