"""A plan as a page shows it: what is acted on in large, every stage, the day, and what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.text_made import dose_figure, tool_words, wanted
from baitwright.sheets.wording import Figure, clock, day, figure, span
from baitwright.workshop.plans.plan_stages import Stage
from baitwright.workshop.plans.plan_stages import stages as plan_stages
from baitwright.workshop.told.number_shown import Number, number_of


@dataclass(frozen=True, slots=True)
class DayStep:
    """One thing to do, from when to when."""

    text: str
    day: str
    start: str
    end: str


@dataclass(frozen=True, slots=True)
class PlanShown:
    """All that a page tells of a plan."""

    name: str
    wanted: str
    is_invented: bool
    headlines: tuple[Number, ...]
    day: tuple[DayStep, ...]
    slack: str
    is_late: bool
    stages: tuple[Stage, ...]
    contains: tuple[str, ...]
    country: str


def plan_shown(made: BatchPlan) -> PlanShown:
    """A plan for a page."""
    recipe = made.request.recipe
    worked_back, slack = made.day.worked_back, made.day.slack
    return PlanShown(
        name=recipe.name,
        wanted=wanted(recipe),
        is_invented=recipe.invented,
        headlines=tuple(headlines(made)),
        day=tuple(_day(made)),
        slack=span(abs(slack)) if worked_back else "",
        is_late=made.day.late,
        stages=tuple(plan_stages(made)),
        contains=tuple(group.name for group in made.care.contains),
        country=made.care.country,
    )


def headlines(made: BatchPlan) -> Iterator[Number]:
    """What a maker does by a number, in the order of doing."""
    for one in made.doses.doses:
        verb = "Weigh" if one.fill is None else "Draw"
        shown, behind = dose_figure(one), one.mass if one.fill is None else one.volume
        yield number_of(behind, f"{verb} {one.liquid.name}", tool_words(one), shown=shown)
    yield number_of(made.mix.dry_mix, "Work in dry mix", "the last part by feel")
    yield number_of(made.rolled.pinch, "Pinch for one bait", "weigh the first two")
    yield number_of(made.rolled.baits, "Baits")
    yield number_of(made.boil.seconds, "Boil", "from the basket going in")
    dries = "turned once" if made.day.dries else "in this air they never dry"
    yield number_of(made.dry.time, "Leave on the tray", dries)
    share, kind = made.water.wish, made.request.recipe.bait.kind
    number = figure(share).number
    yield number_of(
        share, f"Do what a {kind} does", "of these baits", shown=Figure(number, "in a hundred")
    )


def _day(made: BatchPlan) -> Iterator[DayStep]:
    for step in (*made.day.steps, *made.day.beside):
        yield DayStep(step.text, day(step.start), clock(step.start), clock(step.end))
