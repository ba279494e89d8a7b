"""The radial transport engine: heat and moisture through balls with or without a core."""

from __future__ import annotations

from baitwright.physics.radial_ball import Ball, Layer
from baitwright.physics.radial_heat import Bath, HeatRun, Leg, heat

__all__ = ["Ball", "Bath", "HeatRun", "Layer", "Leg", "heat"]
