"""The benchmark compares like with like: both sides reach the error they are timed at."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.ball_in_hot_water import ACCURACIES, Accuracy, Balls, exact, ours, peer


@pytest.mark.bench
@pytest.mark.parametrize("accuracy", ACCURACIES, ids=lambda accuracy: f"{accuracy.error:.0e}")
def test_both_sides_reach_the_error(accuracy: Accuracy) -> None:
    balls = Balls.drawn(16)
    truth = exact(balls)
    for side in (ours, peer):
        assert np.abs(side(balls, accuracy) - truth).max() <= accuracy.error
