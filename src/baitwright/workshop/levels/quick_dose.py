"""One liquid for the eggs in the bowl, in plain floats: dose, fill, and error in closed form."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.materials.tools import Draw
from baitwright.recipe.dosing import PreBlend, Spoonfuls, measure_out, per_egg, pre_blend, spoon_out
from baitwright.recipe.levels import Reference
from baitwright.recipe.liquid import Liquid
from baitwright.uncertainty.gum import Measured, combine
from baitwright.workshop.levels.bridges import Bridges, mass_of, volume_of
from baitwright.workshop.levels.levels_request import LevelsRequest


@dataclass(frozen=True, slots=True)
class Dose:
    """One liquid for the eggs in the bowl.

    ``low``, ``middle`` and ``high`` are in m3, kg or drops as the level is measured, apart only
    where the grams of dry mix are not known. ``volume`` and ``mass`` are those of the middle.
    ``strength`` is the flavour per unit of what the level is set against, with its standard error.
    """

    low: float
    middle: float
    high: float
    volume: float
    mass: float
    fill: Draw | None
    blend: PreBlend | None
    spoons: Spoonfuls | None
    strength: Measured


def dose_for(liquid: Liquid, request: LevelsRequest, bridges: Bridges) -> Dose:
    """The dose of a level for the eggs in the bowl, measured out as well as the shelf allows."""
    count = request.bowl.count
    middle = count * per_egg(liquid.level, bridges.middle)
    ends = sorted(count * per_egg(liquid.level, end) for end in (bridges.low, bridges.high))
    volume = volume_of(liquid, middle)
    fill = None if liquid.thick else measure_out(volume, request.shelf)
    drawn = Measured(volume) if fill is None else Measured(fill.volume, fill.u)
    return Dose(
        low=ends[0],
        middle=middle,
        high=ends[1],
        volume=volume,
        mass=mass_of(liquid, middle),
        fill=fill,
        blend=None if liquid.thick else pre_blend(volume, fill, request.shelf),
        spoons=spoon_out(volume, request.country) if liquid.thick else None,
        strength=_strength(drawn, liquid.level.reference, request=request, bridges=bridges),
    )


def _strength(
    drawn: Measured, reference: Reference, *, request: LevelsRequest, bridges: Bridges
) -> Measured:
    """Flavour per unit of what the level is set against, with its combined standard error."""
    bowl, one = request.bowl, bridges.middle
    dry = request.dry_mix.measured

    def egg(fill: float, egg: float) -> float:
        return fill / (egg * one.amount_of(reference) / one.egg_volume)

    def dry_mix(fill: float, dry: float) -> float:
        return fill / (bowl.count * dry)

    def paste(fill: float, egg: float, dry: float) -> float:
        mass = egg * one.egg_mass / one.egg_volume + bowl.count * (dry + one.other_liquids)
        return fill / mass

    if reference is Reference.DRY_MIX:
        return combine(dry_mix, {"fill": drawn, "dry": dry})
    if reference is Reference.PASTE:
        return combine(paste, {"fill": drawn, "egg": bowl.volume, "dry": dry})
    return combine(egg, {"fill": drawn, "egg": bowl.volume})
