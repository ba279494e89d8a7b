"""What is taken of a liquid where nobody said, and what is refused of one, in files and answers."""

from __future__ import annotations

from baitwright.materials.liquids import carrier
from baitwright.quantities import from_si, show, tidy
from baitwright.recipe.dosing import strength_of
from baitwright.recipe.levels import Level, Measure, Reference
from baitwright.recipe.liquid import Liquid
from baitwright.terms.errors import InputError
from baitwright.terms.evidence import Evidence

UNSTATED_EVIDENCE = Evidence.JUDGEMENT
"""What stands behind whatever is taken of a liquid where nobody said."""
CARRIER = "unknown"
"""The carrier of a liquid that does not name one."""
SHOWN = {Measure.VOLUME: "ml", Measure.MASS: "g", Measure.DROPS: "drops"}
THICK = "thick extract"
_THICK_CARRIER = "thick-extract"
_LEAST, _MOST, _MOST_OF_PASTE = 1e-6, 1.0, 0.5
"""Limits of a level by weight or volume: a trace, as much as it goes into, half of the paste."""


def is_thick(carrier_id: str, strength: str | None, stated: bool | None) -> bool:
    """Whether a syringe will not draw a liquid: as stated, else by its carrier or strength."""
    if stated is not None:
        return stated
    return carrier_id == _THICK_CARRIER or strength == THICK


def taken_as(carrier_id: str, strength: str | None, *, thick: bool) -> str:
    """The strength a liquid is judged by: as stated, else by the one rule for it."""
    return strength or strength_of(carrier_id, thick=thick)


def refuse_absurd(liquid: Liquid, field: str) -> None:
    """Refuse a level beyond all sense: one is unusual long before that.

    Raises
    ------
    InputError: less than a trace, or more than what it goes into.
    """
    level = liquid.level
    scale = _like_with_like(liquid) / level.per
    most = _MOST_OF_PASTE if level.reference is Reference.PASTE else _MOST
    if _LEAST <= level.amount * scale < most:
        return
    low, high = (_shown(limit / scale, level) for limit in (_LEAST, most))
    accepted = f"{low} to less than {high} {SHOWN[level.measure]} for {_per(level)}"
    raise InputError(field, level.text, accepted)


def _like_with_like(liquid: Liquid) -> float:
    """What turns the level's amount into m3 beside a volume of egg, into kg beside a weight."""
    level = liquid.level
    density = liquid.density or carrier(liquid.carrier).density
    by_volume = level.reference is Reference.EGG_VOLUME
    if level.measure is Measure.MASS:
        return 1.0 / density if by_volume else 1.0
    in_volume = 1.0
    if level.measure is Measure.DROPS:
        in_volume = 1.0 / (liquid.drops_per_volume or 1.0)
    return in_volume if by_volume else in_volume * density


def _shown(amount: float, level: Level) -> str:
    unit = SHOWN[level.measure]
    return tidy(amount if level.measure is Measure.DROPS else from_si(amount, unit))


def _per(level: Level) -> str:
    if level.reference is Reference.EGG_VOLUME:
        return f"{show(level.per, 'ml')} of egg"
    what = "egg" if level.reference is Reference.EGG_MASS else str(level.reference)
    return f"{show(level.per, 'g' if level.per < 1.0 else 'kg')} of {what}"
