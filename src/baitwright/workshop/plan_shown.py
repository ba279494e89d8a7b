"""A plan as a page shows it: what is acted on in large, every stage, the day, and what to mind."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from baitwright.batch.batch_plan import BatchPlan, quantities_in
from baitwright.materials.cautions import ANYWHERE
from baitwright.sheets.text import SECTIONS
from baitwright.sheets.text_made import dose_figure, tool_words, wanted
from baitwright.sheets.wording import Figure, clock, day, figure, is_number, span
from baitwright.sources import sources
from baitwright.terms.quantity import Origin, Quantity
from baitwright.workshop.why import Bands, bands_of, key_of

_BY_HOUR = re.compile(r" after [\d.]+ h$")
"""Ends the label of a number told hour by hour."""
_CARED_AT = {"pack": "Keep", "fish": "In the water"}
"""Cautions of a step that is no stage of the plan, and the stage they are told at."""


@dataclass(frozen=True, slots=True)
class Number:
    """One number: what it is, how it reads, its bands, and the key that opens its why."""

    label: str
    number: str
    unit: str
    key: str
    how: str = ""
    bands: Bands | None = None
    is_default: bool = False


@dataclass(frozen=True, slots=True)
class Said:
    """A note, with how much it matters and its source."""

    text: str
    weight: str
    source: str


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage: what to mind first, its numbers, and its notes."""

    title: str
    cautions: tuple[str, ...]
    numbers: tuple[Number, ...]
    notes: tuple[Said, ...]


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
        stages=tuple(_stages(made)),
        contains=tuple(group.name for group in made.care.contains),
    )


def headlines(made: BatchPlan) -> Iterator[Number]:
    """What a maker does by a number, in the order of doing."""
    for one in made.doses.doses:
        verb = "Weigh" if one.fill is None else "Draw"
        shown, behind = dose_figure(one), one.mass if one.fill is None else one.volume
        yield _number(behind, f"{verb} {one.liquid.name}", tool_words(one), shown=shown)
    yield _number(made.mix.dry_mix, "Work in dry mix", "the last part by feel")
    yield _number(made.rolled.pinch, "Pinch for one bait", "weigh the first two")
    yield _number(made.rolled.baits, "Baits")
    yield _number(made.boil.seconds, "Boil", "from the basket going in")
    dries = "turned once" if made.day.dries else "in this air they never dry"
    yield _number(made.dry.time, "Leave on the tray", dries)
    share, kind = made.water.wish, made.request.recipe.bait.kind
    number = figure(share).number
    yield _number(
        share, f"Do what a {kind} does", "of these baits", shown=Figure(number, "in a hundred")
    )


def _number(
    quantity: Quantity, label: str = "", how: str = "", *, shown: Figure | None = None
) -> Number:
    told = figure(quantity) if shown is None else shown
    return Number(
        label=label or quantity.label,
        number=told.number,
        unit="" if told.number == "never" else told.unit,
        key=key_of(quantity),
        how=how,
        bands=bands_of(quantity),
        is_default=quantity.origin is Origin.DEFAULT,
    )


def _stages(made: BatchPlan) -> Iterator[Stage]:
    places = {ANYWHERE, made.request.bench.country}
    told: set[str] = set()
    for section in SECTIONS:
        told.update(section.notes)
        cares = [
            one.text
            for one in made.care.cautions
            if one.country in places
            and (one.stage in section.notes or _CARED_AT.get(one.stage) == section.title)
        ]
        stage = Stage(
            section.title,
            tuple(dict.fromkeys(cares)),
            tuple(map(_number, _rows(section.stands_on(made)))),
            tuple(_said(made, section.notes)),
        )
        if stage.numbers or stage.notes:
            yield stage
    others = [note.stage for note in made.notes if note.stage not in told]
    if others:
        yield Stage("Notes", (), (), tuple(_said(made, others)))


def _rows(stands_on: Any) -> Iterator[Quantity]:
    """Each number of a stage once; those told hour by hour are for the figures."""
    seen: set[str] = set()
    for quantity in quantities_in(stands_on):
        key = key_of(quantity)
        if is_number(quantity) and key not in seen and not _BY_HOUR.search(quantity.label):
            seen.add(key)
            yield quantity


def _said(made: BatchPlan, stages: Iterable[str]) -> Iterator[Said]:
    for note in made.notes:
        if note.stage in stages:
            known = sources().get(note.source)
            yield Said(note.text, str(note.weight), known.citation if known else note.source)


def _day(made: BatchPlan) -> Iterator[DayStep]:
    for step in made.day.steps:
        yield DayStep(step.text, day(step.start), clock(step.start), clock(step.end))
