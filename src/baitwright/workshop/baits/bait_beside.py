"""Two baits side by side: size, level, what they hold, the water, and nights in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.free_batch import given_off, level_in_paste
from baitwright.batch.settle import sinking_speed, water_viscosity
from baitwright.batch.soak import SoakStage
from baitwright.blending.bases import Basis
from baitwright.blending.blend import GROSS, in_units
from baitwright.quantities import show
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.terms.units import GRAMS_PER_KILOGRAM
from baitwright.workshop.baits.bait_side import Side

HELD = ("protein", "fat", "carbohydrate", "fibre", "ash", "water", GROSS)
"""Figures of the bait as bagged that are set side by side."""
SIZE, LEVEL, HOLDS, WATER = "size and boil", "level", "what it holds as bagged", "in the water"


@dataclass(frozen=True, slots=True)
class BesideRow:
    """One number of both; None where a bait has none of it."""

    about: str
    label: str
    first: Quantity | None
    second: Quantity | None


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
    levels = _levels(made)
    for name, level in levels.items():
        yield LEVEL, f"{name} in the paste", level
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
        yield from _night(night, levels)


def _levels(made: BatchPlan) -> Mapping[str, Quantity]:
    """Each liquid by the kilogram of paste, which both baits have."""
    return {
        dose.liquid.name: _by_measure(
            level_in_paste(
                dose=dose.mass if dose.by_weight else dose.volume, paste=made.rolled.paste
            ),
            by_weight=dose.by_weight,
        )
        for dose in made.doses.doses
    }


def _night(night: SoakStage, levels: Mapping[str, Quantity]) -> Iterator[tuple[str, str, Quantity]]:
    end = night.curve[-1]
    about = f"after {show(end.time, 'h')} at {show(float(unwrap(night.temperature.value)), 'C')}"
    for one in end.flavours:
        yield about, f"{one.name} left", one.left
        if one.name in levels:
            level = levels[one.name]
            lost = given_off(level=level, left=one.left)
            by_weight = level.shown == GRAMS_PER_KILOGRAM.shown
            yield about, f"{one.name} given off", _by_measure(lost, by_weight=by_weight)
    yield about, "firmness left", end.firmness
    yield about, "water taken up", end.taken


def _by_measure(per_kilogram: Quantity, *, by_weight: bool) -> Quantity:
    return in_units(per_kilogram, GRAMS_PER_KILOGRAM) if by_weight else per_kilogram
