"""A bait worked through to be set beside another: its plan, its mix as bagged, nights in lakes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.free_batch import level_in_paste, water_share
from baitwright.batch.plan import plan
from baitwright.batch.settle import sinking_speed, water_viscosity
from baitwright.batch.soak import SoakStage
from baitwright.batch.soak_table import soaked_in
from baitwright.batch.unknowns import Unknowns
from baitwright.blending.analysis import MixAnalysis, analyse_mix
from baitwright.blending.bases import Basis, Bowl, egg_of_bowl
from baitwright.blending.blend import GROSS, in_units
from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.quantities import show
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.terms.units import GRAMS_PER_KILOGRAM

HELD = ("protein", "fat", "carbohydrate", "fibre", "ash", "water", GROSS)
"""Figures of the bait as bagged that are set side by side."""
SIZE, LEVEL, HOLDS, WATER = "size and boil", "level", "what it holds as bagged", "in the water"


@dataclass(frozen=True, slots=True)
class Side:
    """One of two baits: its plan, its dry mix taken apart, and its nights."""

    plan: BatchPlan
    mix: MixAnalysis
    nights: tuple[SoakStage, ...]


@dataclass(frozen=True, slots=True)
class BesideRow:
    """One number of both; None where a bait has none of it."""

    about: str
    label: str
    first: Quantity | None
    second: Quantity | None


def side_of(
    request: PlanRequest,
    lakes: Sequence[float],
    *,
    time: float,
    shelf: Mapping[str, Candidate] | None = None,
) -> Side:
    """A bait planned, taken apart and laid into lakes.

    Parameters
    ----------
    request: what is planned.
    lakes, time: temperatures [K], and how long it lies in each [s].
    shelf: the maker's own ingredients.

    Raises
    ------
    InputError: anything that plan, mix or soak refuse.
    """
    return nights_of(plan(request), lakes, time=time, shelf=shelf)


def nights_of(
    made: BatchPlan,
    lakes: Sequence[float],
    *,
    time: float,
    shelf: Mapping[str, Candidate] | None = None,
) -> Side:
    """As `side_of`, of a bait that is planned."""
    request = made.request
    recipe, unknowns = request.recipe, Unknowns(request.draws, request.factors)
    egg = egg_of_bowl(mass=made.eggs.mass, eggs=made.eggs.count)
    told = MixTold(recipe.base, recipe.hardener, recipe.sieve, dict(shelf or {}))
    mix = analyse_mix(told, Bowl(egg, made.mix.per_egg, water_share(made)), request.draws)
    nights = tuple(soaked_in(made, lake, time=time, unknowns=unknowns) for lake in lakes)
    return Side(made, mix, nights)


def beside(first: Side, second: Side) -> tuple[BesideRow, ...]:
    """Everything of two baits that fish and hands notice, side by side."""
    one, other = (
        {(about, label): q for about, label, q in _told(each)} for each in (first, second)
    )
    return tuple(
        BesideRow(*key, one.get(key), other.get(key)) for key in dict.fromkeys((*one, *other))
    )


def _told(side: Side) -> Iterator[tuple[str, str, Quantity]]:
    made, dried = side.plan, side.plan.tray.dried
    yield SIZE, "diameter as rolled", made.rolled.diameter
    yield SIZE, "diameter as bagged", dried.diameter
    yield SIZE, "weight as bagged", dried.mass
    yield SIZE, "seconds in the pot", made.boil.seconds
    for dose in made.doses.doses:
        yield (
            LEVEL,
            f"{dose.liquid.name} in the paste",
            _level(made, dose.mass if dose.by_weight else dose.volume),
        )
    figures = side.mix.bases.figures[Basis.BAIT]
    for name in HELD:
        if name in figures:
            yield HOLDS, name, figures[name]
    yield HOLDS, "grains over 1 mm, of the dry mix", side.mix.grains
    yield WATER, "density as bagged", dried.density
    yield WATER, "lift alone", made.water.dried
    yield (
        WATER,
        "sinks at (below nothing: rises)",
        sinking_speed(
            diameter=dried.diameter,
            net=made.water.dried,
            water_density=made.water.water_density,
            viscosity=water_viscosity(temperature=made.soak.temperature),
        ),
    )
    for night in side.nights:
        yield from _night(night)


def _level(made: BatchPlan, dose: Quantity) -> Quantity:
    level = level_in_paste(dose=dose, paste=made.rolled.paste)
    return in_units(level, GRAMS_PER_KILOGRAM) if dose.unit == "kg" else level


def _night(night: SoakStage) -> Iterator[tuple[str, str, Quantity]]:
    end = night.curve[-1]
    about = f"after {show(end.time, 'h')} at {show(float(unwrap(night.temperature.value)), 'C')}"
    for one in end.flavours:
        yield about, f"{one.name} left", one.left
    yield about, "firmness left", end.firmness
    yield about, "water taken up", end.taken
