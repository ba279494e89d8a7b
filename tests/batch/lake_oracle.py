"""A soak with the local water content in every shell: what the mean water content is held to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
SOLIDS, WATER, FAT = 1350.0, 998.2, 920.0


@dataclass(frozen=True)
class LocalSoak:
    """A ball on a sealed core, in SI; ``in_water`` and ``hindrance`` one for each case."""

    outer: float
    core: float
    content: float
    surface: float
    moves: float
    in_water: Array
    hindrance: Array
    partition: Array
    rolled: float
    fat: float  # kg/kg of dry solids
    cells: int = 40

    def left(self, times: Array) -> Array:
        """Shares left (times, cases): explicit finite volumes in the solids' coordinates."""
        place = np.linspace(0.0, 1.0, self.cells + 1)
        faces = self.core + (1.0 - (1.0 - place) ** 1.5) * (self.outer - self.core)
        volumes = 4.0 / 3.0 * np.pi * np.diff(faces**3)
        solids = volumes / (1.0 / SOLIDS + self.content / WATER)
        content = np.full(self.cells, self.content)
        solute = np.outer(volumes, np.ones(self.in_water.size))
        start, clock, found = solute.sum(axis=0), 0.0, []
        for time in times:
            while clock < time:
                step, content, solute = self._step(solids, content, solute, left=time - clock)
                clock += step
            found.append(solute.sum(axis=0) / start)
        return np.array(found)

    def _step(
        self, solids: Array, content: Array, solute: Array, *, left: float
    ) -> tuple[float, Array, Array]:
        volumes = solids * (1.0 / SOLIDS + content / WATER)
        faces = np.cbrt(self.core**3 + 0.75 / np.pi * np.concatenate(([0.0], np.cumsum(volumes))))
        area = 4.0 * np.pi * faces[1:] ** 2
        middle = 0.5 * (faces[1:] + faces[:-1])
        gap = np.append(np.diff(middle), faces[-1] - middle[-1])
        open_to = np.append(content, self.surface)
        at_face = 0.5 * (open_to[1:] + open_to[:-1])
        at_face[-1] = self.surface
        dense = 1.0 / (1.0 / SOLIDS + at_face / WATER)
        water = area * dense * self.moves * np.diff(open_to) / gap
        pace = np.minimum(
            self.hindrance * (_obstruction(at_face) / _obstruction(np.array(self.rolled)))[:, None],
            1.0,
        )
        moist = dense * at_face / WATER
        in_pores = solute / (solids * content / WATER)[:, None]
        in_pores /= 1.0 + self.partition * (self.fat / FAT / (content / WATER))[:, None]
        outside = np.vstack((in_pores, np.zeros(solute.shape[1])))
        flux = (area * moist / gap)[:, None] * self.in_water * pace * -np.diff(outside, axis=0)
        fastest = max(self.moves, float((self.in_water * pace).max()))
        step = min(left, 0.25 * float(np.diff(faces).min()) ** 2 / fastest)
        change = water.copy()
        change[1:] -= water[:-1]
        out = flux.copy()
        out[1:] -= flux[:-1]
        return step, content + step * change / solids, solute - step * out


def _obstruction(content: Array) -> Array:
    share = content / (1.0 + content)
    solid = (1.0 - share) / 1350.0
    filled = solid / (solid + share / 1000.0)
    return np.asarray(((1.0 - filled) / (1.0 + filled)) ** 2)
