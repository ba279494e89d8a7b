"""What the readings of one batch, taken together, say of one factor.

The plan's own draws hold how every reading moves with every unknown. Regressing the logarithm of a
factor's draws on those of all readings at once tells two things: how far the readings point, and
how much of the factor they can see at all. Readings are taken together because they explain each
other: more egg in the bowl already explains more mix from the tub, and baits weighed fresh tell how
much of their weight at 8 h is drying.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from baitwright.batch.prove import Measurement
from baitwright.learning.plain_evidence import UNSEEN, WEIGHED, Evidence, evidence_in
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.spreads import Floats


@dataclass(frozen=True, slots=True)
class Taken:
    """A measurement that was taken, with its reading in SI and the reading's own relative error."""

    measurement: Measurement
    reading: float
    error: float = WEIGHED

    @property
    def log_ratio(self) -> float:
        """Logarithm of measured over predicted, at the prediction's middle."""
        return math.log(self.reading / median_of(self.measurement.predicted))


def evidence_for(key: str, taken: Sequence[Taken]) -> Evidence:
    """What readings say of a factor, from the draws behind their predictions.

    Parameters
    ----------
    key: of the factor.
    taken: all readings of the batch.

    Notes
    -----
    With f the factor's log draws and X those of the predictions, both about their means, and E
    the readings' own error variances: b = (X'X / n + E)^-1 X'f / n; shift = b . log ratios;
    share = b . (X'f / n) / var f; log ratio = shift / share. For one reading this is
    ln(measured / predicted) / elasticity, with the squared correlation as share.

    Reference: gelman-bda, section 3.5, conditional mean of a multivariate normal.
    """
    factor = _find(key, taken)
    usable = [one for one in taken if _is_positive(one.measurement.predicted)]
    if factor is None or not usable:
        return UNSEEN
    logs = [log_draws_of(one.measurement.predicted) for one in usable]
    shape = np.broadcast_shapes(factor.shape, *(values.shape for values in logs))
    x = np.stack([np.broadcast_to(values, shape).ravel() for values in logs], axis=1)
    f = np.broadcast_to(factor, shape).ravel()
    spread = x.T @ x / f.size + np.diag([one.error**2 for one in usable])
    moved, ratios = x.T @ f / f.size, [one.log_ratio for one in usable]
    return evidence_in(
        spread.tolist(), moved.tolist(), variance=float(np.mean(f * f)), ratios=ratios
    )


def _find(key: str, taken: Sequence[Taken]) -> Floats | None:
    """The log draws of a factor that stands behind a prediction, about their mean."""
    for one in taken:
        for part in one.measurement.predicted.walk():
            if part.name == f"factor:{key}":
                return log_draws_of(part)
    return None


def log_draws_of(quantity: Quantity) -> Floats:
    """The logarithms of a quantity's draws, about their mean."""
    logs = np.atleast_2d(np.log(np.asarray(unwrap(quantity.value), dtype=float)))
    return np.asarray(logs - logs.mean())


def _is_positive(quantity: Quantity) -> bool:
    return bool(np.all(np.asarray(unwrap(quantity.value)) > 0.0))
