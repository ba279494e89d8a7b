"""The stages of a plan as a page shows them: what to mind first, then numbers and notes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from baitwright.batch.batch_plan import BatchPlan, quantities_in
from baitwright.materials.cautions import Caution
from baitwright.sheets.text import SECTIONS
from baitwright.sheets.wording import is_number
from baitwright.sources import sources
from baitwright.terms.quantity import Quantity
from baitwright.workshop.told.number_shown import Number, key_of, number_of

_BY_HOUR = re.compile(r" after [\d.]+ h$")
"""Ends the label of a number told hour by hour."""
_CARED_AT = {"pack": "Keep", "fish": "In the water", "shelf": "Doses", "post": "Keep"}
"""Cautions of a step that is no stage of the plan, and the stage they are told at."""


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


def stages(made: BatchPlan) -> Iterator[Stage]:
    """Every stage that has something to tell."""
    told: set[str] = set()
    for section in SECTIONS:
        told.update(section.notes)
        cares = [
            _cared(one, made.care.raised_by(one))
            for one in made.care.cautions
            if one.stage in section.notes or _CARED_AT.get(one.stage) == section.title
        ]
        stage = Stage(
            section.title,
            tuple(dict.fromkeys(cares)),
            tuple(map(number_of, _rows(section.stands_on(made)))),
            tuple(_said(made, section.notes)),
        )
        if stage.numbers or stage.notes:
            yield stage
    others = [note.stage for note in made.notes if note.stage not in told]
    if others:
        yield Stage("Notes", (), (), tuple(_said(made, others)))


def _cared(one: Caution, bottles: tuple[str, ...]) -> str:
    place = f"{one.place}: " if one.place else ""
    names = f" ({', '.join(bottles)})" if bottles else ""
    return f"{place}{one.text}{names}"


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
