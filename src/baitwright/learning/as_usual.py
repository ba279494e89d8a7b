"""As usual? Where the next value of a steady kitchen should lie, by the few that it has told."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import fmean, variance

from baitwright.learning.update import with_batches
from baitwright.terms.band import Band
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor
from baitwright.uncertainty.special import student_quantile

STEADY, WORTH = 0.04, 4.0
"""How far batches of a steady kitchen differ, as a standard deviation of logs, and how many batches
that is worth (judgement); their own scatter takes over as they are told."""
_NO_CENTRE = 1e-6
"""The middle is that of the batches alone."""


def as_usual(values: Sequence[float], *, name: str, unit: str) -> Band:
    """Where the next batch should lie.

    Parameters
    ----------
    values: of batches like it, above nothing [unit]
    name, unit: of the band

    Returns
    -------
    The band of one more such batch [unit]

    Raises
    ------
    InputError: no values, or one that is not above nothing.

    Reference: hoff-2009, section 5.3.
    """
    if not values or min(values) <= 0.0:
        raise InputError(name, list(values), "one value at least, all above nothing")
    logs = [math.log(one) for one in values]
    mean, count = fmean(logs), len(logs)
    before = Factor(name, "", mean, _NO_CENTRE, WORTH, STEADY**2, "judgement")
    spread = variance(logs) if count > 1 else 0.0
    after = with_batches(before, mean=mean, variance=spread, count=count)
    return Band.of(
        name,
        unit,
        lambda share: math.exp(after.mu + after.scale * student_quantile(share, after.nu)),
    )
