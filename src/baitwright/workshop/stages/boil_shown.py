"""Seconds in the pot as a page shows them: the timer's large in a table, and how the paste sets."""

from __future__ import annotations

from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.boil_table import BoilCell, BoilTable
from baitwright.quantities import show
from baitwright.sheets.boil_table import KEPT_TO, NO_ROOM, head, marks, stands_on
from baitwright.sheets.picture_front import front_picture
from baitwright.sheets.wording import Figure, figure
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.stages.boil_table import seconds_for
from baitwright.workshop.told.answer_parts import Grid, Part, notes_of, said

_CAPTION = "Seconds for the timer, and below them those by which half of the baits have set"


def boil_shown(request: PlanRequest, *, sizes: str, cores: str) -> tuple[Part, ...]:
    """Seconds by size and core for the paste, the pot and the place of a plan.

    Raises
    ------
    InputError: sizes or cores that cannot be read, or a plan that cannot be worked out.
    """
    made = seconds_for(request, sizes=sizes, cores=cores)
    own = worked_out(request)
    drawn = front_picture(own, name=request.recipe.name).for_page("")
    return (
        Part(
            f"{made.recipe.name}, {made.recipe.bait.hardness}",
            grids=(_table(made),),
            lines=(f"{KEPT_TO[0].upper()}{KEPT_TO[1:]}", stands_on(made), marks(made)),
            points=notes_of(made.notes),
        ),
        Part("The bait of this plan", pictures=(drawn,)),
    )


def _table(made: BoilTable) -> Grid:
    rows = tuple(
        (said(show(size, "mm")), *(_cell(made.cell(size, core)) for core in made.asked.cores))
        for size in made.asked.sizes
    )
    own = show(made.recipe.bait.diameter, "mm")
    return Grid(_CAPTION, head(made.asked.cores), rows, own=own)


def _cell(cell: BoilCell | None) -> Figure:
    if cell is None:
        return said(NO_ROOM)
    timer = figure(cell.advised).number
    return said(f"({timer})" if cell.thin else timer, figure(cell.middle).number)
