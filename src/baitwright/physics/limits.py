"""The range check every formula shares, and the kinds of value they take."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from baitwright.terms.errors import RangeError

Array: TypeAlias = NDArray[np.float64]
Values: TypeAlias = float | Array


def within(
    field: str, value: Values, *, low: float, high: float, unit: str = "", hint: str = ""
) -> Array:
    """The value as an array, once every element is known to lie between two limits.

    Parameters
    ----------
    field: the name to put in the message [text]
    value: number or array to check; NaN never passes [unit]
    low: smallest value accepted [unit]
    high: largest value accepted [unit]
    unit: unit of the value and both limits [text]
    hint: one more sentence for the message [text]

    Returns
    -------
    The same numbers as floats [unit]

    Raises
    ------
    RangeError: an element lies outside the limits or is not a number.
    """
    values = np.asarray(value, dtype=np.float64)
    outside = ~((values >= low) & (values <= high))
    if outside.any():
        worst = float(values[outside].flat[0])
        raise RangeError(field, worst, low=low, high=high, unit=unit, hint=hint)
    return values
