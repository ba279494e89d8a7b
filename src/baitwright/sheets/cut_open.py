"""A bait cut open: its sizes, and how deep it had set on the way through the pot."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.materials.cores import core
from baitwright.quantities import show
from baitwright.sheets.wording import figure
from baitwright.uncertainty.bands import median_of

_THROUGH = 0.98
"""A set front this far in counts as through."""


@dataclass(frozen=True, slots=True)
class CutOpen:
    """Diameters ``outer`` and ``core`` and the set ``skin`` in mm, and what is written beside them.

    ``core`` is nothing in a solid bait, ``skin`` where there is no ring to cut down to.
    """

    outer: float
    core: float
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
    core_size = 0.0 if bait.core is None else bait.core.diameter
    row = None if bait.core is None else core(bait.core.material)
    shell = 0.5 * (bait.diameter - core_size)
    through = (
        _THROUGH * 0.5 * (median_of(plan.rolled.diameter) - median_of(plan.rolled.core_diameter))
    )
    pairs = list(zip(front.seconds, front.depths, strict=True))
    skin = _under_way(pairs, shell) if row else None
    return CutOpen(
        outer=1e3 * bait.diameter,
        core=1e3 * core_size,
        skin=1e3 * skin[1] if skin else 0.0,
        outer_words=f"{show(bait.diameter, 'mm')} as rolled",
        core_words=f"{show(core_size, 'mm')} {row.name}" if row else "",
        paste_words=f"{show(shell, 'mm')} of paste" if row else "paste all through, no core",
        dried_words=f"{figure(plan.dry.diameter).text} dried" if plan.day.dries else "",
        skin_words=f"set {show(skin[1], 'mm', 2)} deep at {skin[0]:.0f} s" if skin else "",
        end_words=f"set through by {figure(plan.boil.seconds).text}"
        if pairs[-1][1] >= through
        else f"boil {figure(plan.boil.seconds).text}",
    )


def _under_way(pairs: list[tuple[float, float]], shell: float) -> tuple[float, float] | None:
    """When the set front stood well inside the shell [s], and how deep [m]: a ring to cut down to.

    Nothing where it never stood there; a bait without a core shows none, for it would be drawn like
    one.
    """
    inside = [pair for pair in pairs if 0.2 * shell < pair[1] < 0.8 * shell]
    return inside[-1] if inside else None
