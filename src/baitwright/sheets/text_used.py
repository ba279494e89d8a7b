"""What comes after the making, as text: the water, the day, the free bait, care and proof."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from baitwright.batch.balance import CoreOption, WordShare
from baitwright.batch.batch_plan import BatchPlan
from baitwright.materials.cautions import ANYWHERE, Caution
from baitwright.quantities import show
from baitwright.recipe.model import Core
from baitwright.sheets.layout import bullet, paragraph, row, table
from baitwright.sheets.text_made import number
from baitwright.sheets.wording import clock, day, figure, span


def water(plan: BatchPlan) -> list[str]:
    """The bait alone and on this rig: grams of lift, the word, and the share of the tray."""
    stage, kind = plan.water, plan.request.recipe.bait.kind
    lines = row(stage.fresh.label, figure(stage.fresh, signed=True))
    lines += row(stage.dried.label, figure(stage.dried, signed=True))
    lines += _shares("alone", stage.alone)
    lines += number(stage.hook)
    lines += row(stage.rig.label, figure(stage.rig, signed=True))
    lines += _shares("on this rig", stage.on_rig)
    lines += number(stage.wish, f"do what a {kind} should")
    if len(stage.cores) > 1:
        head = ("core", "lift alone, dried", "lift on this rig", "do what is wanted")
        core = plan.request.recipe.bait.core
        lines += table([head, *(_core(option, core) for option in stage.cores)], _CORES)
    return lines


def _shares(where: str, words: Iterable[WordShare]) -> list[str]:
    told = ", ".join(f"{figure(one.share).text} {one.word.name}" for one in words)
    return paragraph(f"{where}: {told}", first="    ", then="      ")


_CORES = (16, 26, 26, 20)


def _core(option: CoreOption, mine: Core | None) -> tuple[str, ...]:
    yours = " (yours)" if mine is not None and option.diameter == mine.diameter else ""
    return (
        f"{show(option.diameter, 'mm')}{yours}",
        figure(option.lift, signed=True).with_band,
        figure(option.rig_lift, signed=True).with_band,
        figure(option.wish).text,
    )


def working_back(plan: BatchPlan) -> list[str]:
    """The steps by the clock, and whether there is time for them."""
    stage, bench = plan.day, plan.request.bench
    lines: list[str] = []
    last = None
    for step in stage.steps:
        date = day(step.start) if step.start.date() != last else ""
        last = step.start.date()
        hours = f"{clock(step.start)} to {clock(step.end)}"
        lines += table([(date, hours, step.name, step.text)], _STEPS)
    if bench.leaving is not None:
        lines += table([("", clock(bench.leaving), "leave", _spare(plan))], _STEPS)
    lines += number(stage.baits)
    lines += number(stage.rolling)
    lines += number(stage.loads)
    lines += number(stage.together)
    return lines


_STEPS = (15, 14, 14, 48)


def _spare(plan: BatchPlan) -> str:
    slack = plan.day.slack
    return f"LATE by {span(-slack)}" if plan.day.late else f"On time: {span(slack)} to spare."


def free_bait(plan: BatchPlan) -> list[str]:
    """The free bait from the same base, at its own level; nothing where none is wanted."""
    stage = plan.free_bait
    if stage is None:
        return []
    lines = paragraph(
        f"{show(stage.diameter, 'mm')}, the same base unsieved, at {show(stage.level_share, '%')} "
        "of the level"
    )
    lines += number(stage.dry_mix)
    if plan.request.recipe.sieve is not None:
        lines += number(stage.coarse)
    lines += number(stage.eggs)
    lines += number(stage.egg_volume)
    for dose in stage.doses:
        lines += number(dose.volume, f"{dose.volume.label}, free bait")
    lines += number(stage.paste)
    lines += number(stage.baits)
    return lines


def care(plan: BatchPlan) -> list[str]:
    """Allergens of the batch, and the cautions of each step with place, date and source."""
    stage = plan.care
    lines: list[str] = []
    if stage.contains:
        lines += paragraph(f"Contains: {', '.join(group.name for group in stage.contains)}.")
    if stage.may_contain:
        lines += paragraph(f"May contain: {', '.join(group.name for group in stage.may_contain)}.")
    if not stage.known:
        lines += paragraph("The base mix is not known by its parts: read its bag for allergens.")
    for name, cautions in groupby(stage.cautions, key=lambda caution: caution.stage):
        lines.append(f"  {name}")
        lines += [line for one in cautions for line in bullet(_caution(one), "!")]
    return lines


def _caution(one: Caution) -> str:
    place = "" if one.country == ANYWHERE else f"{one.country}, "
    return f"{one.text} [{place}{one.checked_on}, {one.source}]"


def prove(plan: BatchPlan) -> list[str]:
    """The readings asked for, each with the band it is predicted in."""
    lines = paragraph("Write these down; each is scored against its band, and then teaches.")
    for at, reading in enumerate(plan.prove, 1):
        lines += bullet(f"{reading.how} ({reading.minutes} min)", str(at))
        teaches = f"teaches {reading.factor.replace('_', ' ')}"
        lines += row(reading.predicted.label, figure(reading.predicted), after=teaches)
    return lines
