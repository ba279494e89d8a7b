"""The radial transport engine: heat and moisture through balls with or without a core."""

from __future__ import annotations

from baitwright.physics.moist_shells import MoistBall, MoistShells
from baitwright.physics.moist_surface import AirLeg, MoistureLaws, WaterLeg
from baitwright.physics.radial_ball import Ball, Layer
from baitwright.physics.radial_heat import Bath, HeatRun, Leg, heat
from baitwright.physics.radial_moisture import MoistureRun, absorb, dry

__all__ = [
    "Ball",
    "Bath",
    "HeatRun",
    "Layer",
    "Leg",
    "heat",
    "AirLeg",
    "MoistBall",
    "MoistShells",
    "MoistureLaws",
    "MoistureRun",
    "WaterLeg",
    "absorb",
    "dry",
]
