"""A row: one wish about a mix as data, which the maker's words, the solver and the check share.

Every row compares one number of a mix with one limit. The number is a sum over the ingredients, or
one sum over another: protein of the dry matter is protein over dry matter, density is mass over
volume. The solver never divides: the quotient is multiplied out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from baitwright.quantities import show, tidy


class Sense(StrEnum):
    """Which side of its limit a row stays on."""

    AT_LEAST = "at least"
    AT_MOST = "at most"
    EXACTLY = "exactly"


class RowKind(StrEnum):
    """What a row is about."""

    NUTRIENT = "nutrient"
    DENSITY = "density"
    CLASS = "class"
    INGREDIENT = "ingredient"
    RATIO = "ratio"
    PRICE = "price"
    STOCK = "stock"
    BAN = "ban"
    LIKENESS = "likeness"
    WHOLE = "whole"


HELD = (RowKind.INGREDIENT, RowKind.STOCK, RowKind.BAN, RowKind.WHOLE)
"""Kinds that hold single ingredients, where the others wish something of the whole mix."""


class Origin(StrEnum):
    """Who asks for a row."""

    YOURS = "yours"
    RULE = "rule of thumb"
    LAW = "law"
    WATER = "rule of the water"
    NATURE = "arithmetic"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One wish.

    Parameters
    ----------
    about: the number in the maker's words, such as ``protein of the paste``.
    kind, sense, asked, unit: what it is, and the limit in SI with the unit it is told in.
    over: what a kilogram of each ingredient adds to the number, by ingredient.
    under: what it is divided by, per kilogram of each ingredient; None for the mix itself.
    hard: whether it must be kept; a soft one is kept as nearly as can be.
    weight: of a soft row beside others, for a shortfall of its whole limit.
    origin: who asks for it.
    spread: standard deviation of ``over`` by ingredient, for a floor that holds with a ``chance``.
    """

    about: str
    kind: RowKind
    over: Mapping[str, float]
    sense: Sense
    asked: float
    unit: str = "%"
    under: Mapping[str, float] | None = None
    hard: bool = True
    weight: float = 1.0
    origin: Origin = Origin.YOURS
    spread: Mapping[str, float] = field(default_factory=dict)
    chance: float | None = None

    @property
    def coefficients(self) -> Mapping[str, float]:
        """What stands before each share in the solver's row."""
        if self.under is None:
            return self.over
        names = self.over.keys() | self.under.keys()
        return {
            name: self.over.get(name, 0.0) - self.asked * self.under.get(name, 0.0)
            for name in sorted(names)
        }

    @property
    def limit(self) -> float:
        """What the solver's row is compared with."""
        return self.asked if self.under is None else 0.0

    @property
    def name(self) -> str:
        """The whole row in the maker's words."""
        if self.kind is RowKind.BAN:
            return f"no {self.about}"
        if self.kind is RowKind.WHOLE:
            return "shares sum to 100 %"
        sure = "" if self.chance is None else f" in {tidy(100.0 * self.chance)} of 100 mixes"
        return f"{self.about}: {self.sense} {told(self.asked, self.unit)}{sure}"

    def value(self, shares: Mapping[str, float]) -> float | None:
        """The number a mix has; None where it would be divided by nothing."""
        over = math.fsum(self.over.get(name, 0.0) * share for name, share in shares.items())
        if self.under is None:
            return over
        under = self.divisor(shares)
        return None if under == 0.0 else over / under

    def divisor(self, shares: Mapping[str, float]) -> float:
        """What the number is divided by in a mix."""
        if self.under is None:
            return 1.0
        return math.fsum(self.under.get(name, 0.0) * share for name, share in shares.items())

    def miss(self, value: float) -> float:
        """How far a number lies on the wrong side of the limit; 0 where it keeps it."""
        if self.sense is Sense.EXACTLY:
            return abs(value - self.asked)
        side = value - self.asked if self.sense is Sense.AT_MOST else self.asked - value
        return max(0.0, side)

    def beyond(self, shares: Mapping[str, Fraction], *, margin: Fraction = Fraction(0)) -> Fraction:
        """How far a mix is on the wrong side, in exact arithmetic; nothing where it keeps the row.

        Figures count as they are printed: the nearest fraction with nine digits below. ``margin``
        is to be kept from the limit besides.
        """
        side = sum((exact(self.over.get(name, 0.0)) * one for name, one in shares.items()), _NIL)
        under = Fraction(1)
        if self.under is not None:
            told = self.under.items()
            under = sum((exact(one) * shares.get(name, _NIL) for name, one in told), _NIL)
        miss = exact(self.asked) * under - side
        if self.sense is Sense.AT_MOST:
            miss = -miss
        elif self.sense is Sense.EXACTLY:
            miss = abs(miss)
        miss = max(_NIL, miss + margin)
        return miss / under if under else miss


_NIL = Fraction(0)
_PRINTED = 10**9


def exact(value: float) -> Fraction:
    """A figure as it was printed or typed, free of the rounding of its conversion."""
    return Fraction(value).limit_denominator(_PRINTED)


def apart(value: float, unit: str, digits: int = 3) -> str:
    """How far two of a row's numbers lie apart: shares by the point, not by the percent."""
    if unit != "%":
        return told(value, unit, digits)
    points = tidy(100.0 * value, digits)
    return f"{points} point{'' if points == '1' else 's'}"


def told(value: float, unit: str, digits: int = 3) -> str:
    """A row's number in its unit."""
    if unit in ("per kg", "g/g", ""):
        return f"{tidy(value, digits)} {unit}".rstrip()
    if unit == "kJ/100g":
        return f"{tidy(1e-4 * value, digits)} kJ/100 g"
    return show(value, unit, digits)
