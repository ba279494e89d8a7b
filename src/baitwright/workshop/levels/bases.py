"""One level on every basis the trade uses, through the shown grams of dry mix per egg."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.materials.liquids import carrier
from baitwright.quantities import show, to_si
from baitwright.recipe.levels import Bridge, Measure, Reference, convert
from baitwright.recipe.liquid import Liquid
from baitwright.workshop.levels.bridges import Bridges, mass_of
from baitwright.workshop.levels.quick_bowl import Bowl
from baitwright.workshop.levels.quick_lines import USUAL_EGG
from baitwright.workshop.typed.unstated import CARRIER, SHOWN


@dataclass(frozen=True, slots=True)
class Alike:
    """The same amount measured out another way: its unit, and its two ends in that unit's SI."""

    unit: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Basis:
    """A level on one basis: per what, its unit, and its two ends in that unit's SI.

    ``alike`` is the same by volume, by weight and in drops of a counted bottle; of a carrier
    nobody stated as wide as carriers are. ``reference`` is what it is counted against.
    """

    per: str
    unit: str
    low: float
    high: float
    alike: tuple[Alike, ...] = ()
    reference: Reference = Reference.PASTE


_BASES = (
    ("egg of 50 ml", Reference.EGG_VOLUME, USUAL_EGG),
    ("500 g egg", Reference.EGG_MASS, 0.5),
    ("kg dry mix", Reference.DRY_MIX, 1.0),
    ("lb dry mix", Reference.DRY_MIX, to_si(1.0, "lb")),
    ("kg paste", Reference.PASTE, 1.0),
)


def on_every_basis(liquid: Liquid, bridges: Bridges, bowl: Bowl) -> tuple[Basis, ...]:
    """The same level on every basis the trade uses, through the shown grams of dry mix."""
    wanted = list(_BASES)
    if bowl.counted:
        here = f"egg of these ({show(bowl.per_egg, 'ml')})"
        wanted.insert(1, (here, Reference.EGG_VOLUME, bowl.per_egg))
    unit = SHOWN[liquid.level.measure]
    found = []
    for name, reference, per in wanted:
        ends = _ends(liquid, bridges, reference=reference, per=per)
        alike = measured_otherwise(liquid, *ends)
        found.append(Basis(f"per {name}", unit, *ends, alike, reference))
    low, high = _ends(liquid, bridges, reference=Reference.PASTE, per=1.0)
    return (*found, Basis("of paste", "%", mass_of(liquid, low), mass_of(liquid, high)))


def _ends(
    liquid: Liquid, bridges: Bridges, *, reference: Reference, per: float
) -> tuple[float, float]:
    """The amount on a basis at either end of the dry mix, the smaller first."""

    def amount(bridge: Bridge) -> float:
        return convert(liquid.level, bridge, reference=reference, per=per).amount

    ends = sorted((amount(bridges.low), amount(bridges.high)))
    return ends[0], ends[1]


def measured_otherwise(liquid: Liquid, low: float, high: float) -> tuple[Alike, ...]:
    """The same by volume, by weight and in drops, whichever the level is not written in."""
    least, most = _densities(liquid)
    drops = liquid.drops_per_volume
    measure = liquid.level.measure
    if measure is Measure.MASS:
        ends = (low / most, high / least)
    elif measure is Measure.DROPS and drops is not None:
        ends = (low / drops, high / drops)
    else:
        ends = (low, high)
    alike = {Measure.VOLUME: ends, Measure.MASS: (low, high)}
    if measure is not Measure.MASS:
        alike[Measure.MASS] = (ends[0] * least, ends[1] * most)
    if drops is not None:
        alike[Measure.DROPS] = (ends[0] * drops, ends[1] * drops)
    return tuple(Alike(SHOWN[one], *pair) for one, pair in alike.items() if one is not measure)


def _densities(liquid: Liquid) -> tuple[float, float]:
    """The lightest and the heaviest it may be [kg/m3]: one, where its carrier is known."""
    row = carrier(liquid.carrier)
    if liquid.density is not None:
        return liquid.density, liquid.density
    if row.id == CARRIER:
        return row.density_low, row.density_high
    return row.density, row.density
