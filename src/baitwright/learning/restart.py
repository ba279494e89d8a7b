"""Which of the maker's own factors a changed base mix puts in doubt, and a set that begins anew.

A factor that a base mix has to itself was learned of that very mix. Beside a mix that is near it,
its middle is still the best guess, but none of its batches counts any longer: it begins as unsure
as before the first. Factors of the whole kitchen were learned over every base; they stay, and those
are named whose inputs the change has moved.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType

from baitwright.blending.mending import GRAINS, SETTING
from baitwright.materials.factors import factor_priors
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor, FactorSet

DRY_MIX, COARSE, DENSITY = "dry_mix_per_egg", "coarse_fraction", "paste_density"
BY_BASE = (DRY_MIX, COARSE, DENSITY)
"""Factors that a plan looks up by the name of the base mix."""
_HANGS_ON: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        COARSE: (GRAINS,),
        "cook": ("water", "protein", "fat", SETTING),
        "drying": ("fat", "carbohydrate", "protein", "soluble", "binder"),
        "air_left": ("binder", "soluble", SETTING),
        "soak": ("fat", "soluble", "binder", SETTING),
        "flavour_release": ("fat", "soluble", "binder", SETTING),
        "keeping": ("soluble", "ash", "fat"),
        "rolling_loss": ("binder", "coarse", GRAINS),
    }
)
"""What of a mix each factor hangs on besides those that are of one very mix (judgement)."""


class Fate(StrEnum):
    """What becomes of a factor."""

    BEGINS_ANEW = "begins anew"
    STANDS = "stands"
    WATCHED = "stays and is watched"


@dataclass(frozen=True, slots=True)
class Calibration:
    """A factor beside a changed mix: as it was, what moved of what it hangs on, as it will be.

    ``after`` is None where the set needs no row for it.
    """

    key: str
    fate: Fate
    before: Factor
    moved: tuple[str, ...] = ()
    after: Factor | None = None

    @property
    def label(self) -> str:
        """What the factor multiplies."""
        return factor_priors()[self.key].label

    @property
    def measurement(self) -> str:
        """The reading that teaches it again."""
        return factor_priors()[self.key].measurement


def calibrations(
    factors: FactorSet,
    moved: Collection[str],
    *,
    old: str,
    new: str,
    restart: Collection[str] = (),
) -> tuple[Calibration, ...]:
    """What becomes of every factor that hangs on the mix.

    Parameters
    ----------
    factors: the maker's own set.
    moved: what has moved of the mix, by the names that factors hang on.
    old, new: names of the base before and after; the same where it keeps its name.
    restart: factors of the whole kitchen that are to begin anew too.

    Raises
    ------
    InputError: ``restart`` names none of them.
    """
    kitchen = [key for key in _HANGS_ON if key not in BY_BASE]
    for key in restart:
        if key not in kitchen:
            raise InputError("restart", key, f"one of: {', '.join(kitchen)}")
    by_base = [_of_base(factors, key, moved, old=old, new=new) for key in BY_BASE]
    others = [_of_kitchen(factors, key, moved, again=key in restart) for key in kitchen]
    return (*by_base, *others)


def _moved_of(key: str, moved: Collection[str]) -> tuple[str, ...]:
    return tuple(one for one in _HANGS_ON.get(key, ()) if one in moved)


def _of_base(
    factors: FactorSet, key: str, moved: Collection[str], *, old: str, new: str
) -> Calibration:
    before, why = factors.find(key, old), _moved_of(key, moved)
    if key in _HANGS_ON and not why:
        kept = replace(before, about=new) if before.about == old != new else None
        return Calibration(key, Fate.STANDS, before, after=kept)
    return Calibration(key, Fate.BEGINS_ANEW, before, why, begun_anew(before, about=new))


def _of_kitchen(
    factors: FactorSet, key: str, moved: Collection[str], *, again: bool
) -> Calibration:
    before, why = factors.find(key), _moved_of(key, moved)
    if again:
        return Calibration(key, Fate.BEGINS_ANEW, before, why, begun_anew(before, about=""))
    return Calibration(key, Fate.WATCHED if why else Fate.STANDS, before, why)


def begun_anew(before: Factor, *, about: str, mu: float | None = None) -> Factor:
    """A factor with its middle for a guess, as unsure as before any batch.

    ``mu`` stands in for the middle where something else is known of it.
    """
    prior = factor_priors()[before.key].factor
    return replace(prior, about=about, mu=before.mu if mu is None else mu, source="judgement")


def restarted(
    factors: FactorSet, found: Sequence[Calibration], *, name: str, made_on: datetime
) -> FactorSet:
    """A new dated set in which what begins anew does; batches learned from stay known.

    They stay so that none of them is counted for the new mix.
    """
    changed = [one.after for one in found if one.after is not None]
    return factors.with_factors(changed, name=name, made_on=made_on)
