"""How far in water has gone or come: the depth of a crust on the tray, or of the lake in a bait."""

from __future__ import annotations

from typing import Any

import numpy as np

from baitwright.batch.release import first_below
from baitwright.physics.limits import Array
from baitwright.physics.radial import MoistureRun
from baitwright.terms.quantity import declared
from baitwright.terms.units import MILLIMETRES


@declared(
    "crust_depth",
    label="how deep the crust goes",
    unit=MILLIMETRES,
    equation="(R - r) / (R - core) x paste as dried, r: where half of the skin's loss is reached",
    source="definition",
    note="it dries gradually and not to an edge; all of the paste where its inside has half too",
)
def crust_depth(run: MoistureRun, diameter: Any, core_diameter: Any) -> Any:
    """Depth down to which paste has lost at least half of the water that its skin lost."""
    lost = run.mean_content[0] - run.surface_content[-1]
    over = run.mean_content[0] - skin_and_shells(run) - 0.5 * lost
    return depth_where(run, over, diameter, core_diameter=core_diameter)


def skin_and_shells(run: MoistureRun) -> Array:
    """Water per solids at the end of a run, from the skin inward."""
    return np.vstack((run.surface_content[-1], run.final.water_content[::-1]))


def depth_where(run: MoistureRun, over: Array, diameter: Any, *, core_diameter: Any) -> Any:
    """How deep a series told from the skin inward stays at nothing or more [m].

    All of the paste where it is never below nothing; nothing where it is so from the skin on.
    """
    outer, shells = run.outer_radius[-1], run.final
    depths = np.vstack((np.zeros_like(outer), (outer - shells.radii())[::-1]))
    place = first_below(np.arange(len(over), dtype=float), over)
    before = np.floor(np.where(np.isinf(place), 0.0, place)).astype(int)
    inside, beyond = (
        np.take_along_axis(depths, np.minimum(at, len(over) - 1)[None], axis=0)[0]
        for at in (before, before + 1)
    )
    paste = outer - shells.core_radius
    depth = np.where(np.isinf(place), paste, inside + (place - before) * (beyond - inside))
    return (depth / paste).reshape(np.shape(diameter)) * 0.5 * (diameter - core_diameter)
