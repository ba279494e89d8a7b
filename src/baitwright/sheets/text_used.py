"""What comes after the making, as text: the water, the day, the free bait, care and proof."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, replace
from itertools import groupby
from typing import Any

from baitwright.batch.balance import BalanceStage, CoreOption, WordShare
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.cores import sizes
from baitwright.materials.cautions import Caution
from baitwright.quantities import show
from baitwright.sheets.layout import bullet, paragraph, row, table
from baitwright.sheets.readings import actions
from baitwright.sheets.text_made import number
from baitwright.sheets.text_rig import counterweight, in_the_lake
from baitwright.sheets.wording import (
    clock,
    count_of,
    day,
    figure,
    span,
    to_the_minute,
    weekday,
)


def water(plan: BatchPlan) -> list[str]:
    """The bait alone and on this rig: grams of lift, the word, and the share of the tray."""
    stage, kind = plan.water, plan.request.recipe.bait.kind
    lines = number(stage.fresh)
    lines += number(stage.dried)
    lines += _shares("alone", stage.alone)
    lines += number(stage.hook)
    if stage.burden is not None:
        lines += number(stage.burden)
    lines += number(stage.rig)
    lines += _shares("on this rig", stage.on_rig)
    lines += number(stage.wish, f"do what a {kind} should")
    lines += number(stage.misfits, after="in the middle batch; batches differ")
    if len(stage.cores) > 1:
        head = ("core", "lift alone, dried", "lift on this rig", "do what is wanted")
        lines += table([head, *_cores(plan)], _CORES)
    return lines


def _shares(where: str, words: Iterable[WordShare]) -> list[str]:
    told = ", ".join(f"{figure(one.share).text} {one.word.name}" for one in words)
    return paragraph(f"{where}: {told}", first="    ", then="      ")


_CORES = (16, 26, 26, 20)


def _cores(plan: BatchPlan) -> list[tuple[str, ...]]:
    return [_core(option, " (yours)" if mine else "") for mine, option in core_options(plan)]


def core_options(plan: BatchPlan) -> list[tuple[bool, CoreOption]]:
    """The cores weighed up for the bait, each with whether it is the one that was taken."""
    mine = plan.request.recipe.bait.core
    return [
        (True, _of_the_bait(option, plan.water)) if option.core == mine else (False, option)
        for option in plan.water.cores
    ]


def _of_the_bait(option: CoreOption, stage: BalanceStage) -> CoreOption:
    """The core taken, with the numbers of the bait itself in place of the short formula's."""
    return replace(option, lift=stage.dried, rig_lift=stage.rig, wish=stage.wish)


def _core(option: CoreOption, yours: str = "") -> tuple[str, ...]:
    return (
        f"{sizes(option.core)}{yours}",
        figure(option.lift).with_band,
        figure(option.rig_lift).with_band,
        figure(option.wish).text,
    )


def on_rig(plan: BatchPlan) -> list[str]:
    """Lift on the whole rig where it is fished, and its counterweight; nothing without a rig."""
    made, rig = plan.rig, plan.request.bench.rig
    if made is None or rig is None:
        return []
    return in_the_lake(made, rig) + counterweight(made, rig)


def night(plan: BatchPlan) -> list[str]:
    """What a winter night in the lake leaves of the bait, and when to recast."""
    stage, kind = plan.soak, plan.request.recipe.bait.kind
    end = stage.curve[-1]
    lines = paragraph(f"After {show(end.time, 'h')}; `baitwright soak` tells every hour.")
    for one in end.flavours:
        lines += number(one.left)
    lines += number(end.firmness)
    lines += number(end.lift, "lift of the bait alone")
    lines += number(end.rig, "lift with its hook" if plan.rig is None else "lift left on the rig")
    lines += number(end.wish, f"do what a {kind} should")
    putty = 0.0 if plan.request.bench.rig is None else plan.request.bench.rig.putty
    held = f" with {show(putty, 'g')} of putty on it" if putty else ""
    lines += number(stage.lasts, f"stops doing what a {kind} should{held} after")
    lines += number(stage.recast)
    return lines


def working_back(plan: BatchPlan) -> list[str]:
    """The steps by the clock, and whether there is time for them."""
    stage, bench = plan.day, plan.request.bench
    lines: list[str] = []
    last = None
    for step in stage.steps:
        date = day(step.start) if step.start.date() != last else ""
        last = step.start.date()
        endless = step.name == "dry" and not stage.dries
        hours = (
            f"from {clock(step.start)}" if endless else f"{clock(step.start)} to {clock(step.end)}"
        )
        lines += table([(date, hours, step.name, step.text)], _STEPS)
    for step in stage.beside:
        hours = f"{clock(step.start)} to {clock(step.end)}"
        lines += table([(day(step.start), hours, "thaw", step.text)], _STEPS)
    if bench.leaving is not None:
        lines += table([("", clock(bench.leaving), "leave", _spare(plan))], _STEPS)
    lines += number(stage.rolling)
    lines += number(stage.loads)
    lines += number(stage.together)
    lines += number(stage.hands_on)
    for thaw in stage.thaws:
        lines += number(thaw.time, f"{thaw.frozen.what}, thawed in the {thaw.frozen.place} in")
    return lines


_STEPS = (15, 14, 14, 48)
_SPANS = {"eggs_out": "eggs out", "bagging": "bag"}
"""Spans of the day that count only where their step is there."""


def of_the_day(plan: BatchPlan) -> tuple[Any, ...]:
    """What the day stands on, without the spans of steps that it does not have."""
    named = {step.name for step in plan.day.steps}
    idle = {span for span, step in _SPANS.items() if step not in named}
    held = (field.name for field in fields(plan.day) if field.name not in idle)
    return tuple(getattr(plan.day, name) for name in held)


def _spare(plan: BatchPlan) -> str:
    if not plan.day.dries:
        return "No start is early enough: it does not dry here."
    if plan.day.late:
        return f"LATE by {span(-plan.day.slack)}"
    first = plan.day.steps[0]
    ahead = to_the_minute(first.start) - to_the_minute(plan.request.bench.now)
    begins = f"{weekday(first.start)} {clock(first.start)}"
    return f"On time: start in {span(ahead)} ({first.name} {begins})."


def free_bait(plan: BatchPlan) -> list[str]:
    """The free bait from the same base, at its own level; nothing where none is wanted."""
    stage = plan.free_bait
    if stage is None:
        return []
    lines = paragraph(
        f"{show(stage.diameter, 'mm')}, at {show(stage.level_share, '%')} of the level. The same "
        "base, but not sieved and without hardener."
    )
    lines += number(stage.dry_mix)
    if plan.request.recipe.sieve is not None:
        lines += number(stage.coarse)
    lines += number(stage.eggs)
    lines += number(stage.egg_volume)
    for dose in stage.doses:
        amount = dose.mass if dose.by_weight else dose.volume
        lines += number(amount, f"{amount.label}, free bait")
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
    if stage.country and any(one.place for one in stage.cautions):
        lines += paragraph(stage.country)
    for name, cautions in groupby(stage.cautions, key=lambda caution: caution.stage):
        lines.append(f"  {name}")
        said = (_caution(one, stage.raised_by(one)) for one in cautions)
        lines += [line for one in said for line in bullet(one, "!")]
    return lines


def _caution(one: Caution, bottles: tuple[str, ...]) -> str:
    place = f"{one.place}: " if one.place else ""
    ask = f" Ask {one.ask}." if one.ask else ""
    names = f" ({', '.join(bottles)})" if bottles else ""
    return f"{place}{one.text}{names}{ask} [{one.checked_on}, {one.source}]"


def prove(plan: BatchPlan) -> list[str]:
    """The readings asked for, each with the band it is predicted in."""
    asked = actions(plan)
    lines = paragraph(
        f"{count_of(len(asked), 'thing')} to do. Write the readings down; each is scored against "
        "its band, and then teaches."
    )
    for action in asked:
        lines += paragraph(f"{action.number} {action.words[0].upper()}{action.words[1:]}")
        for mark, reading in action.readings:
            letter = mark.removeprefix(str(action.number)).strip()
            how = f"{letter} {reading.how} ({reading.minutes} min)".strip()
            lines += paragraph(how, first="    ", then="      ")
            teaches = f"teaches {reading.factor.replace('_', ' ')}"
            lines += row(reading.predicted.label, figure(reading.predicted), after=teaches)
    return lines
