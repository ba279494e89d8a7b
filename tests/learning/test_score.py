"""Scores: where a reading lies in its prediction, and how that is said."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.learning.score import score
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, PerBait, PerBatch, Quantity


def predicted(values: object, *, unit: str = "kg", shown: str = "g") -> Quantity:
    return Quantity(
        name="tub_used",
        label="tub before less tub after",
        value=values,
        unit=unit,
        shown=shown,
        origin=Origin.COMPUTED,
        source="definition",
        evidence=Evidence.COMPUTED,
    )


UNIFORM = predicted(PerBatch(np.linspace(0.2, 0.3, 1001)[:, None]))


@pytest.mark.parametrize(
    ("reading", "inside", "verdict"),
    [
        (0.250, 50, "inside"),
        (0.226, 50, "inside"),
        (0.224, 80, "inside"),
        (0.289, 80, "inside"),
        (0.291, 95, "just outside"),
        (0.2976, 0, "far outside"),
        (0.150, 0, "far outside"),
    ],
)
def test_the_narrowest_band_that_holds_it(reading: float, inside: int, verdict: str) -> None:
    found = score(UNIFORM, reading)
    assert (found.inside, found.verdict) == (inside, verdict)


def test_said_in_one_line() -> None:
    words = score(UNIFORM, 0.2445).words
    assert words == "predicted 210 g to 290 g, you weighed 244 g: inside"


@pytest.mark.parametrize(
    ("unit", "shown", "verb"),
    [("kg", "g", "weighed"), ("m3", "ml", "measured"), ("", "", "counted")],
)
def test_the_verb_follows_the_unit(unit: str, shown: str, verb: str) -> None:
    quantity = predicted(PerBatch(np.array([[1.0], [2.0]])), unit=unit, shown=shown)
    assert f"you {verb} " in score(quantity, 1.5).words


def test_what_was_measured_beforehand_is_not_scored() -> None:
    found = score(predicted(0.165), 0.166)
    assert found.band.is_known
    assert found.verdict == "nothing was predicted"
    assert found.words == "already known as 165 g, you weighed 166 g"


def test_single_baits_count_as_baits() -> None:
    baits = predicted(PerBait(np.array([[1.0, 3.0], [2.0, 4.0]])))
    assert score(baits, 2.5).percentile == 0.5


@given(st.floats(0.1, 0.4), st.floats(0.1, 0.4))
def test_a_larger_reading_never_lies_lower(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert score(UNIFORM, low).percentile <= score(UNIFORM, high).percentile


def test_a_reading_among_equal_draws_lies_in_their_middle() -> None:
    found = score(predicted(PerBatch(np.array([[1.0], [2.0], [2.0], [3.0]]))), 2.0)
    assert found.percentile == 0.5
