"""What floats, what sinks and by how much: spheres, shells around cores, weights under water."""

from __future__ import annotations

import numpy as np

from baitwright.physics.constants import STANDARD_GRAVITY, STANDARD_PRESSURE
from baitwright.physics.limits import Array, Values, within
from baitwright.terms.errors import InputError, RangeError


def sphere_volume(diameter: Values) -> Values:
    """Volume of a sphere.

    Parameters
    ----------
    diameter: diameter, 0 to 1 [m]

    Returns
    -------
    Volume [m3]

    Raises
    ------
    RangeError: diameter outside these limits.

    Notes
    -----
    V = pi d^3 / 6.
    """
    return np.pi / 6.0 * within("sphere.diameter", diameter, low=0.0, high=1.0, unit="m") ** 3


def sphere_diameter(volume: Values) -> Values:
    """Diameter of a sphere of a given volume.

    Parameters
    ----------
    volume: volume, 0 to 0.5 [m3]

    Returns
    -------
    Diameter [m]

    Raises
    ------
    RangeError: volume outside these limits.
    """
    return np.cbrt(6.0 / np.pi * within("sphere.volume", volume, low=0.0, high=0.5, unit="m3"))


def shell_volume(diameter: Values, core_diameter: Values) -> Values:
    """Volume between a sphere's surface and a round core inside it.

    Parameters
    ----------
    diameter: outer diameter, 0 to 1 [m]
    core_diameter: diameter of the core, 0 to the outer diameter [m]

    Returns
    -------
    Volume of the shell [m3]

    Raises
    ------
    RangeError: a diameter outside these limits.
    """
    outer = within("sphere.diameter", diameter, low=0.0, high=1.0, unit="m")
    _core_within(core_diameter, outer)
    return sphere_volume(outer) - sphere_volume(core_diameter)


def lift(volume: Values, mass: Values, *, water_density: Values) -> Values:
    """Upward pull of a body under water, in the mass that would just hold it down.

    Parameters
    ----------
    volume: volume of water the body displaces [m3]
    mass: mass of the body in air [kg]
    water_density: density of the water [kg/m3]

    Returns
    -------
    Displaced water less the body's mass; negative for a body that sinks [kg]

    Raises
    ------
    RangeError: a negative volume or mass, or a water density outside 950 to 1100 kg/m3.

    Notes
    -----
    L = rho V - m. Air that the mass itself was weighed in is neglected: 0.0012 of the volume.
    """
    displaced = within("body.volume", volume, low=0.0, high=np.inf, unit="m3")
    weighed = within("body.mass", mass, low=0.0, high=np.inf, unit="kg")
    return _water(water_density) * displaced - weighed


def lift_force(lifted: Values) -> Values:
    """Force that a lift exerts.

    Parameters
    ----------
    lifted: lift as ``lift`` gives it, negative downward [kg]

    Returns
    -------
    Force at standard gravity, upward positive [N]
    """
    return STANDARD_GRAVITY * np.asarray(lifted, dtype=np.float64)


def cored_mass(
    diameter: Values, core_diameter: Values, *, shell_density: Values, core_density: Values
) -> Values:
    """Mass of a sphere with a round core of another material.

    Parameters
    ----------
    diameter: outer diameter, 0 to 1 [m]
    core_diameter: diameter of the core, 0 for none [m]
    shell_density: density of the shell [kg/m3]
    core_density: density of the core [kg/m3]

    Returns
    -------
    Mass [kg]

    Raises
    ------
    RangeError: a core larger than the sphere, or a density outside 1 to 25 000 kg/m3.
    """
    shell = _solid("shell.density", shell_density) * shell_volume(diameter, core_diameter)
    return shell + _solid("core.density", core_density) * sphere_volume(core_diameter)


def neutral_shell_density(
    diameter: Values, core_diameter: Values, *, core_density: Values, water_density: Values
) -> Values:
    """Density of the shell at which a cored sphere neither rises nor sinks.

    Parameters
    ----------
    diameter: outer diameter, 0 to 1 [m]
    core_diameter: diameter of the core, smaller than the outer one [m]
    core_density: density of the core [kg/m3]
    water_density: density of the water [kg/m3]

    Returns
    -------
    Density of the shell [kg/m3]

    Raises
    ------
    RangeError: a core larger than the sphere, or a density outside its limits.
    InputError: a core as large as the sphere.

    Notes
    -----
    rho_s = (rho_w V - rho_c V_c) / (V - V_c).
    """
    shell = np.asarray(shell_volume(diameter, core_diameter), dtype=np.float64)
    if not (shell > 0.0).all():
        raise InputError("core.diameter", "no shell", "a core smaller than the sphere")
    core = _solid("core.density", core_density) * sphere_volume(core_diameter)
    return (_water(water_density) * sphere_volume(diameter) - core) / shell


def neutral_core_diameter(
    diameter: Values,
    *,
    shell_density: Values,
    core_density: Values,
    water_density: Values,
    carried: Values = 0.0,
) -> Values:
    """Diameter of the core with which a sphere just carries a weight.

    Parameters
    ----------
    diameter: outer diameter, 0 to 1 [m]
    shell_density: density of the shell, greater than that of the core [kg/m3]
    core_density: density of the core [kg/m3]
    water_density: density of the water [kg/m3]
    carried: submerged mass to carry, 0 for the sphere alone; negative to sink by it [kg]

    Returns
    -------
    Diameter of the core; NaN where no core between none and the whole sphere does it [m]

    Raises
    ------
    RangeError: a density outside its limits.
    InputError: a shell no denser than its core.

    Notes
    -----
    V_c = ((rho_s - rho_w) V + W) / (rho_s - rho_c).
    """
    shell = _solid("shell.density", shell_density)
    core = _solid("core.density", core_density)
    if not (shell > core).all():
        raise InputError("shell.density", "no more than the core's", "a shell denser than its core")
    whole = sphere_volume(diameter)
    needed = ((shell - _water(water_density)) * whole + carried) / (shell - core)
    possible = (needed >= 0.0) & (needed <= whole)
    return np.cbrt(6.0 / np.pi * np.where(possible, needed, np.nan))


def submerged_mass(mass: Values, density: Values, *, water_density: Values) -> Values:
    """What a weight still weighs under water.

    Parameters
    ----------
    mass: mass in air [kg]
    density: density of its material [kg/m3]
    water_density: density of the water [kg/m3]

    Returns
    -------
    Apparent mass under water; negative for what floats [kg]

    Raises
    ------
    RangeError: a negative mass, or a density outside its limits.

    Notes
    -----
    m (1 - rho_w / rho), the negative of its lift.
    """
    weighed = within("body.mass", mass, low=0.0, high=np.inf, unit="kg")
    return weighed * (1.0 - _water(water_density) / _solid("body.density", density))


def volume_after_loss(
    volume: Values, water_lost: Values, *, shrinkage: Values, water_density: Values
) -> Values:
    """Volume of a body that has lost or taken up water.

    Parameters
    ----------
    volume: volume before [m3]
    water_lost: mass of water lost; negative for water taken up [kg]
    shrinkage: share of that water's volume by which the body shrinks or swells, 0 to 1 [m3/m3]
    water_density: density of the water [kg/m3]

    Returns
    -------
    Volume after [m3]

    Raises
    ------
    RangeError: shrinkage outside 0 to 1, or less volume left than none.
    """
    share = within("shrinkage", shrinkage, low=0.0, high=1.0)
    left = volume - share * water_lost / _water(water_density)
    return within("body.volume", left, low=0.0, high=np.inf, unit="m3")


def lift_gained(water_lost: Values, *, shrinkage: Values) -> Values:
    """How much lift a body gains by losing water.

    Parameters
    ----------
    water_lost: mass of water lost; negative for water taken up [kg]
    shrinkage: share of that water's volume by which the body shrinks or swells, 0 to 1 [m3/m3]

    Returns
    -------
    Lift gained; none under ideal shrinkage [kg]

    Raises
    ------
    RangeError: shrinkage outside 0 to 1.

    Notes
    -----
    (1 - shrinkage) dm: volume and mass both fall by the water lost, and only the part of it whose
    place is taken by air adds lift.
    """
    return (1.0 - within("shrinkage", shrinkage, low=0.0, high=1.0)) * water_lost


def flooding(
    void_volume: Values, time: Values, *, time_constant: Values, water_density: Values
) -> Values:
    """Lift lost while water finds its way into a body's air voids.

    Parameters
    ----------
    void_volume: volume of the voids that water can reach [m3]
    time: time under water, infinite for the end [s]
    time_constant: time in which 63 % of them fill [s]
    water_density: density of the water [kg/m3]

    Returns
    -------
    Lift lost by then [kg]

    Raises
    ------
    RangeError: a negative volume or time, or a time constant that is not positive.

    Notes
    -----
    rho V (1 - exp(-t / tau)).

    Reference: judgement; no published time constant was found.
    """
    voids = within("void.volume", void_volume, low=0.0, high=np.inf, unit="m3")
    elapsed = within("time", time, low=0.0, high=np.inf, unit="s")
    pace = within("time_constant", time_constant, low=1.0, high=1e9, unit="s")
    return _water(water_density) * voids * -np.expm1(-elapsed / pace)


def void_ratio(depth: Values, *, water_density: Values) -> Values:
    """Volume that air enclosed in a soft body keeps at a depth.

    Parameters
    ----------
    depth: depth below the surface, 0 to 100 [m]
    water_density: density of the water [kg/m3]

    Returns
    -------
    Volume there over the volume at the surface [m3/m3]

    Raises
    ------
    RangeError: depth or density outside these limits.

    Notes
    -----
    Boyle: p0 / (p0 + rho g h), for air that nothing holds open; stiff walls keep more.
    """
    metres = within("depth", depth, low=0.0, high=100.0, unit="m")
    pressure = _water(water_density) * STANDARD_GRAVITY * metres
    return STANDARD_PRESSURE / (STANDARD_PRESSURE + pressure)


def _water(density: Values) -> Array:
    return within("water.density", density, low=950.0, high=1100.0, unit="kg/m3")


def _solid(field: str, density: Values) -> Array:
    return within(field, density, low=1.0, high=25_000.0, unit="kg/m3")


def _core_within(core_diameter: Values, outer: Array) -> None:
    core, around = np.broadcast_arrays(np.asarray(core_diameter, dtype=np.float64), outer)
    wrong = ~((core >= 0.0) & (core <= around))
    if wrong.any():
        got, high = float(core[wrong].flat[0]), float(around[wrong].flat[0])
        raise RangeError("core.diameter", got, low=0.0, high=high, unit="m")
