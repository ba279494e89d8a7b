"""Concentric shells and the equations between them: the one engine under heat and moisture.

Arrays are laid out (cells, draws), innermost first, so that each row is contiguous.
"""

from __future__ import annotations

import numpy as np

from baitwright.physics.limits import Array
from baitwright.terms.errors import ComputationError


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
    return np.asarray(4.0 / 3.0 * np.pi * radius * radius * radius)  # a power would be slow


def sphere_area(radius: Array) -> Array:
    """Area of a sphere [m2] of a radius [m]."""
    return np.asarray(4.0 * np.pi * radius * radius)


class ShellSystem:
    """The linear equations of one implicit step, eliminated from the centre outward.

    Cell i holds ``capacity[i]``; across its outer face flows, inward, ``inward`` times the value
    of cell i + 1 less ``outward`` times its own; the outermost cell loses an outflow that its
    boundary decides. After ``factor`` and ``fold`` the outermost value x obeys
    ``outer * x + outflow = load[-1]``: one equation per draw, linear or not, which the caller
    solves before ``unfold`` gives the other cells.

    Notes
    -----
    Thomas' algorithm in the form that subtracts nothing: eliminating a cell puts its capacity in
    series with its conductance, e' = c' + q e/(e + p), so pivots stay positive for any step.
    """

    def __init__(self, cells: int, draws: int) -> None:
        self._ratio = np.empty((cells - 1, draws))
        self._inverse = np.empty((cells - 1, draws))
        self._carried = self._ratio
        self._work = np.empty(draws)
        self.outer = np.empty(draws)

    def factor(self, capacity: Array, outward: Array, inward: Array | None = None) -> None:
        """Eliminate all but the outermost cell.

        Parameters
        ----------
        capacity: what each cell holds per unit of its value and time, (cells, draws) [W/K or kg/s]
        outward: exchange across each inner face, (cells - 1, draws) [W/K or kg/s]
        inward: the same for the cell outside the face, where it differs [W/K or kg/s]
        """
        held, inverse = self.outer, self._inverse
        held[:] = capacity[0]
        for away, back, pivot, ratio, following in zip(
            outward,
            outward if inward is None else inward,
            inverse,
            self._ratio,
            capacity[1:],
            strict=True,
        ):
            np.add(away, held, out=pivot)
            np.divide(back, pivot, out=ratio)
            np.multiply(held, ratio, out=held)
            np.add(held, following, out=held)
        np.reciprocal(inverse, out=inverse)
        self._carried = self._ratio if inward is None else outward * inverse

    def fold(self, load: Array) -> Array:
        """Carry the loads [W or kg/s] outward, in place; gives the outermost's [W or kg/s]."""
        work = self._work
        for ratio, inside, outside in zip(self._carried, load[:-1], load[1:], strict=True):
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
        inward = self._ratio[::-1], load[:0:-1], load[-2::-1]
        for ratio, outside, inside in zip(*inward, strict=True):
            np.multiply(ratio, outside, out=work)
            np.add(inside, work, out=inside)
        return load


class DenseSystem:
    """The same equations for a draw or few, as full matrices: fewer calls, and the same numbers.

    ``still`` [K or kg/kg] is the outermost value without outflow, ``ease`` [K/W or s/kg] how much
    an outflow lowers it.
    """

    def __init__(self, cells: int, draws: int) -> None:
        self._matrix = np.zeros((draws, cells, cells))
        flat = self._matrix.reshape(draws, cells * cells)
        self._diagonal = flat[:, :: cells + 1].T
        self._above = flat[:, 1 :: cells + 1].T
        self._below = flat[:, cells :: cells + 1].T
        self._loads = np.zeros((draws, cells, 2))
        self._loads[:, -1, 1] = 1.0

    def solve(self, capacity: Array, outward: Array, inward: Array, *, load: Array) -> Array:
        """Solve for the load, and for an outflow of 1.

        Parameters
        ----------
        capacity: what each cell holds per unit of its value and time, (cells, draws) [W/K or kg/s]
        outward: exchange across each inner face, of the cell inside it [W/K or kg/s]
        inward: the same of the cell outside it [W/K or kg/s]
        load: what each cell is given, (cells, draws) [W or kg/s]

        Returns
        -------
        The answer to the load, and to the outflow, (2, cells, draws) [K or kg/kg]

        Raises
        ------
        ComputationError: capacities and exchanges lie further apart than numbers can tell.
        """
        self._diagonal[:] = capacity
        self._diagonal[:-1] += outward
        self._diagonal[1:] += inward
        np.negative(inward, out=self._above)
        np.negative(outward, out=self._below)
        self._loads[:, :, 0] = load.T
        try:
            answers = np.linalg.solve(self._matrix, self._loads)
        except np.linalg.LinAlgError as error:
            raise ComputationError(
                "one shell lets through so much more than the next that there is no answer"
            ) from error
        return np.asarray(answers.T, dtype=np.float64)
