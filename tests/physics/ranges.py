"""A number with its limits, and the two tests that every such number passes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from baitwright.terms.errors import RangeError


@dataclass(frozen=True)
class Ranged:
    """A function, arguments it takes, and one of them with the range documented for it.

    Where an end by itself cannot be had, ``inside`` says what is taken instead of both ends; where
    another limit is met first, ``outside`` says what is refused.
    """

    function: Callable[..., Any]
    good: dict[str, Any]
    argument: str
    field: str
    low: float
    high: float
    unit: str = ""
    hint: str = ""
    inside: tuple[float, ...] | None = None
    outside: tuple[float, ...] | None = None

    def __str__(self) -> str:
        return f"{self.function.__name__}-{self.argument}"

    def called(self, value: float) -> Any:
        return self.function(**{**self.good, self.argument: value})

    def taken(self) -> tuple[float, ...]:
        """What is inside: the ends themselves, as far as they are numbers."""
        ends = (self.low, self.high)
        return tuple(filter(np.isfinite, ends)) if self.inside is None else self.inside

    def refused(self) -> tuple[float, ...]:
        """What is outside: the next number beyond each end, and what is no number at all."""
        if self.outside is not None:
            return self.outside
        beyond = [np.nan]
        if np.isfinite(self.low):
            beyond.append(float(np.nextafter(self.low, -np.inf)))
        if np.isfinite(self.high):
            beyond.append(float(np.nextafter(self.high, np.inf)))
        return tuple(beyond)


def of(function: Callable[..., Any], good: dict[str, Any], *rows: tuple[Any, ...]) -> list[Ranged]:
    return [Ranged(function, good, *row) for row in rows]


class Limits:
    """The tests, for a class with a table of its own: both ends inside, all beyond told exactly."""

    def test_its_ends_are_inside(self, ranged: Ranged) -> None:
        assert ranged.taken()
        for value in ranged.taken():
            ranged.called(value)

    def test_just_beyond_is_refused_by_name(self, ranged: Ranged) -> None:
        assert ranged.refused()
        for beyond in ranged.refused():
            with pytest.raises(RangeError) as refused:
                ranged.called(beyond)
            error = refused.value
            assert error.field == ranged.field
            assert (error.low, error.high, error.unit) == (ranged.low, ranged.high, ranged.unit)
            assert error.hint == ranged.hint
            assert ranged.hint in str(error)
            assert error.got == pytest.approx(beyond, rel=0.0, abs=0.0, nan_ok=True)
