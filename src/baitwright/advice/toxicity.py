"""Acute toxicity of a blend of liquids by the published formula: a screening, no classification."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from baitwright.materials.acute_toxicity import ToxicityClass, category_of, unit_of
from baitwright.terms.errors import InputError

MARK = "screening, not a classification"
"""Stands beside every number of this."""
UNKNOWN_COUNTS_ABOVE = 0.10  # clp-1272-2008, annex I, 3.1.3.6.2.3
_WHOLE = 1e-9


class Standing(StrEnum):
    """What is known of a part: its estimate, that it does not matter, or nothing."""

    KNOWN = "known"
    NOT_RELEVANT = "not relevant"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a blend: its share of it, and its estimate by one route in that route's unit."""

    name: str
    share: float
    standing: Standing
    estimate: float | None = None

    @classmethod
    def known(cls, name: str, share: float, estimate: float) -> Part:
        """A part whose sheet has a figure.

        Raises
        ------
        InputError: a figure of nothing or less.
        """
        if not (math.isfinite(estimate) and estimate > 0.0):
            raise InputError(name, estimate, "an estimate above 0")
        return cls(name, share, Standing.KNOWN, estimate)


@dataclass(frozen=True, slots=True)
class Screening:
    """What the formula gives for one route.

    ``estimate`` is None where no part has one; ``category`` is None beyond the last. ``untold`` is
    the share of the blend that nobody named, and counts as unknown.
    """

    route: str
    unit: str
    parts: tuple[Part, ...]
    estimate: float | None
    category: ToxicityClass | None
    unknown: float
    not_relevant: float
    untold: float

    @property
    def is_corrected(self) -> bool:
        """Whether so much is unknown that it is taken out of the whole."""
        return self.unknown > UNKNOWN_COUNTS_ABOVE


def screen(parts: Sequence[Part], route: str) -> Screening:
    """The estimate of a blend by one route.

    ``100 / ATEmix = sum(Ci / ATEi)`` over the known parts; where more than 10 % is unknown the 100
    is what is left without it (clp-1272-2008, annex I, 3.1.3.6.1 and 3.1.3.6.2.3). Parts that are
    not relevant stay in the whole: they thin the blend. Shares are by weight, or by volume.

    Raises
    ------
    InputError: a share below nothing, or more than the whole.
    """
    told = math.fsum(part.share for part in parts)
    for part in parts:
        if not (math.isfinite(part.share) and part.share >= 0.0):
            raise InputError(f"share of {part.name}", part.share, "from 0 to 100 %")
    if told > 1.0 + 1e-6:
        raise InputError("parts", f"{100 * told:.6g} % together", "100 % at most")
    untold = max(0.0, 1.0 - told)
    untold = untold if untold > _WHOLE else 0.0
    unknown = untold + _sum(parts, Standing.UNKNOWN)
    load = math.fsum(part.share / part.estimate for part in parts if part.estimate is not None)
    whole = 1.0 - unknown if unknown > UNKNOWN_COUNTS_ABOVE else 1.0
    estimate = whole / load if load > 0.0 else None
    return Screening(
        route=route,
        unit=unit_of(route),
        parts=tuple(parts),
        estimate=estimate,
        category=None if estimate is None else category_of(route, estimate),
        unknown=unknown,
        not_relevant=_sum(parts, Standing.NOT_RELEVANT),
        untold=untold,
    )


def _sum(parts: Sequence[Part], standing: Standing) -> float:
    return math.fsum(part.share for part in parts if part.standing is standing)
