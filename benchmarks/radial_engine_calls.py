"""The engine's call that the benchmark times, free of what only the peers need."""

from __future__ import annotations

from baitwright.physics.compiled import Backend
from baitwright.physics.radial import (
    ExponentialLaw,
    How,
    Medium,
    Sphere,
    Stretch,
    Transported,
    transport,
)
from benchmarks.balls import Array, Balls


def ours(balls: Balls, backend: Backend | None) -> Transported:
    """The engine, all balls at once."""
    law: ExponentialLaw | Array = balls.diffusivity
    if balls.steepness.any():
        law = ExponentialLaw(balls.diffusivity, balls.steepness, 1.0)
    return transport(
        Sphere(balls.outer, balls.core, Medium(law)),
        [Stretch(balls.duration, 0.0, balls.film)],
        start=1.0,
        times=balls.times,
        how=How(backend=backend),
    )
