"""One level on every basis the trade uses, through the shown grams of dry mix per egg."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.quantities import show, to_si
from baitwright.recipe.levels import Bridge, Reference, convert
from baitwright.recipe.liquid import Liquid
from baitwright.workshop.bridges import Bridges, mass_of
from baitwright.workshop.quick_bowl import Bowl
from baitwright.workshop.quick_lines import USUAL_EGG
from baitwright.workshop.unstated import SHOWN


@dataclass(frozen=True, slots=True)
class Basis:
    """A level on one basis: per what, its unit, and its two ends in that unit's SI."""

    per: str
    unit: str
    low: float
    high: float


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
    found = [
        Basis(f"per {name}", unit, *_ends(liquid, bridges, reference=reference, per=per))
        for name, reference, per in wanted
    ]
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
