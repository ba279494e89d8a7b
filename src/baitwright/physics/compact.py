"""Cells whose flows know how their neighbours change: fourth order from two neighbours alone.

What flows between the means of two cells is not only their difference: while the cells change, part
of it is still under way. Counting that part in makes a coarse cut as right as a fine one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baitwright.physics.limits import Array
from baitwright.physics.shells import sphere_volume


@dataclass(frozen=True, slots=True)
class CompactFaces:
    """What each face between cells, and the surface, contributes; arrays (faces, draws).

    Conductance per conductivity of each face from the innermost inner one out, the last from the
    outermost cell's mean to the surface [m]; volumes by which a flow lags behind the change of the
    cell inside and of the cell outside the face [m3].
    """

    reach: Array
    lag_inside: Array
    lag_outside: Array


def compact_faces(faces: Array) -> CompactFaces:
    """The faces of cells between these radii.

    Parameters
    ----------
    faces: radii of all faces from the wall out, (cells + 1, draws) [m]

    Returns
    -------
    What they contribute [CompactFaces]

    Notes
    -----
    Over two cells of volumes V and W, with x the volume beyond their face and hat = 1 - |x|/V:
    the means differ by the integral of hat Q/(k A^2) over volume, Q the flow, and
    Q = Q_f + x u' + x^2/2 du'/dx, u' the rate of change. The three moments of hat/(k A^2) then
    give Q_f from both means and their rates: the flow lags by them. At the surface the first
    moment is enough, since the cells are thinnest there.

    Reference: collatz-1960, ch. 3 (the flat, even case is his Mehrstellenverfahren).
    """
    volumes = np.diff(sphere_volume(faces), axis=0)
    inside = _moments(faces[1:], faces[:-1])
    outside = _moments(faces[1:-1], faces[2:])
    reach = inside[0]
    reach[:-1] += outside[0]
    np.reciprocal(reach, out=reach)
    shared = reach[:-1] / (volumes[:-1] + volumes[1:])
    first = (inside[1][:-1] + outside[1]) * shared
    second = (inside[2][:-1] + outside[2]) * (2.0 * shared)
    return CompactFaces(reach, first * volumes[1:] - second, first * volumes[:-1] + second)


def _moments(face: Array, far: Array) -> tuple[Array, Array, Array]:
    """Moments 0 to 2 of hat/A^2 in the volume beyond the face, over the cell up to the far one.

    The integrals of (far^3 - r^3)(r^3 - face^3)^k / r^2, divided by what they share.
    """
    depth, span, product = far - face, far + face, far * face
    far_square, square = far * far, face * face
    squares = far_square + square
    share = depth / (squares + product)
    zeroth = share * (span + far) / face * (1.0 / (8.0 * np.pi))
    share *= depth
    first = share * (squares + 3.0 * product) * 0.1
    share *= depth * (np.pi / 60.0)
    quartic = far_square * (far_square + 4.0 * product)
    quartic += square * (10.0 * far_square + 12.0 * product + 3.0 * square)
    second = share * quartic
    if depth[-1, 0] < 0.0:  # the cell inside the face, run through the other way
        return -zeroth, -first, -second
    return zeroth, first, second


def wall_weights(faces: Array) -> Array:
    """Weights of the two innermost cells' means in the value at the wall.

    Parameters
    ----------
    faces: radii of all faces from the wall out, (cells + 1, draws) [m]

    Returns
    -------
    Weights, (2, draws) [1]

    Notes
    -----
    A parabola that is level at the wall, through both means.
    """
    wall = faces[0]
    near, far = faces[1] - wall, faces[2] - wall
    inner, both = _square_moment(wall, near), _square_moment(wall, far)
    volume, whole = faces[1] ** 3 - wall**3, faces[2] ** 3 - wall**3
    first, second = 3.0 * inner / volume, 3.0 * (both - inner) / (whole - volume)
    return np.asarray(np.array([second, -first]) / (second - first))


def _square_moment(wall: Array, depth: Array) -> Array:
    """Integral of r^2 (r - wall)^2 from the wall to a depth beyond it."""
    return np.asarray(depth**3 * (depth**2 / 5.0 + wall * depth / 2.0 + wall**2 / 3.0))
