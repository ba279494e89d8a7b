"""How much of what went wrong each number is to blame for, by what is known of the batch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

TROUBLE = 2.0
"""By how many of its standard deviations a sign is off when a maker complains (judgement)."""
_OWN = 0.3
"""Standard deviation of a sign about what its causes say, beside what they leave open."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """What is believed of each number after looking, in its own standard deviations.

    ``by_record`` is what readings alone say, ``in_all`` with the trouble itself beside them;
    ``spread`` is how far the sign lies open before anything is known, in its own unit.
    """

    by_record: Floats
    in_all: Floats
    spread: float


def weigh(sign: Floats, *, readings: Floats, off: Floats, noise: Floats, known: float) -> Weighed:
    """Blame by the conditional mean of a normal vector, each number moved alone.

    Parameters
    ----------
    sign: by how much each number, one deviation higher, moves the sign the wrong way [its unit]
    readings: the same of each reading, one row each [its unit]
    off: how far each reading lies from what was looked for [its unit]
    noise: standard deviation of each reading [its unit]
    known: what is known already to have moved the sign the wrong way [its unit]
    """
    by_record = _given(readings, off, noise)
    spread = float(np.linalg.norm(sign))
    if spread == 0.0:
        return Weighed(by_record, by_record, spread)
    rest = max(TROUBLE * spread - known, float(sign @ by_record))
    rows = np.vstack([readings, sign])
    told = np.append(off, rest)
    doubt = np.append(noise, _OWN * spread)
    return Weighed(by_record, _given(rows, told, doubt), spread)


def _given(rows: Floats, told: Floats, doubt: Floats) -> Floats:
    """The middle of independent standard normals, given sums of them that were seen."""
    if not len(rows):
        return np.zeros(rows.shape[1])
    seen = rows @ rows.T + np.diag(doubt**2)
    return np.asarray(rows.T @ np.linalg.solve(seen, told))
