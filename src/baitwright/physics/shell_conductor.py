"""How well moist shells conduct water while they shrink and swell with it."""

from __future__ import annotations

import numpy as np

from baitwright.physics.compact import compact_faces
from baitwright.physics.limits import Array, Values
from baitwright.physics.moist_shells import MoistShells
from baitwright.physics.radial_laws import Diffusivity, MoistureDiffusivity, face_means
from baitwright.physics.radial_march import Holdings
from baitwright.physics.shells import sphere_area, sphere_volume


def _faces(shells: MoistShells) -> Array:
    return np.vstack((shells.core_radius, shells.faces(shells.water_content)))


def shell_holdings(shells: MoistShells) -> Holdings:
    """What moist shells hold per water content.

    Parameters
    ----------
    shells: the shells at first [MoistShells]

    Returns
    -------
    Their solids, and the lag of the flows between them [Holdings]

    Notes
    -----
    Lags are volumes of the shells as they are at first, in solids; they change far less as the
    ball shrinks than the error they remove.
    """
    faces = _faces(shells)
    compact = compact_faces(faces)
    volumes = np.diff(sphere_volume(faces), axis=0)
    density = (shells.solids[:-1] + shells.solids[1:]) / (volumes[:-1] + volumes[1:])
    return Holdings(shells.solids, compact.lag_inside * density, compact.lag_outside * density)


class ShellConductor:
    """Water passed per difference of content at each cell's outer face [kg/s], at any level."""

    def __init__(self, shells: MoistShells, diffusivity: Diffusivity) -> None:
        self.shells, self.diffusivity = shells, diffusivity
        draws = shells.core_radius.shape
        pairs = shells.solids.copy()  # solids on both sides of each cell's outer face
        pairs[:-1] += shells.solids[1:]
        # Core, outer faces of the cells, and the surface again: a cell of no thickness beyond it.
        self.reach, self.cubes = np.empty((2, len(pairs) + 2, *draws))
        self.reach[0] = shells.core_radius
        self.cubes[0] = shells.core_radius**3
        # The middle-to-middle form below, made right for the sphere as it is at first.
        faces = _faces(shells)
        volumes = np.diff(sphere_volume(faces), axis=0)
        volumes[:-1] += volumes[1:]
        exact = compact_faces(faces).reach
        self.weights = exact / (volumes * self._form(shells.water_content)) * pairs

    def _form(self, content: Array) -> Array:
        """Squared radius of each face over thickness and volume of the cells around it [1/m2]."""
        reach, cubes = self.reach, self.cubes
        cubes[1:-1] = self.shells.cubes(content)
        cubes[-1] = cubes[-2]
        np.power(cubes[1:-1], 1.0 / 3.0, out=reach[1:-1])
        reach[-1] = reach[-2]
        form = cubes[2:] - cubes[:-2]
        form *= reach[2:] - reach[:-2]
        np.divide(reach[1:-1], form, out=form)
        form *= reach[1:-1]
        return np.asarray(form)

    def __call__(self, content: Array, temperature: Array) -> tuple[Array, Array]:
        """Conductances of the faces [kg/s] and the outer area [m2].

        At contents of the cells and the surface [kg/kg], which it may overwrite, and the
        temperature [K].
        """
        # An extrapolated content may fall below none; the solution itself cannot.
        np.maximum(content, 0.0, out=content)
        conductance = self._form(content[:-1])
        conductance *= self.weights
        conductance *= _means(self.diffusivity, temperature, content)
        return conductance, sphere_area(self.reach[-1])


def _means(diffusivity: Diffusivity, temperature: Array, content: Array) -> Values:
    """Mean diffusivity between neighbours, or one for all where the law does not ask how moist."""
    if isinstance(diffusivity, MoistureDiffusivity):
        if not np.any(diffusivity.steepness):
            return diffusivity.warmed(temperature)
        return face_means(diffusivity.by_content(), content) * diffusivity.warmed(temperature)
    ends = np.asarray(diffusivity(temperature, content))
    if ends.ndim < 2:
        return ends
    return face_means(lambda water: diffusivity(temperature, water), content)
