"""How far a syringe, a scale or a calliper repeats itself, and whether that matters.

The same things are measured more than once, by one maker or by several. What differs from thing to
thing is real; the rest is the gauge and the hand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from baitwright.terms.errors import InputError
from baitwright.uncertainty.special import f_above
from baitwright.uncertainty.spreads import Floats

POOLED_FROM = 0.25
"""A hand that reads some things otherwise is told apart where chance does so less often."""
_NDC = 1.41


@dataclass(frozen=True, slots=True)
class Source:
    """One source of spread in an analysis of variance: its squares, degrees and their quotient."""

    squares: float
    degrees: int

    @property
    def mean(self) -> float:
        """Squares by degrees of freedom."""
        return self.squares / self.degrees if self.degrees else 0.0


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """Where the spread of a study came from.

    ``things``, ``hands``, ``both`` and ``rest`` are the sources; variances of the gauge's
    ``repeat``, of the ``hand`` and of the ``thing``, in the reading's unit squared.
    """

    things: Source
    hands: Source
    both: Source
    rest: Source
    pooled: bool
    repeat: float
    hand: float
    thing: float

    @property
    def gauge(self) -> float:
        """Variance of gauge and hand together."""
        return self.repeat + self.hand

    @property
    def total(self) -> float:
        """Variance of all."""
        return self.gauge + self.thing

    @property
    def repeats_within(self) -> float:
        """Two readings of one thing by one hand differ by less in 19 cases of 20."""
        return 1.96 * math.sqrt(2.0 * self.repeat)

    @property
    def share(self) -> float:
        """Part of the whole spread, as a standard deviation, that is gauge and hand."""
        return math.sqrt(self.gauge / self.total) if self.total else 0.0

    @property
    def sizes_told_apart(self) -> int:
        """How many sizes of such things it tells apart: 1.41 times thing by gauge, rounded down."""
        if not self.gauge:
            return 0
        return max(1, math.floor(_NDC * math.sqrt(self.thing / self.gauge)))


def gauge_study(readings: Floats) -> GaugeStudy:
    """Take the spread of repeated readings apart.

    Parameters
    ----------
    readings: shape (things, hands, repeats); one hand will do.

    Notes
    -----
    Balanced crossed analysis of variance. With one hand the things' mean square is held against
    the rest; with several what hand and thing do together is pooled into the rest where its F
    would be met by chance in more than 25 %. repeat = MSe, hand = (MSo - MSe) / (p n), thing =
    (MSp - MSe) / (o n), none below nothing; what both do together counts to the hand.

    Raises
    ------
    InputError: fewer than two things or two repeats.

    Reference: recalled, gauge repeatability and reproducibility by analysis of variance.
    """
    if readings.ndim != 3 or readings.shape[0] < 2 or readings.shape[2] < 2:
        raise InputError("readings", readings.shape, "two things at least, each measured twice")
    parts, hands, repeats = readings.shape
    middle = readings.mean()
    cells = readings.mean(axis=2)
    by_part, by_hand = cells.mean(axis=1), cells.mean(axis=0)
    things = Source(hands * repeats * _squared(by_part - middle), parts - 1)
    hand = Source(parts * repeats * _squared(by_hand - middle), hands - 1)
    off = cells - by_part[:, None] - by_hand[None, :] + middle
    both = Source(repeats * _squared(off), (parts - 1) * (hands - 1))
    rest = Source(_squared(readings - cells[:, :, None]), parts * hands * (repeats - 1))
    pooled = _is_chance(both, rest)
    spread = Source(both.squares + rest.squares, both.degrees + rest.degrees) if pooled else rest
    against = spread if pooled else both
    return GaugeStudy(
        things=things,
        hands=hand,
        both=both,
        rest=rest,
        pooled=pooled,
        repeat=spread.mean,
        hand=_beyond(hand, against, parts * repeats)
        + (0.0 if pooled else _beyond(both, rest, repeats)),
        thing=_beyond(things, against, hands * repeats),
    )


def _squared(values: Floats) -> float:
    return float(np.sum(values**2))


def _is_chance(both: Source, rest: Source) -> bool:
    if both.degrees == 0 or rest.mean == 0.0:
        return both.squares == 0.0 or both.degrees == 0
    return f_above(both.mean / rest.mean, both.degrees, rest.degrees) > POOLED_FROM


def _beyond(source: Source, rest: Source, count: int) -> float:
    return max(0.0, source.mean - rest.mean) / count if source.degrees else 0.0


def pooled_sd(sources: Sequence[Source]) -> float:
    """Standard deviation of repeated readings, from several studies.

    Reference: nist-handbook, section 2.4.4.
    """
    squares = math.fsum(one.squares for one in sources)
    return math.sqrt(squares / sum(one.degrees for one in sources))
