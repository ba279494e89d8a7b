"""The plan in five lines: what to draw, weigh, roll, boil and dry, and what comes of it."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.cores import sizes
from baitwright.batch.dose import LiquidDose
from baitwright.sheets.layout import heading, paragraph
from baitwright.sheets.text_made import dose_figure, tool_words
from baitwright.sheets.wording import clock, day, figure
from baitwright.terms.notes import Weight
from baitwright.terms.quantity import Quantity


def in_short(plan: BatchPlan) -> list[str]:
    """What a maker reads first; the rest of the plan says why."""
    lines = heading("In short")
    for said in _sentences(plan):
        lines += paragraph(said, then="    ")
    return lines


def _sentences(plan: BatchPlan) -> list[str]:
    mix = _number(plan.mix.dry_mix)
    doses = "; ".join(_dose(one) for one in plan.doses.doses)
    core = plan.request.recipe.bait.core
    cores = "" if core is None else f" on {sizes(core)} cores"
    first = plan.day.steps[0]
    tray = f"leave {_number(plan.dry.time)} on the tray" if plan.day.dries else "does not dry here"
    said = [
        *([f"{doses[0].upper()}{doses[1:]}."] if doses else []),
        f"Work in about {mix} of dry mix.",
        f"Pinch {_number(plan.rolled.pinch)}: about {_number(plan.rolled.baits)} baits{cores}.",
        f"Boil {_number(plan.boil.seconds)}, {tray}; {first.name} {day(first.start)} at "
        f"{clock(first.start)}.",
        f"{_number(plan.water.wish)} should do what a {plan.request.recipe.bait.kind} does.",
    ]
    doubts = sum(note.weight is not Weight.REMARK for note in plan.notes)
    if doubts:
        said.append(f"{doubts} {'doubt' if doubts == 1 else 'doubts'} below, marked ? or !.")
    return said


def _dose(one: LiquidDose) -> str:
    shown = dose_figure(one)
    verb = "draw" if one.fill is not None else "weigh"
    return f"{verb} {shown.number} {shown.unit} {one.liquid.name} ({tool_words(one)})"


def _number(quantity: Quantity) -> str:
    shown = figure(quantity)
    return f"{shown.number} {shown.unit}".strip()
