"""The pictures of a plan and of a soak, and one page of each that holds them with their tables."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.soak import SoakStage
from baitwright.batch.soak_table import SoakTable, first_night
from baitwright.quantities import show
from baitwright.sheets.picture_bait import bait_picture
from baitwright.sheets.picture_day import day_picture
from baitwright.sheets.picture_drying import drying_picture
from baitwright.sheets.picture_flavour import flavour_picture
from baitwright.sheets.picture_front import front_picture
from baitwright.sheets.picture_lift import lift_picture
from baitwright.sheets.picture_page import picture_page
from baitwright.sheets.picture_water import water_picture
from baitwright.sheets.svg import Picture
from baitwright.sheets.text_soak import INVENTED, RESTS_ON, warmth


def soak_pictures(made: SoakTable) -> tuple[Picture, ...]:
    """The bait as planned: cut open after a night, then lift, flavours and water over the hours."""
    name = made.recipe.name
    bait = bait_picture(made.plan, first_night(made), name=name)
    return (bait, *_of_the_night(made.plan, made.first.stage))


def plan_pictures(plan: BatchPlan) -> tuple[Picture, ...]:
    """A plan from its day to the end of its own night, in the order of making."""
    name = plan.request.recipe.name
    return (
        day_picture(plan, name=name),
        front_picture(plan, name=name),
        drying_picture(plan, name=name),
        bait_picture(plan, plan.soak, name=name),
        *_of_the_night(plan, plan.soak),
    )


def _of_the_night(plan: BatchPlan, stage: SoakStage) -> tuple[Picture, ...]:
    name = plan.request.recipe.name
    return (
        lift_picture(stage, plan.water.taken, name=name),
        flavour_picture(stage, name=name),
        water_picture(stage, name=name),
    )


def soak_page(made: SoakTable, pictures: tuple[Picture, ...]) -> str:
    """The pictures of a soak and their tables as one page.

    Parameters
    ----------
    made: the soak.
    pictures: of that soak.
    """
    return picture_page(
        made.recipe.name,
        f"in the lake for {show(made.time, 'h')}",
        pictures,
        before=(
            *_invented(made.plan),
            f"The bait as planned, in a lake at {warmth(made.first.stage)}.",
        ),
        after=(RESTS_ON, *(note.text for note in made.notes)),
    )


def plan_page(plan: BatchPlan, pictures: tuple[Picture, ...]) -> str:
    """The pictures of a plan and their tables as one page.

    Parameters
    ----------
    plan: the plan.
    pictures: of that plan.
    """
    return picture_page(
        plan.request.recipe.name,
        "the plan in pictures",
        pictures,
        before=(*_invented(plan), _BANDS),
        after=(RESTS_ON,),
    )


_BANDS = "Bands hold 5 of 10, 8 of 10 and 19 of 20 baits, by what is known of them beforehand."


def _invented(plan: BatchPlan) -> tuple[str, ...]:
    return (INVENTED,) if plan.request.recipe.invented else ()
