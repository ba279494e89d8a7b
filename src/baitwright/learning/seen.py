"""How far a belief drawn anew has seen a factor, and how that moves it for batches to come."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from baitwright.learning.plain_evidence import ABSURD, LITTLE
from baitwright.learning.propose import MAKER, Proposal, TellsLittle
from baitwright.learning.update import with_one_batch
from baitwright.materials.factors import factor_priors
from baitwright.quantities import show, tidy
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor
from baitwright.uncertainty.importance import weighted_quantiles
from baitwright.uncertainty.spreads import Floats

_NEXT_TO_NOTHING = 0.005


@dataclass(frozen=True, slots=True)
class Log:
    """A factor's logarithm as weighted values; the weights add up to 1."""

    values: Floats
    weights: Floats


@dataclass(frozen=True, slots=True)
class Seen:
    """The share of a factor's spread that a test took away, and where its middle lies after it."""

    share: float
    middle: float

    @classmethod
    def between(cls, before: Log, after: Log) -> Seen:
        """From the belief before the test to that after it."""
        old, new = (
            weighted_quantiles(one.values, one.weights, (0.1, 0.5, 0.9)) for one in (before, after)
        )
        return cls(
            share=max(0.0, 1.0 - float((new[2] - new[0]) / (old[2] - old[0])) ** 2),
            middle=float(new[1]),
        )


def moved_by(seen: Seen, about: str, *, planned: Factor, today: Factor) -> Proposal | TellsLittle:
    """A factor moved as far as a test saw it, or named among those it hardly sees.

    Parameters
    ----------
    seen: what the test says of it.
    about: what it speaks of, such as a base mix.
    planned: as the plan held it.
    today: as it is to be moved on from.
    """
    if seen.share < LITTLE:
        return TellsLittle(planned.key, about, seen.share, _little_words(seen, planned))
    # The belief's middle moved by share x (log ratio - mu).
    log_ratio = planned.mu + (seen.middle - planned.mu) / seen.share
    own = replace(today, about=about, source=MAKER)
    moved = with_one_batch(own, log_ratio=log_ratio, share=seen.share)
    return Proposal(today, moved, seen.share, log_ratio)


def refuse_absurd(field: str, mass: float, expected: float) -> None:
    """Refuse a weight [kg] that can only be a slip of the unit.

    Raises
    ------
    InputError: a tenth of what is expected, or ten times as much.
    """
    if not 1.0 / ABSURD < mass / expected < ABSURD:
        accepted = f"something near the {show(expected, 'g')} planned"
        raise InputError(field, show(mass, "g"), accepted, hint="Check the unit.")


def _little_words(seen: Seen, planned: Factor) -> str:
    """Why a factor is left alone, and what would teach it."""
    row = factor_priors()[planned.key]
    told = f"tells {tidy(100.0 * seen.share, 2)} % of what is not known of it"
    if abs(seen.middle - planned.mu) > planned.scale:
        told = f"points to {math.exp(seen.middle):.2f} times the table, but not how far"
    elif seen.share < _NEXT_TO_NOTHING:
        told = "tells nothing of it"
    return f"{row.label}: the test {told}. What would tell: {row.measurement}."
