"""Machine code for the nonlinear march, where numba is installed and the work pays for loading it.

numba is the optional extra ``fast``. Both ways take the same steps and agree within 1e-9.
"""

from __future__ import annotations

from enum import Enum
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from baitwright.physics.limits import Array
from baitwright.terms.errors import InputError

PAYS_FROM = 8192
"""Draws in a run from which loading numba (some 0.4 s) costs less than it saves [1]."""


STEEPEST = 8.0
"""Largest logarithm, either way, of a conductivity over that in the middle [1]."""


class Backend(Enum):
    """What runs the march."""

    NUMPY = "numpy"
    NUMBA = "numba"


@cache
def installed() -> bool:
    """Whether numba is there; it is not loaded to find out."""
    return find_spec("numba") is not None


def chosen(wanted: Backend | None, draws: int) -> Backend:
    """What runs a march that either could.

    Parameters
    ----------
    wanted: the caller's choice, or none [text]
    draws: how many there are [1]

    Returns
    -------
    The choice; by the number of draws alone where there was none, so that a run does not depend on
    what the process did before [text]

    Raises
    ------
    InputError: numba is wanted and not installed.
    """
    if wanted is Backend.NUMBA and not installed():
        hint = "Install the extra: pip install 'baitwright[fast]'."
        raise InputError("backend", "numba", "numpy, since numba is not installed", hint=hint)
    if wanted is not None:
        return wanted
    return Backend.NUMBA if draws >= PAYS_FROM and installed() else Backend.NUMPY


@cache
def kernels() -> Any:
    """The compiled functions [record]; the optional package is loaded here and nowhere else."""
    return import_module("baitwright.physics.compiled_kernels")


def march(
    per_cell: Array, per_draw: Array, *, schedule: tuple[float, int, int, Any, Array], outputs: int
) -> tuple[Array, Array]:
    """March all draws through one leg; the arrays are those of ``compiled_kernels.march``.

    Parameters
    ----------
    per_cell: what each cell of each draw has, (5, cells, draws) [unit]
    per_draw: what each draw has, (11, draws) [unit]
    schedule: size and number of steps, how many are solved twice, first levels and shares of the
        outputs [record]
    outputs: how many there are [1]

    Returns
    -------
    Series (outputs, 5, draws) and the contents at the end (cells + 1, draws) [unit]
    """
    import numpy as np

    draws = per_draw.shape[1]
    series = np.empty((outputs, 5, draws))
    final = np.empty((per_cell.shape[1] + 1, draws))
    kernels().march(per_cell, per_draw, schedule, series, final)
    return series, final
