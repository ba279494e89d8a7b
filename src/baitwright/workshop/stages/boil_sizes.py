"""Sizes and cores for a table of seconds: as typed, or about the recipe's own."""

from __future__ import annotations

import re

from baitwright.batch.boil_table import LARGEST, SMALLEST, Asked
from baitwright.materials.cores import NO_CORE
from baitwright.materials.cores import core as core_row
from baitwright.quantities import Kind, read
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Recipe

_ABOUT = 3e-3
"""Sizes a table holds either side of the recipe's own where none are asked for, m."""
_CORES_ABOUT = 2e-3
_DIGITS = 6
"""1.4 cm and 14 mm are one size: lengths in whole micrometres."""
_USUAL_CORES = (0.008, 0.010)
_BETWEEN = re.compile(r"(?<=[A-Za-z])\s*[,;]\s*")


def asked_for(recipe: Recipe, bench: Bench, *, sizes: str, cores: str) -> Asked:
    """The table asked for.

    Parameters
    ----------
    recipe: its own size and core stand in the middle where nothing is typed.
    bench: the cores on its shelf.
    sizes, cores: such as "14 mm, 15 mm" and "none, 9 mm", or empty.

    Raises
    ------
    InputError: a length that cannot be read.
    """
    own = recipe.bait.core
    material = "cork-ball" if own is None else own.material
    return Asked(
        sizes=_lengths(sizes, "sizes") if sizes.strip() else _sizes_about(recipe.bait.diameter),
        cores=_lengths(cores, "cores") if cores.strip() else _cores_about(recipe, bench, material),
        material=material,
    )


def _lengths(text: str, field: str) -> tuple[float, ...]:
    """Lengths between commas, each once and in order; "none" is a core of nothing."""
    found = set()
    for part in (one.strip() for one in _BETWEEN.split(text.strip())):
        nothing = field == "cores" and part.lower() == NO_CORE
        found.add(0.0 if nothing else round(read(part, Kind.LENGTH, field), _DIGITS))
    return tuple(sorted(found))


def _sizes_about(own: float) -> tuple[float, ...]:
    steps = range(-round(1e3 * _ABOUT), round(1e3 * _ABOUT) + 1)
    sizes = (round(own + 1e-3 * step, _DIGITS) for step in steps)
    return tuple(size for size in sizes if SMALLEST <= size <= LARGEST)


def _cores_about(recipe: Recipe, bench: Bench, material: str) -> tuple[float, ...]:
    """No core, and those on the shelf; or those sold about the recipe's own."""
    if bench.cores:
        return (0.0, *sorted({round(core, _DIGITS) for core in bench.cores}))
    row, own = core_row(material), recipe.bait.core
    if row is None or own is None:
        return (0.0, *_USUAL_CORES)
    sold = [size for size in row.diameters if abs(size - own.diameter) <= _CORES_ABOUT + 1e-9]
    return (0.0, *sorted({round(core, _DIGITS) for core in (*sold, own.diameter)}))
