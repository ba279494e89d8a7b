"""The maker's own factors: where this kitchen differs from the tables, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Factor:
    """Measured over predicted for one thing, held in logs as a normal-inverse-gamma belief.

    ``mu`` is the centre of the log ratio, ``kappa`` and ``nu`` count the batches behind centre and
    spread, ``sigma2`` is the variance of the log ratio between batches. ``about`` names what the
    factor speaks of when there are several, such as a base mix. ``batches`` counts the maker's own
    records in it: none means a published or judged prior.
    """

    key: str
    about: str
    mu: float
    kappa: float
    nu: float
    sigma2: float
    source: str
    batches: int = 0

    @property
    def median(self) -> float:
        """The middle of the factor: 1 where the table is believed."""
        return math.exp(self.mu)

    @property
    def scale(self) -> float:
        """Scale of the next batch's log ratio (Student t with ``nu`` degrees of freedom)."""
        return math.sqrt(self.sigma2 * (1.0 + 1.0 / self.kappa))


@dataclass(frozen=True, slots=True)
class Learned:
    """A batch that a set has learned from: its plan, its day, and what tells it from others.

    ``digest`` is of everything planned and read; the day is None where nobody said.
    """

    plan: str
    made: date | None
    digest: str

    def is_again(self, other: Learned) -> bool:
        """Whether another batch is this one: the same readings, and no two days that differ."""
        apart = None not in (self.made, other.made) and self.made != other.made
        return self.digest == other.digest and not apart


def of_lot(about: str, lot: str) -> str:
    """What the factor of one lot of a thing speaks of, or of one supplier's; the thing without."""
    return ", ".join(filter(None, (about, lot)))


@dataclass(frozen=True, slots=True)
class FactorSet:
    """A dated set of factors. A new set is made beside the old one; none is ever changed.

    ``learned`` are the batches it learned from, so that none is counted twice.
    """

    name: str
    made_on: datetime | None
    factors: tuple[Factor, ...]
    learned: tuple[Learned, ...] = ()

    def find(self, key: str, about: str = "") -> Factor:
        """The factor for a thing: the particular one if there is one, else the general one.

        Raises
        ------
        InputError: no factor of that key is in the set.
        """
        for wanted in dict.fromkeys((about, "")):
            for factor in self.factors:
                if factor.key == key and factor.about == wanted:
                    return factor
        known = ", ".join(sorted({factor.key for factor in self.factors}))
        raise InputError("factor", key, f"one of: {known}")

    def has(self, key: str) -> bool:
        """Whether the set holds a factor of this key, about anything."""
        return any(factor.key == key for factor in self.factors)

    def in_lots(self, lots: Mapping[tuple[str, str], str]) -> FactorSet:
        """The same set for a plan whose lots are known, by factor's key and thing.

        A lot's own factor stands in place of the thing's; of a lot that is new the thing's stays.
        """
        own = {(one.key, one.about): one for one in self.factors}
        found = {
            place: replace(own[lots_own], about=place[1])
            for place, lot in lots.items()
            if (lots_own := (place[0], of_lot(place[1], lot))) in own
        }
        return replace(self, factors=tuple({**own, **found}.values())) if found else self

    def with_factors(self, changed: Iterable[Factor], *, name: str, made_on: datetime) -> FactorSet:
        """A new set in which the changed factors stand in place of, or beside, the old ones."""
        table = {(factor.key, factor.about): factor for factor in self.factors}
        table |= {(factor.key, factor.about): factor for factor in changed}
        return replace(self, name=name, made_on=made_on, factors=tuple(table.values()))

    def after(self, batch: Learned) -> FactorSet:
        """The same set with a batch among those it learned from."""
        return replace(self, learned=(*self.learned, batch))
