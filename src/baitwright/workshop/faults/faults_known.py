"""What a batch's record says beside its plan, for who looks for a fault."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from statistics import fmean
from typing import Any

from baitwright.advice.faults import Read
from baitwright.advice.faults_numbered import Numbers
from baitwright.advice.faults_tables import readings
from baitwright.ledger.movements import Counted
from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.batches.kept_plan import TEST
from baitwright.workshop.batches.lots_beside import OtherLot
from baitwright.workshop.forms.bottle_file import bottle_test_of
from baitwright.workshop.forms.form import mentions
from baitwright.workshop.forms.form_events import TestTable
from baitwright.workshop.forms.read_records import written_in
from baitwright.workshop.typed.reading import parse

Drawn = tuple[str, int, Counted]
"""A liquid, and so many of what its amounts are counted in."""
_SI = {Counted.MILLIGRAMS: ("dose_mass", 1e-6), Counted.MICROLITRES: ("dose_volume", 1e-9)}
"""By what a dose was drawn: the plan's number for it, and one unit of it in SI."""


def readings_told(page: Page, found: Revision, good: Sequence[Revision]) -> Iterator[Read]:
    """What was read of a batch, each beside what the good ones read over what they had planned."""
    told = (found.body or {}).get("actual", {})
    for name in readings():
        value = _one(told.get(name))
        if value is not None:
            ratios = list(_over_plan(name, good))
            beside = fmean(ratios) if ratios else 1.0
            yield Read(name, value, beside=beside, good=len(ratios))
    core = _core_weighed(page, found.name)
    if core is not None:
        yield Read("cores", core)


def drawn_told(found: Revision) -> tuple[Drawn, ...]:
    """What was drawn of each liquid, as the record has it."""
    drawn = (found.body or {}).get("actual", {}).get("drawn", {})
    return tuple(
        (liquid, amount["units"], Counted(amount["counted"])) for liquid, amount in drawn.items()
    )


def as_doses(drawn: Iterable[Drawn], numbers: Numbers) -> Iterator[Read]:
    """What was drawn of each liquid, as the weight that a plan reckons with [kg]."""
    for liquid, units, counted in drawn:
        name, scale = _SI.get(counted, ("", 0.0))
        planned, mass = numbers.named(name, liquid), numbers.named("dose_mass", liquid)
        if planned and mass:
            share = units * scale / median_of(planned[0])
            yield Read("drawn", median_of(mass[0]) * share, label=liquid)


def lots_told(other: Iterable[OtherLot]) -> tuple[tuple[str, str], ...]:
    """The parts of which another lot went in, each with words for it."""
    return tuple(
        (one.part, f"another lot of {one.item}: {one.lot}, was {', '.join(one.before)}")
        for one in other
        if one.part
    )


def _over_plan(name: str, good: Iterable[Revision]) -> Iterator[float]:
    for one in good:
        body: Mapping[str, Any] = one.body or {}
        value, planned = _one(body["actual"].get(name)), body["predicted"].get(name)
        if value is not None and planned is not None and planned[1] > 0.0:
            yield value / planned[1]


def _one(told: object) -> float | None:
    """A reading as one number: several of the same thing by their mean."""
    if isinstance(told, list):
        return fmean(told) if told else None
    return float(told) if isinstance(told, int | float) else None


def _core_weighed(page: Page, batch: str) -> float | None:
    """What one core weighs, by the last bottle test of a batch that weighed any [kg]."""
    for one in page.last(TEST, 50, words=batch):
        if not any(_is_of(name, batch) for _, name in mentions(one.body or {}, "batch")):
            continue
        try:
            test = bottle_test_of(parse(written_in(one), TestTable, where=""), batch)
        except InputError:
            continue
        if test.cores is not None:
            return test.cores.mass / test.cores.count
    return None


def _is_of(name: str, batch: str) -> bool:
    """Whether a batch or a bag of it is named."""
    return name == batch or name.rpartition("/")[0] == batch
