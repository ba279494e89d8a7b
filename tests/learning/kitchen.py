"""Readings of an invented batch, and invented predictions whose make-up is known exactly."""

from __future__ import annotations

import numpy as np

from baitwright.batch.prove import Measurement
from baitwright.learning.evidence import Taken
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, PerBatch, Quantity
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.spreads import Floats, Normal

MANY = Draws(batches=8192)


def noise(name: str, sd: float) -> Floats:
    return np.asarray(MANY.per_batch(name, Normal(0.0, sd)).values)


def factor(key: str, logs: Floats) -> Quantity:
    return quantity(f"factor:{key}", np.exp(logs), origin=Origin.FACTOR)


def quantity(
    name: str, values: object, *inputs: Quantity, origin: Origin = Origin.COMPUTED
) -> Quantity:
    return Quantity(
        name=name,
        label=name,
        value=PerBatch(values),
        unit="kg",
        shown="g",
        origin=origin,
        source="definition",
        evidence=Evidence.COMPUTED,
        inputs=tuple((part.name, part) for part in inputs),
    )


def taken(predicted: Quantity, reading: float, *, key: str, error: float = 0.01) -> Taken:
    measurement = Measurement(predicted.name, "Weigh it.", predicted, 1, key, "Copper")
    return Taken(measurement, reading, error)
