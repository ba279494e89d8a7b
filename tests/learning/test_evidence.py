"""What readings say of a factor, on predictions whose make-up is known exactly."""

from __future__ import annotations

import math

import numpy as np
import pytest

from baitwright.learning.evidence import evidence_for
from baitwright.terms.quantity import Quantity
from tests.learning.kitchen import factor, noise, quantity, taken

SPREAD = 0.12
FACTOR = noise("factor", SPREAD)


def weighed(elasticity: float, other: float) -> Quantity:
    """0.25 kg times the factor to a power, blurred by something else."""
    logs = math.log(0.25) + elasticity * FACTOR + noise("other", other)
    return quantity("tub_used", np.exp(logs), factor("dry_mix_per_egg", FACTOR))


@pytest.mark.parametrize("elasticity", [1.0, 0.5, -0.8, 2.0])
@pytest.mark.parametrize("other", [0.0, 0.05, 0.2])
def test_one_reading_points_by_its_elasticity(elasticity: float, other: float) -> None:
    reading = taken(weighed(elasticity, other), 0.275, key="dry_mix_per_egg", error=1e-6)
    found = evidence_for("dry_mix_per_egg", [reading])
    seen = (elasticity * SPREAD) ** 2
    assert found.share == pytest.approx(seen / (seen + other**2), abs=0.02)
    assert found.log_ratio == pytest.approx(reading.log_ratio / elasticity, rel=0.05)


def test_the_readings_own_error_takes_from_its_share() -> None:
    exact = taken(weighed(1.0, 0.0), 0.275, key="dry_mix_per_egg", error=1e-6)
    rough = taken(weighed(1.0, 0.0), 0.275, key="dry_mix_per_egg", error=SPREAD)
    assert evidence_for("dry_mix_per_egg", [exact]).share == pytest.approx(1.0, abs=1e-6)
    assert evidence_for("dry_mix_per_egg", [rough]).share == pytest.approx(0.5, abs=0.01)


def test_the_same_reading_twice_is_no_second_batch() -> None:
    once = [taken(weighed(1.0, 0.1), 0.275, key="dry_mix_per_egg")]
    first, second = (evidence_for("dry_mix_per_egg", once * n) for n in (1, 2))
    assert second.share == pytest.approx(first.share, rel=0.01)
    assert second.log_ratio == pytest.approx(first.log_ratio, rel=0.01)


def test_what_another_reading_explains_is_not_learned_again() -> None:
    """More egg in the bowl takes more mix; weighed egg leaves the factor alone."""
    egg = noise("egg", 0.05)
    in_bowl = quantity("egg_in_bowl", 0.17 * np.exp(egg))
    tub = quantity("tub_used", 0.25 * np.exp(FACTOR + egg), factor("dry_mix_per_egg", FACTOR))
    more_egg = taken(in_bowl, 0.17 * 1.1, key="egg_volume", error=1e-4)
    more_mix = taken(tub, 0.25 * 1.1, key="dry_mix_per_egg", error=1e-4)
    alone = evidence_for("dry_mix_per_egg", [more_mix])
    both = evidence_for("dry_mix_per_egg", [more_egg, more_mix])
    assert alone.log_ratio == pytest.approx(math.log(1.1), rel=0.05)
    assert both.log_ratio == pytest.approx(0.0, abs=1e-3)
    assert both.share > 0.99 > alone.share


def test_a_difference_tells_what_neither_weight_tells() -> None:
    """Twenty baits fresh and at 8 h: their sizes cancel and the drying is left."""
    size, drying = noise("size", 0.10), noise("drying", 0.30)
    fresh = quantity("twenty_fresh", 0.033 * np.exp(size))
    late = quantity("twenty_at_8h", 0.028 * np.exp(size - 0.1 * drying), factor("drying", drying))
    readings = [taken(fresh, 0.033, key="paste_density"), taken(late, 0.027, key="drying")]
    assert evidence_for("drying", readings[1:]).share < 0.15
    assert evidence_for("drying", readings).share > 0.7


def test_a_factor_that_had_no_part_is_not_seen() -> None:
    reading = taken(weighed(1.0, 0.0), 0.275, key="dry_mix_per_egg")
    assert evidence_for("drying", [reading]).log_ratio is None


def test_no_elasticity_no_share() -> None:
    found = evidence_for("dry_mix_per_egg", [taken(weighed(0.0, 0.1), 0.275, key="drying")])
    assert found.share < 0.01


def test_a_known_prediction_says_nothing() -> None:
    known = quantity("egg_in_bowl", np.full((8192, 1), 0.17), factor("egg_volume", FACTOR))
    found = evidence_for("egg_volume", [taken(known, 0.18, key="egg_volume")])
    assert found.log_ratio is None


def test_a_prediction_that_may_be_nothing_is_left_out() -> None:
    """A logarithm needs something to be weighed in every draw."""
    values = np.exp(FACTOR)
    values[0] = 0.0
    empty = quantity("tub_left", values, factor("dry_mix_per_egg", FACTOR))
    assert evidence_for("dry_mix_per_egg", [taken(empty, 0.1, key="x")]).log_ratio is None
