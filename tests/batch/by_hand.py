"""Formulas beside what they come to on round figures, worked out by hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from baitwright.terms.quantity import Declared

Row = tuple[Declared, dict[str, Any], Any]


def names(rows: Sequence[Row]) -> list[str]:
    """What each row's test is called."""
    return [f"{made.name}-{at}" for at, (made, _, _) in enumerate(rows)]


def check(made: Declared, inputs: dict[str, Any], expected: Any) -> None:
    """The formula comes to what is expected; one figure may stand for all of many."""
    found = np.asarray(made.function(**inputs), dtype=float)
    wanted = np.asarray(expected, dtype=float)
    np.testing.assert_allclose(found, np.broadcast_to(wanted, found.shape), rtol=1e-9, atol=1e-12)
