"""The coat and the glug of a batch, as text: how much, what stays, and what it changes."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.layout import paragraph
from baitwright.sheets.text_made import number


def glug_and_coat(plan: BatchPlan) -> list[str]:
    """What goes on the baits after the pot and after the tray; nothing where nothing does."""
    return [*_coat(plan), *_glug(plan)]


def _coat(plan: BatchPlan) -> list[str]:
    stage = plan.coat
    if stage is None:
        return []
    lines = paragraph(f"Coat after boiling: {stage.ingredient}.")
    lines += number(stage.for_all) + number(stage.stuck) + number(stage.lift_change)
    if stage.wish_without is not None:
        lines += number(stage.wish_without)
    return lines + number(plan.water.wish, "do what is wanted as made")


def _glug(plan: BatchPlan) -> list[str]:
    stage = plan.glug
    if stage is None:
        return []
    lines = paragraph(f"Glug after drying: {stage.name}, in {stage.carrier}.")
    drawn = "" if stage.fill is None else stage.fill.tool.name
    lines += number(stage.for_all, after=drawn)
    for one in (stage.per_bait, stage.time, stage.share, stage.taken, stage.film, stage.depth):
        lines += number(one)
    lines += number(stage.lift_change) + number(stage.wish_before)
    lines += number(plan.water.wish, "do what is wanted after the glug")
    lines += number(stage.activity_before) + number(plan.keep.activity, "and after it")
    lines += number(stage.keeps_before)
    return lines + number(plan.keep.place("fridge").life, "keeps in the fridge after it")
