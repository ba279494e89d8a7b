"""Concentric shells and the equations between them: the one engine under heat and moisture.

Arrays are laid out (cells, draws), innermost first, so that each row is contiguous.
"""

from __future__ import annotations

import numpy as np

from baitwright.physics.limits import Array


def shell_faces(inner: Array, outer: Array, *, cells: int, grading: float = 1.0) -> Array:
    """Radii of the faces between cells, finer toward the outside where ``grading`` exceeds 1.

    Parameters
    ----------
    inner: radius of the innermost face, one per draw [m]
    outer: radius of the outermost face, one per draw [m]
    cells: number of cells [1]
    grading: power p of 1 - (1 - x)^p, x uniform [1]

    Returns
    -------
    Radii, (cells + 1, draws) [m]
    """
    place = 1.0 - (1.0 - np.linspace(0.0, 1.0, cells + 1)) ** grading
    return np.asarray(inner + np.multiply.outer(place, outer - inner))


def sphere_volume(radius: Array) -> Array:
    """Volume of a sphere [m3] of a radius [m]."""
    return 4.0 / 3.0 * np.pi * radius**3


def sphere_area(radius: Array) -> Array:
    """Area of a sphere [m2] of a radius [m]."""
    return 4.0 * np.pi * radius**2


class ShellSystem:
    """The linear equations of one implicit step, eliminated from the centre outward.

    Cell i holds ``capacity[i]`` and exchanges ``conductance[i]`` times the difference with cell
    i + 1; the outermost cell loses an outflow that its boundary decides. After ``factor`` and
    ``fold`` the outermost value x obeys ``outer * x + outflow = load[-1]``: one equation per draw,
    linear or not, which the caller solves before ``unfold`` gives the other cells.

    Notes
    -----
    Thomas' algorithm in the form that subtracts nothing: eliminating a cell puts its capacity in
    series with its conductance, e' = c' + g e/(e + g), so pivots stay positive for any step.
    """

    def __init__(self, cells: int, draws: int) -> None:
        self._ratio = np.empty((cells - 1, draws))
        self._inverse = np.empty((cells - 1, draws))
        self._work = np.empty(draws)
        self.outer = np.empty(draws)

    def factor(self, capacity: Array, conductance: Array) -> None:
        """Eliminate all but the outermost cell.

        Parameters
        ----------
        capacity: what each cell holds per unit of its value and time, (cells, draws) [W/K or kg/s]
        conductance: exchange across each inner face, (cells - 1, draws) [W/K or kg/s]
        """
        held = self.outer
        held[:] = capacity[0]
        np.copyto(self._inverse, conductance)
        for link, pivot, ratio, following in zip(
            conductance, self._inverse, self._ratio, capacity[1:], strict=True
        ):
            np.add(pivot, held, out=pivot)
            np.divide(link, pivot, out=ratio)
            np.multiply(held, ratio, out=held)
            np.add(held, following, out=held)
        np.reciprocal(self._inverse, out=self._inverse)

    def fold(self, load: Array) -> Array:
        """Carry the loads [W or kg/s] outward, in place; gives the outermost's [W or kg/s]."""
        work = self._work
        for ratio, inside, outside in zip(self._ratio, load[:-1], load[1:], strict=True):
            np.multiply(ratio, inside, out=work)
            np.add(outside, work, out=outside)
        return np.asarray(load[-1])

    def unfold(self, load: Array, outermost: Array) -> Array:
        """Turn a folded load into the solution, in place.

        Parameters
        ----------
        load: what ``fold`` left [W or kg/s]
        outermost: value of the outermost cell [K or kg/kg]

        Returns
        -------
        Values of all cells, in the place of the load [K or kg/kg]
        """
        work = self._work
        np.multiply(load[:-1], self._inverse, out=load[:-1])
        load[-1] = outermost
        for cell in range(len(load) - 2, -1, -1):
            np.multiply(self._ratio[cell], load[cell + 1], out=work)
            np.add(load[cell], work, out=load[cell])
        return load
