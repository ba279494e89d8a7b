"""A ball cut into shells: materials, radii, and the capacities and conductances between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.shells import shell_faces, sphere_area, sphere_volume

# Cells in (core, shell). With these the wall keeps within 0.02 K of the exact series for a step
# of 80 K at the surface; the error falls with the square of the number.
CORED_CELLS = (8, 36)
SOLID_CELLS = (0, 52)


@dataclass(frozen=True, slots=True)
class Layer:
    """A material: conductivity [W/m/K], density [kg/m3], heat capacity [J/kg/K]."""

    conductivity: Values
    density: Values
    heat_capacity: Values


@dataclass(frozen=True, slots=True)
class Ball:
    """A ball: radii [m]; a core radius of 0 is a solid ball, a core of ``None`` lets no heat in."""

    outer_radius: Values
    core_radius: Values
    shell: Layer
    core: Layer | None = None


@dataclass(frozen=True, slots=True)
class CutBall:
    """A ball cut into cells, from the centre outward; arrays are (cells, draws) or (draws,).

    Radii of the faces and of the cells' middles [m], their heat capacities [J/K], conductances
    between neighbours [W/K] and of the outermost half cell, the ``skin`` [W/K]; outer area [m2];
    weights of the shell's cells in its mean; cells and weights that make the wall's temperature;
    how many cells are core.
    """

    faces: Array
    radii: Array
    capacity: Array
    conductance: Array
    skin: Array
    area: Array
    mean_weights: Array
    wall_cells: tuple[int, ...]
    wall_weights: Array
    core_cells: int


def ball_values(ball: Ball) -> list[Values]:
    """Everything about a ball that may be one number per draw [unit]."""
    layers = [ball.shell] if ball.core is None else [ball.shell, ball.core]
    properties = [
        value for one in layers for value in (one.conductivity, one.density, one.heat_capacity)
    ]
    return [ball.outer_radius, ball.core_radius, *properties]


def cut_ball(ball: Ball, shape: tuple[int, ...], *, cells: tuple[int, int] | None) -> CutBall:
    """Cut a ball into uniform cells, so many in its core and so many in its shell.

    Parameters
    ----------
    ball: radii and materials, numbers or one per draw [Ball]
    shape: the shape of the draws, (n,) [1]
    cells: number of cells in the core and in the shell, chosen to suit where not given [1]

    Returns
    -------
    The cells [CutBall]

    Raises
    ------
    RangeError: a radius or property is not possible, or balls with and without a core are mixed.

    Notes
    -----
    Conductance across a face: its area over the two half cells' thickness over conductivity. This
    is exact for the parabola in the centre, where resistances of spherical layers are not.
    """
    outer, inner = _radii(ball, shape)
    solid = bool((inner == 0.0).all())
    core_cells, shell_cells = cells or (SOLID_CELLS if solid else CORED_CELLS)
    core = None if solid else ball.core
    within("cells", float(shell_cells), low=3, high=10_000)
    faces = shell_faces(inner, outer, cells=shell_cells)
    conductivity, volumetric = _spread("shell", ball.shell, (shell_cells, *shape))
    if core is None:
        core_cells = 0
    else:
        within("cells", float(core_cells), low=3, high=10_000)
        inside = shell_faces(np.zeros_like(inner), inner, cells=core_cells)
        faces = np.concatenate((inside[:-1], faces))
        inner_k, inner_c = _spread("core", core, (core_cells, *shape))
        conductivity = np.concatenate((inner_k, conductivity))
        volumetric = np.concatenate((inner_c, volumetric))
    radii = 0.5 * (faces[1:] + faces[:-1])
    volumes = np.diff(sphere_volume(faces), axis=0)
    half = 0.5 * np.diff(faces, axis=0) / conductivity
    shell = volumes[core_cells:]
    wall_cells, wall_weights = _wall(np.abs(radii - inner), conductivity, core_cells)
    return CutBall(
        faces=faces,
        radii=radii,
        capacity=volumetric * volumes,
        conductance=sphere_area(faces[1:-1]) / (half[1:] + half[:-1]),
        skin=sphere_area(faces[-1]) / half[-1],
        area=sphere_area(faces[-1]),
        mean_weights=shell / shell.sum(axis=0),
        wall_cells=wall_cells,
        wall_weights=wall_weights,
        core_cells=core_cells,
    )


def _radii(ball: Ball, shape: tuple[int, ...]) -> tuple[Array, Array]:
    outer = within("ball.outer_radius", ball.outer_radius, low=1e-5, high=1.0, unit="m")
    inner = within("ball.core_radius", ball.core_radius, low=0.0, high=1.0, unit="m")
    outer, inner = np.broadcast_to(outer, shape), np.broadcast_to(inner, shape)
    within("ball.core_radius / ball.outer_radius", inner / outer, low=0.0, high=0.999)
    if (inner == 0.0).any():
        hint = "Balls with and without a core need a call each."
        within("ball.core_radius", inner, low=0.0, high=0.0, unit="m", hint=hint)
    return outer, inner


def _spread(name: str, layer: Layer, shape: tuple[int, ...]) -> tuple[Array, Array]:
    """Conductivity [W/m/K] and volumetric heat capacity [J/m3/K] in every cell of a layer."""
    k = within(f"{name}.conductivity", layer.conductivity, low=1e-6, high=1e4, unit="W/m/K")
    rho = within(f"{name}.density", layer.density, low=0.1, high=3e4, unit="kg/m3")
    c = within(f"{name}.heat_capacity", layer.heat_capacity, low=10.0, high=1e5, unit="J/kg/K")
    return np.broadcast_to(k, shape), np.broadcast_to(rho * c, shape)


def _wall(distance: Array, conductivity: Array, core_cells: int) -> tuple[tuple[int, ...], Array]:
    """Cells and weights that give the temperature at the wall.

    Parabolas through the wall and the two nearest cells on each side leave no heat at the wall;
    where no core conducts, or in the centre, the one parabola there is starts level.
    """
    nearest = [(core_cells, core_cells + 1)]
    if core_cells:
        nearest.append((core_cells - 1, core_cells - 2))
    weights: list[Array] = []
    for first, second in nearest:
        near, far = distance[first], distance[second]
        weights.append(conductivity[first] * far / (near * (far - near)))
        weights.append(-conductivity[first] * near / (far * (far - near)))
    stacked = np.array(weights)
    return tuple(cell for pair in nearest for cell in pair), stacked / stacked.sum(axis=0)
