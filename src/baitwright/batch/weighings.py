"""What weighings would settle: how much of a band goes away once readings are in."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from baitwright.batch.prove import Measurement
from baitwright.batch.tray_air import HORIZON
from baitwright.physics.limits import Array
from baitwright.quantities import percent
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, unwrap

_PAIR = ("twenty_fresh", "twenty_at_8h")
_WEIGHED = 0.01
"""Relative standard uncertainty of a kitchen scale's reading (judgement)."""
_WORTH_SAYING = 0.05


def on_weighing(readings: Sequence[Measurement], ready: Quantity) -> list[Note]:
    """What twenty baits weighed fresh and after 8 h would tell of when they are ready."""
    pair = [one.predicted for one in readings if one.name in _PAIR]
    times = np.asarray(unwrap(ready.value), dtype=float)
    if len(pair) != len(_PAIR) or np.median(times) >= HORIZON:
        return []
    removed = band_removed(pair, np.minimum(times, HORIZON))
    if removed < _WORTH_SAYING:
        return []
    text = (
        "Twenty baits weighed fresh and again after 8 h would take away about "
        f"{percent(removed)} of the width of the band of when they are ready. What is left is how "
        "baits differ, and what the two weights cannot tell apart."
    )
    return [Note("dry", text, "gelman-bda")]


def band_removed(readings: Sequence[Quantity], result: Array, *, error: float = _WEIGHED) -> float:
    """Share of the width of a result's band that readings taken together would remove.

    Parameters
    ----------
    readings: as predicted, draw by draw
    result: draws of the same batches, shape (batches, baits) or (batches, 1) [unit]
    error: relative standard uncertainty of each reading [1]

    Returns
    -------
    1 - sqrt(1 - R2), with R2 the share of the variance of the result, or of its logarithm where all
    of it is above nothing, that a straight line in the readings' logarithms explains [1]

    Reference: gelman-bda, section 3.5, conditional mean of a multivariate normal.
    """
    wanted = _about_mean(result) if np.all(result > 0.0) else result - np.mean(result)
    seen = [_about_mean(np.asarray(unwrap(one.value), dtype=float)) for one in readings]
    shape = np.broadcast_shapes(wanted.shape, *(values.shape for values in seen))
    y = np.broadcast_to(wanted, shape).ravel()
    variance = float(np.mean(y * y))
    if variance == 0.0:
        return 0.0
    x = np.stack([np.broadcast_to(values, shape).ravel() for values in seen], axis=1)
    moved = x.T @ y / y.size
    spread = x.T @ x / y.size + error**2 * np.eye(len(seen))
    explained = float(moved @ np.linalg.solve(spread, moved)) / variance
    return 1.0 - float(np.sqrt(max(0.0, 1.0 - explained)))


def _about_mean(values: Array) -> Array:
    logs = np.atleast_2d(np.log(values))
    return np.asarray(logs - logs.mean())
