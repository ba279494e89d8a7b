"""Measuring a dose out: the tool, its error, a pre-blended bottle for small doses, and judgement.

Plain floats throughout, so that the quick answers need nothing heavy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.materials.liquids import LevelRange, carrier, level_range
from baitwright.materials.tools import (
    Draw,
    Spoon,
    Syringe,
    choose_syringe,
    drops,
    spoons,
    syringes,
)
from baitwright.quantities import show, to_si
from baitwright.recipe.levels import Bridge, Level, Measure
from baitwright.terms.errors import InputError

FREE_BAIT_LEVEL = "free_bait_level_share"
"""The row of the table that knows what of a hookbait's level is usual in its free bait."""
POOR_MEASURE = 0.08
"""A fill that may be off by more than this is offered as a blend (judgement)."""
_OWN_SPOONS = {"us", "au"}
"""Countries whose spoons stand in the table beside the metric ones, as endings of their ids."""
_SPOON_MISS = 0.2
"""A spoon further off than this is no help (judgement)."""
_ROUNDING = 1e-9
"""A level on the very end of what is usual is within it, on whatever basis it was counted."""
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


def spoon_out(volume: float, country: str = "") -> Spoonfuls | None:
    """The spoon of a country that comes nearest to a dose [m3], or nothing within a fifth of it.

    Metric spoons, unless the country has its own.
    """
    foreign = _OWN_SPOONS - {country.lower()}
    choices = [
        (abs(count * spoon.volume / volume - 1.0), count, spoon)
        for spoon in spoons().values()
        if spoon.id.rpartition("-")[2] not in foreign
        for count in (1, 2, 3)
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


def strength_of(carrier_id: str, *, thick: bool = False) -> str:
    """What a liquid's level is judged as where nobody stated its strength: the one rule for it."""
    if thick or carrier_id == "thick-extract":
        return "thick extract"
    return _BY_CARRIER.get(carrier_id, "quality")


_BY_CARRIER = {"essential-oil": "essential oil", "acid": "acid", "water": "hydrolysate"}


def asks_its_kind(name: str, carrier_id: str) -> str:
    """What to ask of a liquid whose name says more than its file does; nothing for the others."""
    if carrier_id != "unknown":
        return ""
    words = name.lower()
    kinds = {"oil": "an essential oil", "acid": "an acid", "extract": "a thick extract"}
    found = next((kind for word, kind in kinds.items() if word in words), "")
    return f" If it is {found}, say so: its levels are of another order." if found else ""


def thinner(carrier_id: str) -> str:
    """What to let a flavour down with: its own carrier, where it has one."""
    if carrier_id in ("essential-oil", "acid", "unknown", "thick-extract"):
        return "a carrier it stays clear in"
    return carrier(carrier_id).name


@dataclass(frozen=True, slots=True)
class Judged:
    """Whose level is judged: the liquid's name, its level, its strength, and its bottle's drops."""

    name: str
    level: Level
    strength: str
    drops_per_volume: float | None = None


def usual_range(judged: Judged, use: str, bridge: Bridge) -> tuple[float, float]:
    """What makers commonly use of a liquid of this strength, for one egg of the bridge.

    Returns
    -------
    Low and high in m3 or kg. A range that the trade counts in drops is turned into volume by the
    bottle's own drops, or by the smallest and largest drop of such a liquid.
    """
    row = level_range(judged.strength, use)
    if row.unit != "drops":
        low, high = to_si(row.low, row.unit), to_si(row.high, row.unit)
        return _for_one_egg(row, low, bridge), _for_one_egg(row, high, bridge)
    drop = drops()["essential-oil"]
    own = judged.drops_per_volume
    small, large = (1.0 / own, 1.0 / own) if own else (drop.low, drop.high)
    return (
        _for_one_egg(row, row.low * small, bridge),
        _for_one_egg(row, row.high * large, bridge),
    )


def _for_one_egg(row: LevelRange, amount: float, bridge: Bridge) -> float:
    if row.basis == "egg":
        return amount * bridge.egg_volume / (row.egg or bridge.egg_volume)
    return amount * bridge.dry_mix


def per_egg(level: Level, bridge: Bridge) -> float:
    """A level as an amount for one egg of the bridge [m3, kg or drops]."""
    return level.amount * bridge.amount_of(level.reference) / level.per


def judge(judged: Judged, *, use: str, bridge: Bridge) -> str | None:
    """A remark where a level lies beyond what the trade uses, or nothing.

    Nothing either where the level cannot be set beside the range: by weight beside ml, or in drops
    of a bottle nobody counted.

    Parameters
    ----------
    judged: the liquid and its level.
    use: ``"hookbait"`` or ``"free bait"``.
    bridge: what one egg brings.
    """
    row = level_range(judged.strength, use)
    amount = _beside(judged, row, bridge)
    if amount is None:
        return None
    unit = "g" if row.unit == "g" else "ml"
    low, high = usual_range(judged, use, bridge)
    if low * (1.0 - _ROUNDING) <= amount <= high * (1.0 + _ROUNDING):
        return None
    side = "above" if amount > high else "below"
    kind = f"{article(judged.strength)} {judged.strength} one in a {use}"
    limit = " Makers hold that end for a limit." if row.hard_limit and amount > high else ""
    return (
        f"{judged.name}: {show(amount, unit, 2)} an egg is {side} the usual {show(low, unit, 2)} "
        f"to {show(high, unit, 2)} for {kind}.{limit}"
    )


def above_limit(judged: Judged, *, use: str, bridge: Bridge) -> bool:
    """Whether a level lies above an end that makers hold for a limit, as far as one can tell."""
    row = level_range(judged.strength, use)
    amount = _beside(judged, row, bridge)
    return row.hard_limit and amount is not None and amount > usual_range(judged, use, bridge)[1]


def _beside(judged: Judged, row: LevelRange, bridge: Bridge) -> float | None:
    """A level for one egg as its range counts it; None where the two cannot be set beside."""
    amount = per_egg(judged.level, bridge)
    if judged.level.measure is Measure.DROPS:
        return None if judged.drops_per_volume is None else amount / judged.drops_per_volume
    return amount if (row.unit == "g") is (judged.level.measure is Measure.MASS) else None


def article(word: str) -> str:
    """The article a word takes."""
    return "an" if word[:1].lower() in "aeiou" else "a"


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
