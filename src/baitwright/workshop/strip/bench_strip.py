"""The strip at the bench: every step of the paper sheet, with what may be told and timed there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_steps import Stage, Step, stages
from baitwright.sheets.explain import in_short
from baitwright.terms.errors import InputError
from baitwright.workshop.strip.bench_entries import Entry, entries_of

STRIP = "bench strip"
"""The kind of record that keeps the steps of a batch."""


@dataclass(frozen=True, slots=True)
class Timing:
    """A time that may be started at a step, or that begins when it is done; in s."""

    name: str
    seconds: float
    by_itself: bool = False


@dataclass(frozen=True, slots=True)
class StripStep:
    """One step as the bench shows it; ``key`` is its number on paper."""

    key: str
    stage: str
    begins: str
    caution: str
    do: str
    how: str
    number: str
    unit: str
    band: str
    why: tuple[str, ...]
    entries: tuple[Entry, ...]
    timings: tuple[Timing, ...]


Strip = tuple[StripStep, ...]


def strip_of(plan: BatchPlan) -> Strip:
    """The steps of a plan, numbered as they are on paper."""
    told = [(stage, step) for stage in stages(plan) for step in stage.steps]
    return tuple(_on_strip(str(at), *both) for at, both in enumerate(told, start=1))


def strip_as_json(strip: Strip) -> list[Any]:
    """A strip as a record keeps it."""
    data: list[Any] = _strips().dump_python(strip, mode="json")
    return data


def strip_from_json(data: Any) -> Strip:
    """A strip as a record kept it.

    Raises
    ------
    InputError: it is none.
    """
    try:
        return _strips().validate_python(data)
    except ValidationError as error:
        raise InputError("strip", f"{error.error_count()} errors", "steps as kept") from None


@cache
def _strips() -> TypeAdapter[Strip]:
    return TypeAdapter(Strip)


def _on_strip(key: str, stage: Stage, step: Step) -> StripStep:
    told = (stage.name, stage.begins, stage.caution, step.do, step.how, step.number, step.unit)
    why = () if step.of is None else in_short(step.of)
    return StripStep(
        key, *told, step.band, why, tuple(entries_of(key, step)), tuple(_timings(step))
    )


def _timings(step: Step) -> Iterator[Timing]:
    for wait in step.waits:
        for at in range(1, wait.times + 1):
            name = wait.name if wait.times == 1 else f"{wait.name} {at} of {wait.times}"
            yield Timing(name, round(wait.seconds, 1), wait.by_itself)
