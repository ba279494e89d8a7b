"""A ball of moist solids cut into shells that shrink and swell with the water in them."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from itertools import pairwise

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.shells import shell_faces, sphere_volume

CELLS = 28
"""With these and the steps of ``radial_march`` any ball keeps within 0.001 of a fine grid."""
GRADING = 2.7  # cells thin toward the surface, where the profile is steep at first


@dataclass(frozen=True, slots=True)
class MoistBall:
    """A ball of moist solids around a sealed core, or none.

    Radii [m]; water per dry solids [kg/kg], one number, one per draw, or a profile (cells, draws);
    true density of the solids and of the water [kg/m3]; share of the shell's volume that is air
    [1]; and the ``shrinkage``, the share of lost water's volume by which the ball becomes smaller
    [1]: the rest stays behind as air.
    """

    outer_radius: Values
    core_radius: Values
    water_content: Values
    solids_density: Values
    water_density: Values = 998.2
    air_fraction: Values = 0.0
    shrinkage: Values = 1.0

    def values(self) -> list[Values]:
        """Everything that may be one number per draw, but for the water content [unit]."""
        return [
            self.outer_radius,
            self.core_radius,
            self.solids_density,
            self.water_density,
            self.air_fraction,
            self.shrinkage,
        ]


@dataclass(frozen=True, slots=True)
class MoistShells:
    """Shells of fixed solids, innermost first; arrays are (draws,) or (cells, draws).

    Radius of the sealed core [m]; solids of each cell [kg] and water per solids in it [kg/kg]; the
    air per solids [m3/kg] it would hold at no water; densities [kg/m3]; shrinkage [1].
    """

    core_radius: Array
    solids: Array
    water_content: Array
    dry_air: Array
    solids_density: Array
    water_density: Array
    shrinkage: Array

    def with_water(self, water_content: Array) -> MoistShells:
        """The same solids with other water in them [kg/kg]."""
        return replace(self, water_content=water_content)

    def halved(self) -> MoistShells:
        """Half as many shells, each of two neighbours; of an odd number the innermost stays."""
        odd = len(self.solids) % 2

        def pairs(values: Array) -> Array:
            return np.concatenate((values[:odd], values[odd::2] + values[odd + 1 :: 2]))

        solids = pairs(self.solids)
        return replace(
            self,
            solids=solids,
            water_content=pairs(self.solids * self.water_content) / solids,
            dry_air=pairs(self.solids * self.dry_air) / solids,
        )

    def spread(self, shape: tuple[int, ...]) -> MoistShells:
        """The same shells for draws of another shape [1], where there was one draw."""
        if self.core_radius.shape == shape:
            return self
        wide = {
            name: np.broadcast_to(values, (len(values), *shape) if values.ndim > 1 else shape)
            for name, values in ((one.name, getattr(self, one.name)) for one in fields(self))
        }
        return MoistShells(**wide)

    def air(self, water_content: Array) -> Array:
        """Air [m3/kg] at a water content [kg/kg]; water taken up fills it, then swells the ball."""
        left = self.dry_air - (1.0 - self.shrinkage) / self.water_density * water_content
        return np.maximum(left, 0.0, out=left)

    def cubes(self, water_content: Array) -> Array:
        """Cubed radii of the cells' outer faces [m3] at a water content [kg/kg]."""
        specific = self.air(water_content)
        specific += water_content * (1.0 / self.water_density)
        specific += 1.0 / self.solids_density
        specific *= self.solids
        specific *= 0.75 / np.pi
        specific[0] += self.core_radius**3
        for inside, outside in pairwise(specific):  # cumsum would go by columns
            np.add(outside, inside, out=outside)
        return specific

    def faces(self, water_content: Array) -> Array:
        """Radii of the cells' outer faces [m] at a water content [kg/kg]."""
        cubes = self.cubes(water_content)
        return np.power(cubes, 1.0 / 3.0, out=cubes)  # cbrt does one number at a time

    def radii(self) -> Array:
        """Radii of the cells' middles [m]."""
        outside = self.faces(self.water_content)
        return 0.5 * (outside + np.vstack((self.core_radius, outside[:-1])))


def cut_moist_ball(ball: MoistBall, shape: tuple[int, ...], *, cells: int = CELLS) -> MoistShells:
    """Cut a ball into shells that get thinner outward, with the solids each one holds.

    Parameters
    ----------
    ball: what the ball is, numbers or one per draw [MoistBall]
    shape: the shape of the draws, (n,) [1]
    cells: number of cells [1]

    Returns
    -------
    The shells [MoistShells]

    Raises
    ------
    RangeError: a radius or property is not possible.

    Notes
    -----
    Volume per solids: (1/rho_s + X/rho_w) / (1 - air fraction). A kilogram of water lost leaves
    (1 - shrinkage)/rho_w of air.

    Reference: mayor-sereno-2004 (ideal shrinkage is the volume of the water removed).
    """
    within("cells", float(cells), low=4, high=10_000)
    outer = within("ball.outer_radius", ball.outer_radius, low=1e-5, high=1.0, unit="m")
    inner = within("ball.core_radius", ball.core_radius, low=0.0, high=1.0, unit="m")
    content = within("ball.water_content", ball.water_content, low=0.0, high=20.0, unit="kg/kg")
    solids = within("ball.solids_density", ball.solids_density, low=50.0, high=1e4, unit="kg/m3")
    water = within("ball.water_density", ball.water_density, low=900.0, high=1100.0, unit="kg/m3")
    air = within("ball.air_fraction", ball.air_fraction, low=0.0, high=0.95)
    shrinkage = within("ball.shrinkage", ball.shrinkage, low=0.0, high=1.0)
    outer, inner, solids, water, air, shrinkage = (
        np.broadcast_to(values, shape) for values in (outer, inner, solids, water, air, shrinkage)
    )
    within("ball.core_radius / ball.outer_radius", inner / outer, low=0.0, high=0.999)
    profile = np.array(np.broadcast_to(content, (cells, *shape)))
    faces = shell_faces(inner, outer, cells=cells, grading=GRADING)
    solid_volume = 1.0 / solids + profile / water
    return MoistShells(
        core_radius=inner,
        solids=np.diff(sphere_volume(faces), axis=0) * (1.0 - air) / solid_volume,
        water_content=profile,
        dry_air=solid_volume * air / (1.0 - air) + (1.0 - shrinkage) / water * profile,
        solids_density=solids,
        water_density=water,
        shrinkage=shrinkage,
    )
