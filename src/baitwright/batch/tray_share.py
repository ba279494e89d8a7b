"""How many of a tray will not do what is wanted: batches differ, and baits within them."""

from __future__ import annotations

from statistics import NormalDist
from typing import Any

import numpy as np

from baitwright.batch.target import Target
from baitwright.terms.quantity import declared

TRAY = 50
"""Baits of the tray that is told of."""
_LEAST = 1e-9
"""Scatter of baits that are all alike, kg: nothing to divide by."""
_below = np.frompyfunc(NormalDist().cdf, 1, 1)


@declared(
    "misfits",
    label=f"of a tray of {TRAY} do not",
    equation="50 (1 - share of a normal scatter about the batch's middle within limits), whole",
    source="common-practice",
    note="size and core differ from ball to ball; the band is of batches like this one",
)
def misfits(lift: Any, taken: Any, target: Target) -> Any:
    """Baits of a tray whose lift, alone or on the rig, lies outside the limits; batch by batch.

    The scatter within a tray is pooled over batches. A few baits imagined of each leave its middle
    unsure by scatter / sqrt(baits); the middles are drawn together by as much, so that batches
    differ no more than they do.
    """
    lifts = np.atleast_2d(lift)
    baits = lifts.shape[1]
    middle = lifts.mean(axis=1, keepdims=True)
    within = float(lifts.var(axis=1, ddof=1).mean()) if baits > 1 else 0.0
    between = float(middle.var())
    kept = max(between - within / baits, 0.0) / between if between > 0.0 else 0.0
    middle = middle.mean() + np.sqrt(kept) * (middle - middle.mean())
    rig = np.atleast_2d(taken).mean(axis=1, keepdims=True)
    low = np.maximum(target.alone.low, target.rig.low + rig)
    high = np.minimum(target.alone.high, target.rig.high + rig)
    scatter = max(np.sqrt(within), _LEAST)
    share = _share_below((high - middle) / scatter) - _share_below((low - middle) / scatter)
    return np.rint(TRAY * (1.0 - np.maximum(share, 0.0)))


def _share_below(distance: Any) -> Any:
    return np.asarray(_below(np.clip(distance, -40.0, 40.0)), dtype=float)
