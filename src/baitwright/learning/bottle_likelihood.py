"""How likely a bottle test is, for every draw of the unknowns behind a tray's lift."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from baitwright.learning.plain_evidence import WEIGHED
from baitwright.learning.tray_model import Bait, TrayModel
from baitwright.materials.kinds import lift_words
from baitwright.physics import water
from baitwright.terms.records import BottleTest, Look, WeighedTogether
from baitwright.uncertainty.spreads import Floats

EARLY = 3600.0
"""Looks within the first hour tell of the bait as dried; later ones of its soaking too, s."""
CUP = 6e-6
"""Standard uncertainty of one bait's lift from two readings of a scale to 0.01 g, kg (judgement).
"""
_LEAST = 1e-300
_erfc = np.frompyfunc(math.erfc, 1, 1)


@dataclass(frozen=True, slots=True)
class Limits:
    """Lifts [kg] between which a bait hangs; above it floats, below it sinks."""

    low: float
    high: float


def limits(*, on_rig: bool) -> Limits:
    """Where floating and sinking begin, by the table of words."""
    words = lift_words()
    hangs = words["balanced" if on_rig else "hangs"]
    return Limits(float(hangs.low or 0.0), float(hangs.high or 0.0))


def early_looks(test: BottleTest) -> tuple[Look, ...]:
    """The first look alone and the first on the rig, where they came within the first hour."""
    found = []
    for on_rig in (False, True):
        looks = [one for one in test.looks if one.on_rig is on_rig and one.after <= EARLY]
        found += sorted(looks, key=lambda one: one.after)[:1]
    return tuple(found)


def tells_lift(test: BottleTest) -> bool:
    """Whether anything seen or weighed of the test tells of the lift."""
    return bool(early_looks(test) or test.pushed_under or test.baits or test.cores)


@dataclass(frozen=True, slots=True)
class Likelihood:
    """The logarithm of the chance of a test's results, draw by draw."""

    model: TrayModel
    test: BottleTest

    def __call__(self, values: Floats) -> Floats:
        """For draws as rows.

        Notes
        -----
        In a tray the lift is normal about its middle bait; a look is then multinomial. Where as
        many baits were seen alone and on the rig they are taken for the same baits: the lift of
        each lies between the limits of both looks, and the looks are one multinomial in the cells
        between all limits. Weighings are normal about the middle, with the tray's own scatter over
        the root of the count, and the scale's error.
        """
        density = float(water.density(self.test.water_temperature))
        lifts = Spread.of_lift(self.model, values, density)
        total = self._looks(values, lifts)
        for one in self.test.pushed_under:
            total += _normal(one.rise - one.mass, lifts.middle, np.hypot(lifts.sd, CUP))
        if self.test.baits is not None:
            total += _together(self.test.baits, Spread.of_mass(self.model, values))
        if self.test.cores is not None:
            total += _together(self.test.cores, self._core(values))
        return total

    def _looks(self, values: Floats, lifts: Spread) -> Floats:
        looks, pull = early_looks(self.test), self.model.hook_pull(values)
        ends = [_Ends.of(look, pull if look.on_rig else 0.0) for look in looks]
        if len(ends) == 2 and _are_the_same_baits(ends, pull):
            ends = [_joined(*ends)]
        total = np.zeros(len(values))
        for one in ends:
            total += one.log_chance(lifts)
        return total

    def _core(self, values: Floats) -> Spread:
        """Weight of one core; the mean of a few in a bait scatters less than each of them."""
        middle = self.model.middle(values)
        pairs = [
            (_core_mass(above), _core_mass(below)) for above, below in self.model.neighbours(values)
        ]
        mean = Spread.across(_core_mass(middle), pairs)
        return Spread(mean.middle, mean.sd * math.sqrt(middle.cores))


@dataclass(frozen=True, slots=True)
class Spread:
    """Something of a bait across the tray: its middle and standard deviation, draw by draw."""

    middle: Floats
    sd: Floats

    @classmethod
    def across(cls, middle: Floats, pairs: Sequence[tuple[Floats, Floats]]) -> Spread:
        """From what each kind of scatter does to either side."""
        squares = sum(((above - below) / 2.0) ** 2 for above, below in pairs)
        return cls(middle, np.sqrt(squares))

    @classmethod
    def of_lift(cls, model: TrayModel, values: Floats, water_density: float) -> Spread:
        """A bait's lift in water of some density [kg]."""
        pairs = [
            (a.lift(water_density), b.lift(water_density)) for a, b in model.neighbours(values)
        ]
        return cls.across(model.middle(values).lift(water_density), pairs)

    @classmethod
    def of_mass(cls, model: TrayModel, values: Floats) -> Spread:
        """A bait's weight [kg]."""
        pairs = [(above.mass, below.mass) for above, below in model.neighbours(values)]
        return cls.across(model.middle(values).mass, pairs)

    def below(self, limit: Floats | float) -> Floats:
        """Share of the tray below a limit."""
        return _normal_below((limit - self.middle) / self.sd)


@dataclass(frozen=True, slots=True)
class _Ends:
    """A look as limits on the lift alone, rising, and how many baits lie in each cell between."""

    limits: tuple[Floats | float, ...]
    counts: tuple[int, ...]

    @classmethod
    def of(cls, look: Look, carried: Floats | float) -> _Ends:
        words = limits(on_rig=look.on_rig)
        return cls(
            (carried + words.low, carried + words.high), (look.sank, look.hung, look.floated)
        )

    def log_chance(self, lifts: Spread) -> Floats:
        """Logarithm of the chance of the counts, but for what does not hang on the draws."""
        total = np.zeros_like(lifts.middle)
        ends = [np.asarray((limit - lifts.middle) / lifts.sd) for limit in self.limits]
        marks = [np.asarray(-np.inf), *ends, np.asarray(np.inf)]
        for (low, high), count in zip(pairwise(marks), self.counts, strict=True):
            if count:
                total += count * np.log(np.maximum(_normal_between(low, high), _LEAST))
        return total


def _are_the_same_baits(ends: Sequence[_Ends], pull: Floats) -> bool:
    """As many alone as on the rig, no bait floating there that sank alone, and a hook that tells.

    Limits of both looks stand in one order only if the hook pulls more than the limits are apart.
    """
    alone, rig = ends
    apart = alone.limits[1] - rig.limits[0] + pull
    return (
        sum(alone.counts) == sum(rig.counts)
        and alone.counts[2] >= rig.counts[1] + rig.counts[2]
        and bool(np.mean(pull > apart) > 0.99)
    )


def _joined(alone: _Ends, rig: _Ends) -> _Ends:
    """Both looks at the same baits: those that floated alone, told apart by the hook."""
    heavy = alone.counts[2] - rig.counts[1] - rig.counts[2]
    counts = (alone.counts[0], alone.counts[1], heavy, rig.counts[1], rig.counts[2])
    return _Ends((*alone.limits, *rig.limits), counts)


def _together(weighed: WeighedTogether, one: Spread) -> Floats:
    """Log chance of a weight of several, from what one of them weighs."""
    error = np.hypot(one.sd / math.sqrt(weighed.count), WEIGHED * one.middle)
    return _normal(weighed.mass / weighed.count, one.middle, error)


def _core_mass(bait: Bait) -> Floats:
    return np.asarray(bait.core_density * np.pi / 6.0 * bait.core_diameter**3)


def _normal(seen: float, middle: Floats, sd: Floats) -> Floats:
    return np.asarray(-0.5 * ((seen - middle) / sd) ** 2 - np.log(sd))


def _normal_below(distance: Floats) -> Floats:
    return np.asarray(0.5 * _erfc(np.asarray(distance) / -math.sqrt(2.0)), dtype=float)


def _normal_between(low: Floats, high: Floats) -> Floats:
    """Share between two limits, taken on the side where it is small so that no digit is lost."""
    low, high = np.broadcast_arrays(low, high)
    above = low > 0.0
    first = np.where(above, -high, low)
    second = np.where(above, -low, high)
    return _normal_below(second) - _normal_below(first)
