"""A bait cut open: its sizes, and how deep it had set on the way through the pot."""

from __future__ import annotations

import math
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.cores import sizes
from baitwright.materials.cores import core
from baitwright.quantities import show
from baitwright.recipe.model import Core, WantedBait
from baitwright.sheets.wording import figure
from baitwright.uncertainty.bands import median_of

_THROUGH = 0.98
"""A set front this far in counts as through."""


@dataclass(frozen=True, slots=True)
class CutOpen:
    """Diameters ``outer`` and ``core`` and the set ``skin`` in mm, and what is written beside them.

    ``core`` is nothing where none sits in the middle, ``skin`` where there is no ring to cut down
    to. ``corks`` are a few small ones in the plane of the cut, as they may lie: across and down
    from the middle, and diameter.
    """

    outer: float
    core: float
    corks: tuple[tuple[float, float, float], ...]
    skin: float
    outer_words: str
    core_words: str
    paste_words: str
    dried_words: str
    skin_words: str
    end_words: str


def cut_open(plan: BatchPlan) -> CutOpen:
    """The bait of a plan as rolled, cut open part way through the boil."""
    bait, front = plan.request.recipe.bait, plan.boil.front.value
    row = None if bait.core is None else core(bait.core.material)
    middle = None if bait.core is None or bait.core.count > 1 else bait.core
    core_size = 0.0 if middle is None else middle.diameter
    shell = 0.5 * (bait.diameter - core_size)
    rolled = plan.rolled.bait
    through = _THROUGH * 0.5 * (median_of(rolled.diameter) - median_of(rolled.core_diameter))
    pairs = list(zip(front.seconds, front.depths, strict=True))
    skin = _under_way(pairs, shell) if middle else None
    return CutOpen(
        outer=1e3 * bait.diameter,
        core=1e3 * core_size,
        corks=() if bait.core is None or middle else _in_the_cut(bait.core),
        skin=1e3 * skin[1] if skin else 0.0,
        outer_words=f"{show(bait.diameter, 'mm')} as rolled",
        core_words="" if row is None else f"{sizes(bait.core)} {row.name}{'' if middle else 's'}",
        paste_words=_paste_words(bait, shell),
        dried_words=f"{figure(plan.dry.diameter).text} dried" if plan.day.dries else "",
        skin_words=f"set {show(skin[1], 'mm', 2)} deep at {skin[0]:.0f} s" if skin else "",
        end_words=f"set through by {figure(plan.boil.seconds).text}"
        if pairs[-1][1] >= through
        else f"boil {figure(plan.boil.seconds).text}",
    )


def _paste_words(bait: WantedBait, shell: float) -> str:
    light = sum(one.share for one in bait.fillers)
    within = f", {show(light, '%')} grains" if light else ""
    if bait.core is None:
        return f"paste all through{within or ', no core'}"
    if bait.core.count == 1:
        return f"{show(shell, 'mm')} of paste{within}"
    return f"paste{within}" if light else "paste all round"


_TOUCHING = {2: 2, 3: 3, 4: 3, 5: 4, 6: 4}
"""How many of a few balls that touch have their middles in one plane."""


def _in_the_cut(cores: Core) -> tuple[tuple[float, float, float], ...]:
    """The corks that one plane cuts through their middles, side by side about the bait's."""
    count, size = _TOUCHING[cores.count], 1e3 * cores.diameter
    out = 0.5 * size / math.sin(math.pi / count)
    angles = [math.pi * (2.0 * at + 1.0) / count for at in range(count)]  # none to the very right
    return tuple((out * math.cos(angle), out * math.sin(angle), size) for angle in angles)


def _under_way(pairs: list[tuple[float, float]], shell: float) -> tuple[float, float] | None:
    """When the set front stood well inside the shell [s], and how deep [m]: a ring to cut down to.

    Nothing where it never stood there; a bait without a core shows none, for it would be drawn like
    one.
    """
    inside = [pair for pair in pairs if 0.2 * shell < pair[1] < 0.8 * shell]
    return inside[-1] if inside else None
