"""A base mix as powder: composition, density, what a sieve keeps back, from what is known."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from baitwright.materials.defaults import default
from baitwright.materials.powders import Ingredient, ingredient
from baitwright.materials.sieves import retained_share
from baitwright.materials.tables import composition_of
from baitwright.physics.food import Composition, density
from baitwright.recipe.model import Analysis, BaseMix, Hardener, HardenerBasis
from baitwright.terms.errors import InputError

ROOM = 293.15
"""Powders are weighed and stirred at 20 C, K."""

_CLOSURE = 0.005
"""Shares of a base mix sum to 1 within half a point of rounding."""


class Known(StrEnum):
    """How much is known of a base mix."""

    PARTS = "its parts"
    ANALYSIS = "its declared analysis"
    NAME = "its name alone"


# Spread of the true density's logarithm by what is known (judgement: parts vary between suppliers
# by about 1 %; a declared analysis leaves the kind of carbohydrate open; a name leaves all open).
DENSITY_LOG_SD = {Known.PARTS: 0.010, Known.ANALYSIS: 0.020, Known.NAME: 0.035}
# The same for the dry mix an egg takes up: how mealy a mix is shows in its parts only.
UPTAKE_LOG_SD = {Known.PARTS: 0.02, Known.ANALYSIS: 0.07, Known.NAME: 0.10}


@dataclass(frozen=True, slots=True)
class Powder:
    """A powder's composition and its density free of air, kg/m3."""

    make_up: Composition
    density: float


@dataclass(frozen=True, slots=True)
class BaseAnalysis:
    """A base mix taken apart: raw, through the sieve, left on it, and how sure that is."""

    raw: Powder
    fine: Powder
    coarse: Powder
    coarse_share: float
    known: Known
    ingredients: tuple[Ingredient, ...]

    @property
    def density_log_sd(self) -> float:
        """Spread of the logarithm of the density."""
        return DENSITY_LOG_SD[self.known]


def hardener_on_top(hardener: Hardener | None) -> float:
    """Hardener as a share on top of the base, whichever way it was stated.

    Raises
    ------
    InputError: the finished mix would be hardener through and through.
    """
    if hardener is None:
        return 0.0
    if hardener.basis is HardenerBasis.ON_TOP:
        return hardener.share
    if hardener.share >= 1.0:
        raise InputError("hardener.share", hardener.share, "less than 100 % of the finished mix")
    return hardener.share / (1.0 - hardener.share)


def analyse(base: BaseMix, *, sieve: str | None) -> BaseAnalysis:
    """Take a base mix apart.

    Parameters
    ----------
    base: by parts, by declared analysis, or by name.
    sieve: a row of the sieve table, or None for a mix that is not sieved.

    Raises
    ------
    InputError: shares do not sum to 100 %, or an ingredient is unknown.
    """
    if base.parts:
        return _by_parts(base, sieve)
    make_up = _declared_make_up(base.analysis or Analysis())
    powder = Powder(make_up, float(density(make_up, ROOM)))
    return BaseAnalysis(
        raw=powder,
        fine=powder,
        coarse=powder,
        coarse_share=retained_share(None, sieve),
        known=known_by(base),
        ingredients=(),
    )


def _by_parts(base: BaseMix, sieve: str | None) -> BaseAnalysis:
    rows = [(share, ingredient(name)) for name, share in shares_of(base).items()]
    kept = [(share, share * retained_share(row, sieve), row) for share, row in rows]
    coarse_share = math.fsum(back for _, back, _ in kept)
    raw = blend([(share, row) for share, row in rows])
    return BaseAnalysis(
        raw=raw,
        fine=blend([(share - back, row) for share, back, row in kept]),
        coarse=blend([(back, row) for _, back, row in kept]) if coarse_share > 0 else raw,
        coarse_share=coarse_share,
        known=Known.PARTS,
        ingredients=tuple(row for _, row in rows),
    )


def shares_of(base: BaseMix) -> dict[str, float]:
    """Every ingredient's share of a base, their rounding taken off so that they sum to 1.

    Raises
    ------
    InputError: they do not sum to 100 %.
    """
    total = math.fsum(part.share for part in base.parts)
    if abs(total - 1.0) > _CLOSURE:
        raise InputError(
            "base.parts", f"{100 * total:g} %", "shares that sum to 100 %", hint="Check the shares."
        )
    return {part.ingredient: part.share / total for part in base.parts}


def known_by(base: BaseMix) -> Known:
    """How much is known of a base mix."""
    if base.parts:
        return Known.PARTS
    return Known.NAME if base.analysis is None else Known.ANALYSIS


def blend(parts: list[tuple[float, Ingredient]]) -> Powder:
    """Powders stirred together: masses and volumes add."""
    make_up = Composition.mixed([(mass, _make_up(row)) for mass, row in parts])
    mass = math.fsum(mass for mass, _ in parts)
    return Powder(make_up, mass / math.fsum(mass / row.density for mass, row in parts))


def with_hardener(fine: Powder, on_top: float, hardener: Ingredient) -> Powder:
    """Sieved base with hardener on top of its weight."""
    make_up = Composition.mixed([(1.0, fine.make_up), (on_top, _make_up(hardener))])
    volume = 1.0 / fine.density + on_top / hardener.density
    return Powder(make_up, (1.0 + on_top) / volume)


def _make_up(row: Ingredient) -> Composition:
    """An ingredient's composition, its rounding spread evenly so that it sums to 1."""
    return Composition(**composition_of(row)).normalised()


_DECLARED = ("water", "protein", "fat", "fibre", "ash")


def _declared_make_up(analysis: Analysis) -> Composition:
    """A declared analysis completed: what the bag leaves out is as in a middling mix.

    Carbohydrate is the remainder, as on a bag that declares by difference; where what was declared
    leaves little room, the assumed parts share it.
    """
    shares = {name: getattr(analysis, name) for name in _DECLARED}
    stated = {name: share for name, share in shares.items() if share is not None}
    total = math.fsum(stated.values())
    if total > 1.0 + _CLOSURE:
        accepted = "parts that sum to 100 % at most"
        raise InputError("base.analysis", f"{100 * total:g} %", accepted)
    if total > 1.0:  # rounded up, each a little
        stated = {name: share / total for name, share in stated.items()}
    left = max(0.0, 1.0 - total)
    assumed = {name: default(f"mix_{name}").value for name in shares if name not in stated}
    squeeze = min(1.0, left / math.fsum(assumed.values())) if assumed else 1.0
    stated |= {name: squeeze * share for name, share in assumed.items()}
    rest = max(0.0, 1.0 - math.fsum(stated.values()))
    return Composition(carbohydrate=rest, **stated)
