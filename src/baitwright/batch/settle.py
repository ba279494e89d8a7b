"""How fast the rig sinks or rises, when it comes to rest, and how far a current takes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.physics import buoyancy, settling, water
from baitwright.terms.errors import RangeError
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import PERCENT, SECONDS, Unit
from baitwright.uncertainty.bands import median_of

METRES_PER_SECOND = Unit("m/s", "m/s")


@declared(
    "water_viscosity",
    label="viscosity of the water",
    unit=Unit("Pa s", "mPa s"),
    equation="viscosity of fresh water at the lake's temperature",
    source="iapws-sr6-08",
)
def water_viscosity(temperature: Any) -> Any:
    """Dynamic viscosity of the lake's water."""
    return water.viscosity(temperature)


@declared(
    "sinking_speed",
    label="sinks at",
    unit=METRES_PER_SECOND,
    equation="v = (4 g D |drho| / (3 C rho))^(1/2), below nothing for what rises",
    source="haider-levenspiel-1989",
    note="as a ball in still water; what rises does so by karamanev-1992, perhaps a third faster",
)
def sinking_speed(diameter: Any, net: Any, water_density: Any, viscosity: Any) -> Any:
    """Speed downward; each draw by the law for the side of neutral it lies on."""
    diameter, net = np.broadcast_arrays(
        np.asarray(diameter, dtype=np.float64), np.asarray(net, dtype=np.float64)
    )
    difference = -net / buoyancy.sphere_volume(diameter)
    around = {"water_density": water_density, "water_viscosity": viscosity}
    down = settling.terminal_velocity(diameter, np.maximum(difference, 0.0), **around)
    up = settling.rising_velocity(diameter, np.maximum(-difference, 0.0), **around).slow
    return np.where(difference >= 0.0, down, -np.asarray(up))


@declared(
    "settle_time",
    label="on the bottom after",
    unit=SECONDS,
    equation="time = depth / speed, never for what does not sink",
    source="definition",
    note="the fall to full speed takes well under a second",
)
def settle_time(depth: Any, speed: Any) -> Any:
    """How long the way down takes."""
    speed = np.asarray(speed, dtype=np.float64)
    return np.where(speed > 0.0, depth / np.where(speed > 0.0, speed, 1.0), np.inf)


@declared(
    "sinking_share",
    label="baits that sink on this rig",
    unit=PERCENT,
    equation="share of draws with a speed downward",
    source="definition",
)
def sinking_share(speed: Any) -> float:
    """The share of baits that go down at all."""
    return float(np.mean(np.asarray(speed) > 0.0))


@dataclass(frozen=True, slots=True)
class SettleStage:
    """Speed downward, the share that sinks, the way to the bottom, and what to keep in mind."""

    speed: Quantity
    sinks: Quantity
    time: Quantity
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Sphere:
    """A ball that sinks or rises: its diameter, and its net lift with all that hangs on it."""

    diameter: Quantity
    net: Quantity


def settle(
    ball: Sphere,
    *,
    depth: Quantity,
    temperature: Quantity,
    water_density: Quantity,
    current: float | None = None,
) -> SettleStage:
    """Let a bait with its rig go at the surface.

    Raises
    ------
    RangeError: a negative current, or a speed beyond the drag law.
    """
    speed = sinking_speed(
        diameter=ball.diameter,
        net=ball.net,
        water_density=water_density,
        viscosity=water_viscosity(temperature=temperature),
    )
    time = settle_time(depth=depth, speed=speed)
    return SettleStage(speed, sinking_share(speed=speed), time, _on_current(time, current))


def _on_current(time: Quantity, current: float | None) -> tuple[Note, ...]:
    if current is None:
        return ()
    if not 0.0 <= current <= 3.0:
        raise RangeError("current", current, low=0.0, high=3.0, unit="m/s")
    middle = median_of(time)
    if not np.isfinite(middle):
        text = "A current leans a bait that rises: it stands lower the less lift is left over."
    else:
        text = (
            f"While it sinks, a current of {current:g} m/s carries it some {current * middle:.1f} m"
            " along, if the lead does not hold it."
        )
    return (Note("balance", text, "definition"),)


def at_depth(depth: float) -> Quantity:
    """A depth as the maker gave it [m]."""
    return given("settle_depth", depth, label="depth to fall", unit=Unit("m", "m"))
