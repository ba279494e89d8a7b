"""The radial transport engine: heat and matter through balls with or without a core.

``transport`` is its one interface: it picks the exact modes of one layer or two where properties
are constant, and finite volumes where conductivity follows the value. ``heat`` speaks in
temperatures and knows a finite bath; ``dry`` and ``absorb`` follow a ball that shrinks and swells.
"""

from __future__ import annotations

from baitwright.physics.compiled import Backend
from baitwright.physics.moist_shells import MoistBall, MoistShells
from baitwright.physics.moist_surface import AirLeg, MoistureLaws, WaterLeg
from baitwright.physics.radial_ball import Ball, Layer
from baitwright.physics.radial_heat import heat
from baitwright.physics.radial_laws import ExponentialLaw, MoistureDiffusivity
from baitwright.physics.radial_legs import Bath, HeatHow, HeatRun, Leg
from baitwright.physics.radial_moisture import MoistureRun, absorb, dry
from baitwright.physics.radial_problem import How, Medium, Method, Sphere, Standing, Stretch
from baitwright.physics.radial_transport import Transported, transport

__all__ = [
    "transport",
    "Sphere",
    "Medium",
    "ExponentialLaw",
    "Stretch",
    "How",
    "Method",
    "Backend",
    "Standing",
    "Transported",
    "Ball",
    "Bath",
    "HeatHow",
    "HeatRun",
    "Layer",
    "Leg",
    "heat",
    "AirLeg",
    "MoistBall",
    "MoistShells",
    "MoistureDiffusivity",
    "MoistureLaws",
    "MoistureRun",
    "WaterLeg",
    "absorb",
    "dry",
]
