"""From draws to bands, shares and rankings."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baitwright.terms.band import SHARES, Band
from baitwright.terms.quantity import Origin, PerBait, PerBatch, Quantity, unwrap
from baitwright.uncertainty.spreads import Floats


def band_of(quantity: Quantity) -> Band:
    """The band of a number: over batches, or over all baits where it varies in the tray."""
    value = unwrap(quantity.value)
    if not isinstance(value, np.ndarray):
        return Band.known(quantity.name, float(value), quantity.unit)
    return _band(quantity.name, quantity.unit, value.ravel())


def band_of_mean(quantity: Quantity) -> Band:
    """The band of the tray's mean: bait-to-bait scatter averaged out, batch doubt kept."""
    if not isinstance(quantity.value, PerBait):
        return band_of(quantity)
    means = quantity.value.values.mean(axis=1)
    return _band(f"mean_{quantity.name}", quantity.unit, means)


def _band(name: str, unit: str, values: Floats) -> Band:
    median, low50, high50, low80, high80, low95, high95 = quantiles(values, SHARES)
    return Band(name, unit, median, low50, high50, low80, high80, low95, high95, values.size)


def median_of(quantity: Quantity) -> float:
    """The middle of a number, as a float."""
    return band_of(quantity).median


def quantile_of(quantity: Quantity, probability: float) -> float:
    """The value below which the given share of draws lies."""
    value = unwrap(quantity.value)
    if not isinstance(value, np.ndarray):
        return float(value)
    return quantiles(value.ravel(), (probability,))[0]


def quantiles(values: Floats, probabilities: tuple[float, ...]) -> list[float]:
    """Linear quantiles that also stand infinite draws (`never`), which numpy turns into nan.

    Parameters
    ----------
    values: draws in one row.
    probabilities: shares of the draws that lie below each value wanted.
    """
    ordered = np.sort(values)
    places = np.asarray(probabilities) * (ordered.size - 1)
    below = np.floor(places).astype(int)
    above = np.ceil(places).astype(int)
    low, high = ordered[below], ordered[above]
    part = places - below
    with np.errstate(invalid="ignore"):
        between = np.where(part > 0, low + part * (high - low), low)
    return [float(v) for v in np.where(np.isinf(high) & (part > 0), high, between)]


@dataclass(frozen=True, slots=True)
class Mover:
    """One unknown behind a result, and the share of the result's spread that goes with it."""

    name: str
    label: str
    share: float


def movers_of(quantity: Quantity, *, most: int = 3) -> tuple[Mover, ...]:
    """The unknowns a result moves with most, by squared rank correlation over the same draws.

    Reference: saltelli-2008, section 1.2 (rank correlation as a first-order screen); it costs no
    further solves and is a ranking, not a full decomposition.
    """
    result = unwrap(quantity.value)
    if not isinstance(result, np.ndarray):
        return ()
    found: dict[str, Mover] = {}
    for part in quantity.walk():
        if part.origin is Origin.COMPUTED or not isinstance(part.value, PerBatch | PerBait):
            continue
        share = _rank_correlation(result, unwrap(part.value)) ** 2
        found[part.name + part.label] = Mover(part.name, part.label, share)
    ranked = sorted(found.values(), key=lambda mover: (-mover.share, mover.label))
    return tuple(mover for mover in ranked[:most] if mover.share >= 0.02)


def _rank_correlation(first: Floats, second: Floats) -> float:
    shape = np.broadcast_shapes(first.shape, second.shape)
    ranks = [
        np.argsort(np.argsort(np.broadcast_to(values, shape).ravel(), kind="stable")).astype(float)
        for values in (first, second)
    ]
    if first.min() == first.max() or second.min() == second.max():
        return 0.0
    return float(np.corrcoef(np.stack(ranks))[0, 1])
