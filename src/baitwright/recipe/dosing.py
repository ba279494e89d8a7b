"""Measuring a dose out: the tool, its error, a pre-blended bottle for small doses, and judgement.

Plain floats throughout, so that the quick answers need nothing heavy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.materials.liquids import LevelRange, level_range
from baitwright.materials.tools import Draw, Spoon, Syringe, choose_syringe, spoons, syringes
from baitwright.quantities import show, to_si
from baitwright.recipe.levels import Bridge, Level, Measure
from baitwright.terms.errors import InputError

POOR_MEASURE = 0.08
"""A fill that may be off by more than this is offered as a blend (judgement)."""
_SPOON_MISS = 0.2
"""A spoon further off than this is no help (judgement)."""
_BLENDS = (4, 9, 19)
"""Parts of carrier to one of flavour that are easy to make up."""


def shelf_of(nominals: Sequence[float]) -> list[Syringe] | None:
    """The syringes of the bench by their nominal volume [m3]; every one when none is named.

    Raises
    ------
    InputError: a size that is not in the table.
    """
    if not nominals:
        return None
    table = [tool for tool in syringes().values() if tool.kind == "syringe"]
    chosen = []
    for nominal in nominals:
        found = [tool for tool in table if abs(tool.nominal / nominal - 1.0) < 1e-6]
        if not found:
            sizes = ", ".join(show(tool.nominal, "ml") for tool in table)
            raise InputError("syringes", show(nominal, "ml"), f"a size of {sizes}")
        chosen += found
    return chosen


def measure_out(volume: float, shelf: Sequence[Syringe] | None) -> Draw | None:
    """One fill for a dose [m3], or nothing where no syringe on the shelf takes it in one."""
    try:
        return choose_syringe(volume, shelf)
    except InputError:
        return None


@dataclass(frozen=True, slots=True)
class Spoonfuls:
    """So many level spoons of something too thick to draw, with the band they hold [m3]."""

    spoon: Spoon
    count: int
    low: float
    high: float


def spoon_out(volume: float) -> Spoonfuls | None:
    """The spoon that comes nearest to a dose [m3], or nothing where none comes within a fifth."""
    choices = [
        (abs(n * s.volume / volume - 1.0), n, s) for s in spoons().values() for n in (1, 2, 3)
    ]
    miss, count, spoon = min(choices, key=lambda choice: choice[:2])
    if miss > _SPOON_MISS:
        return None
    return Spoonfuls(spoon, count, count * spoon.low, count * spoon.high)


@dataclass(frozen=True, slots=True)
class PreBlend:
    """A bottle of flavour let down with its own carrier, so that a dose can be measured well."""

    carrier_parts: int
    dose: float
    fill: Draw


def pre_blend(volume: float, fill: Draw | None, shelf: Sequence[Syringe] | None) -> PreBlend | None:
    """A blend for a dose too small to measure well, or nothing where the dose is well measured.

    Parameters
    ----------
    volume: the dose of neat flavour [m3].
    fill: the best fill of the neat flavour.
    shelf: the syringes at hand.
    """
    if fill is None or fill.total / volume <= POOR_MEASURE:
        return None
    best: PreBlend | None = None
    for parts in _BLENDS:
        dose = volume * (1 + parts)
        blended = measure_out(dose, shelf)
        if blended is not None and (best is None or blended.relative < 0.9 * best.fill.relative):
            best = PreBlend(parts, dose, blended)
    return best if best and best.fill.relative < fill.total / volume else None


def usual_range(strength: str, use: str, bridge: Bridge) -> tuple[float, float] | None:
    """What makers commonly use of a liquid of this strength, for one egg of the bridge [m3 or kg].

    Nothing where the trade counts in drops, which hold no fixed volume.
    """
    row = level_range(strength, use)
    if row.unit == "drops":
        return None
    return _for_one_egg(row, row.low, bridge), _for_one_egg(row, row.high, bridge)


def _for_one_egg(row: LevelRange, amount: float, bridge: Bridge) -> float:
    in_si = to_si(amount, row.unit)
    if row.basis == "egg":
        return in_si * bridge.egg_volume / (row.egg or bridge.egg_volume)
    return in_si * bridge.dry_mix


def per_egg(level: Level, bridge: Bridge) -> float:
    """A level as an amount for one egg of the bridge [m3, kg or drops]."""
    return level.amount * bridge.amount_of(level.reference) / level.per


def judge(name: str, level: Level, *, strength: str, use: str, bridge: Bridge) -> str | None:
    """A remark where a level lies beyond what the trade uses, or nothing.

    Parameters
    ----------
    name: the liquid's name.
    level: its level.
    strength, use: its row in the table of levels.
    bridge: what one egg brings.
    """
    if level.measure is Measure.DROPS:
        return None
    span = usual_range(strength, use, bridge)
    row = level_range(strength, use)
    wants_mass = row.unit == "g"
    if span is None or wants_mass is not (level.measure is Measure.MASS):
        return None
    amount, unit = per_egg(level, bridge), row.unit
    low, high = span
    if low <= amount <= high:
        return None
    side = "above" if amount > high else "below"
    return (
        f"{name}: {show(amount, unit)} an egg is {side} the usual {show(low, unit)} to "
        f"{show(high, unit)} for a {strength} one in a {use}."
    )


def beyond_maker(name: str, level: Level, *, limit: Level, bridge: Bridge) -> str | None:
    """A remark where a level is above what the liquid's own maker gives, or nothing."""
    if level.measure is not limit.measure:
        return None
    amount, most = per_egg(level, bridge), per_egg(limit, bridge)
    if amount <= most * (1 + 1e-9):
        return None
    return (
        f"{name}: the level is {amount / most:.2g} times the most its maker gives ({limit.text})."
    )
