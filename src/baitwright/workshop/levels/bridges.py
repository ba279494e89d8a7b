"""The bridge between the bases of a level: grams of dry mix per egg, known or as a shown range."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.materials.liquids import carrier
from baitwright.materials.tools import drops
from baitwright.quantities import Kind, from_si, read, show, tidy, to_si
from baitwright.recipe.dosing import per_egg
from baitwright.recipe.levels import Bridge, Measure, Reference, read_level
from baitwright.recipe.liquid import Liquid
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.evidence import Evidence
from baitwright.uncertainty.gum import Measured, rectangular
from baitwright.workshop.levels.quick_bowl import Bowl
from baitwright.workshop.levels.quick_lines import USUAL_EGG
from baitwright.workshop.typed.unstated import CARRIER

USUAL_DRY_MIX = (0.070, 0.095)
"""Dry mix that an egg of 50 ml takes up [kg] (common practice, no source)."""
DRY_MIX_EVIDENCE = Evidence.PRACTICE
"""What stands behind that range."""
_TAKEN_UP = (0.3, 5.0)
"""Grams of dry mix per ml of egg that any paste could hold."""


@dataclass(frozen=True, slots=True)
class DryMix:
    """Dry mix per egg of the bowl [kg], from ``low`` to ``high``; alike where it is known."""

    low: float
    high: float

    @property
    def is_known(self) -> bool:
        """Whether somebody weighed it."""
        return self.low == self.high

    @property
    def measured(self) -> Measured:
        """Its middle, with the standard error of something anywhere within the range."""
        half = 0.5 * (self.high - self.low)
        return Measured(self.low + half, rectangular(half))


def read_dry_mix(text: str | None, bowl: Bowl, field: str) -> DryMix:
    """Dry mix per egg as the maker gives it, or the trade's range for eggs of this size.

    Raises
    ------
    InputError: no weight, an unknown basis, or an amount that no paste could hold.
    """
    if text is None:
        low, high = (usual * bowl.per_egg / USUAL_EGG for usual in USUAL_DRY_MIX)
        return DryMix(low, high)
    amount_text, _, basis = " ".join(text.split()).partition(" per ")
    if basis in ("", "egg"):
        amount = read(amount_text, Kind.MASS, field)
    else:
        level = read_level(text, field)
        if level.measure is not Measure.MASS or level.reference is not Reference.EGG_VOLUME:
            raise InputError(field, text, "a weight per egg, such as '86 g per egg of 50 ml'")
        amount = level.amount * bowl.per_egg / level.per
    low, high = (round(to_si(limit, "g/ml") * bowl.per_egg, 3) for limit in _TAKEN_UP)
    if not low <= amount <= high:
        unit = f"g for an egg of {show(bowl.per_egg, 'ml')}"
        raise RangeError(field, text, low=low * 1e3, high=high * 1e3, unit=unit)
    return DryMix(amount, amount)


@dataclass(frozen=True, slots=True)
class Bridges:
    """What one egg of the bowl brings, at the least, the middle and the most dry mix."""

    low: Bridge
    middle: Bridge
    high: Bridge

    @classmethod
    def through(cls, liquids: Sequence[Liquid], bowl: Bowl, dry_mix: DryMix) -> Bridges:
        """The bridges for these liquids, which are part of the paste themselves."""
        return cls(
            low=_bridge(liquids, bowl, dry_mix.low),
            middle=_bridge(liquids, bowl, dry_mix.measured.value),
            high=_bridge(liquids, bowl, dry_mix.high),
        )


def _bridge(liquids: Sequence[Liquid], bowl: Bowl, dry: float) -> Bridge:
    """One egg's bridge; what is set against the paste shares in a paste it is itself part of."""
    bare = Bridge(bowl.per_egg, bowl.mass / bowl.count, dry)
    on_paste = [one for one in liquids if one.level.reference is Reference.PASTE]
    shares = math.fsum(mass_of(one, one.level.amount) / one.level.per for one in on_paste)
    if shares >= 0.5:
        raise InputError("level", f"{tidy(100 * shares)} %", "less than half of the paste")
    others = math.fsum(
        mass_of(one, per_egg(one.level, bare))
        for one in liquids
        if one.level.reference is not Reference.PASTE
    )
    liquids_in_paste = (others + shares * bare.paste) / (1.0 - shares)
    return Bridge(bare.egg_volume, bare.egg_mass, dry, liquids_in_paste)


def density_of(liquid: Liquid) -> float:
    """Density of a liquid, its carrier's where nothing better is known [kg/m3]."""
    return liquid.density or carrier(liquid.carrier).density


def volume_of(liquid: Liquid, amount: float) -> float:
    """An amount of a liquid by volume [m3].

    Raises
    ------
    InputError: drops of a bottle that is not calibrated.
    """
    if liquid.level.measure is Measure.MASS:
        return amount / density_of(liquid)
    if liquid.level.measure is Measure.VOLUME:
        return amount
    if liquid.drops_per_volume is None:
        raise InputError(
            "level",
            liquid.level.text,
            "ml or g, or drops with --drops-per-ml counted from this bottle",
            hint="A drop is not a unit until its bottle is calibrated: count drops into 1 ml. "
            f"{_drops_might_be(liquid)}",
        )
    return amount / liquid.drops_per_volume


def _drops_might_be(liquid: Liquid) -> str:
    """What the drops of a level may come to: by its carrier, or by every kind of drop."""
    named = liquid.carrier != CARRIER
    rows = [drops()[carrier(liquid.carrier).drops]] if named else list(drops().values())
    count = liquid.level.amount
    low, high = (
        tidy(from_si(count * one, "ml"))
        for one in (min(row.low for row in rows), max(row.high for row in rows))
    )
    return f"Uncounted, '{liquid.level.text.partition(' per ')[0]}' may be {low} to {high} ml."


def mass_of(liquid: Liquid, amount: float) -> float:
    """An amount of a liquid by weight [kg]."""
    return volume_of(liquid, amount) * density_of(liquid)
