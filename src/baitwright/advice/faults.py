"""Why a batch failed: causes ranked by plan and record, each with its test."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from baitwright.advice.causes_graph import key_of, path_to
from baitwright.advice.causes_moved import Middles
from baitwright.advice.causes_weighed import TROUBLE, Floats, weigh
from baitwright.advice.faults_case import Case, Known, case_of
from baitwright.advice.faults_found import (
    Cause,
    Fault,
    Ground,
    Shown,
    Speaks,
    Tells,
    by_how_much,
    called,
)
from baitwright.advice.faults_numbered import Numbers, Read
from baitwright.advice.faults_tables import Habit, Symptom, habits_of, held, leaves
from baitwright.batch.batch_plan import BatchPlan
from baitwright.quantities import show
from baitwright.terms.errors import RangeError
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of

__all__ = ["Cause", "Fault", "Known", "Read", "find_fault"]

LEAST = 0.1
"""A cause that goes less far than this towards the trouble is not told (judgement)."""
MOVED = 0.5
"""Readings that move a number by so many standard deviations speak for it (judgement)."""
_IN_95 = 1.96
"""Standard deviations to either end of a band of 95 %."""
_PART = 0.2
"""A number speaks for a reading from so much of what it is off by (judgement)."""
_APART = 3.0
"""A reading tells two causes apart from so many of its own standard deviations on (judgement)."""


def find_fault(plan: BatchPlan, symptom: Symptom, known: Known) -> Fault:
    """The causes of a symptom, ranked: what the record shows first, then what may be.

    Parameters
    ----------
    plan: of the batch.
    symptom: what was noticed.
    known: what its record says, and what the good ones were.
    """
    return fault_in(Numbers.of_plan(plan), symptom, known)


def fault_in(numbers: Numbers, symptom: Symptom, known: Known) -> Fault:
    """The same of the numbers of a plan."""
    if symptom.needs and not any(median_of(one) for one in numbers.named(symptom.needs)):
        return Fault(symptom, (), (), missing=symptom.missing)
    case = case_of(numbers, symptom, known)
    habits = (_habit(row, numbers, known) for row in habits_of(symptom))
    found = (*_known(case), *_possible(case), *(one for one in habits if one is not None))
    ranked = sorted(found, key=lambda one: (not one.grounds, one.is_model, -one.size))
    shown = tuple(Shown(one.quantity, one.row.goes) for one in case.signs)
    return Fault(symptom, tuple(ranked), shown, tells=_tells(case, ranked))


def _known(case: Case) -> Iterator[Cause]:
    """Causes that stand in the record."""
    for one in case.certain:
        cause = _cause(case, one.quantity, case.worse(one.by))
        if cause.size >= LEAST:
            yield replace(cause, grounds=(one.ground,), evidence=Evidence.MEASURED)


def _possible(case: Case) -> Iterator[Cause]:
    """Causes that may be, by what readings and the trouble itself leave open."""
    by_record, shifts = _blamed(case)
    sure = {key_of(one.quantity) for one in case.certain}
    for at, slip in enumerate(case.slips):
        cause = _cause(case, slip.quantity, shifts[:, at])
        if slip.key in sure or cause.size < LEAST:
            continue
        most = int(np.argmax(shifts[:, at] / case.spreads))
        way = float(np.sign(case.worse(case.moved)[most, at]))
        read = _speaks(case, at, float(by_record[at])) if by_record[at] * way > 0.0 else ()
        lots = (
            Ground(Speaks.LOT, words) for part, words in case.known.lots if part == slip.row.lot
        )
        word = "more than planned" if way > 0.0 else "less than planned"
        yield replace(cause, what=f"{cause.what}, {word}", grounds=(*read, *lots))


def _blamed(case: Case) -> tuple[Floats, Floats]:
    """What readings say of each number, and how far each goes towards each sign's trouble."""
    rows = case.moved[len(case.signs) :]
    off = np.array([one.off for one in case.read])
    noise = np.array([one.noise for one in case.read])
    known = sum((case.worse(one.by) for one in case.certain), np.zeros(len(case.signs)))
    found = [
        weigh(row, readings=rows, off=off, noise=noise, known=float(known[at]))
        for at, row in enumerate(case.worse(case.moved))
    ]
    shifts = case.worse(case.moved) * np.array([one.in_all for one in found])
    return found[0].by_record, shifts


def _speaks(case: Case, at: int, by: float) -> Iterator[Ground]:
    """Readings that lie where this number would put them."""
    for place, one in enumerate(case.read, start=len(case.signs)):
        expected = float(case.moved[place, at]) * by
        is_off = one.read is not None and abs(one.off) > one.noise and abs(by) >= MOVED
        if one.read is None or not is_off or expected * one.off < _PART * one.off**2:
            continue
        unit = one.row.unit or one.quantity.shown
        whose = "your good ones lead to" if one.read.good else "the plan says"
        was, looked_for = show(one.read.value, unit), show(one.looked_for, unit)
        yield Ground(Speaks.READ, f"{one.row.told_as}: {was}; {whose} {looked_for}")
    if abs(by) * case.shares[at] > _IN_95:
        yield Ground(Speaks.BAND, "that puts it out of the band that holds it in 19 cases of 20")


def _cause(case: Case, quantity: Quantity, worse: Floats) -> Cause:
    """A cause by the sign that it moves most."""
    sizes = worse / case.spreads
    most = int(np.argmax(sizes))
    sign = case.signs[most]
    row = leaves().get(quantity.name)
    moved = by_how_much(sign.quantity, float(worse[most]) * sign.wrong_way)
    return Cause(
        key_of(quantity),
        called(quantity),
        float(sizes[most]),
        moves=f"{sign.quantity.label}: {moved}",
        way=path_to(sign.quantity, key_of(quantity)),
        test="" if row is None else row.test,
        care="" if row is None else row.care,
        is_model=row is not None and row.sort == "model",
    )


def _habit(row: Habit, numbers: Numbers, known: Known) -> Cause | None:
    """A cause that is no number, where the number it is hung on is in this plan."""
    hung = numbers.named(row.node)
    if not hung or not any(map(_is_there, hung)):
        return None
    lots = tuple(Ground(Speaks.LOT, words) for part, words in known.lots if part == row.lot)
    return Cause(
        (row.id,),
        row.what,
        row.weight,
        way=(hung[0].label,),
        grounds=lots,
        test=row.test,
        care=row.care,
        evidence=row.evidence,
        note=row.note,
    )


def _is_there(hung: Quantity) -> bool:
    """A core of no weight is none."""
    return hung.value != 0.0 if isinstance(hung.value, float) else True


def _tells(case: Case, ranked: Iterable[Cause]) -> Tells | None:
    """The reading not taken yet that lies furthest apart for the first two causes with numbers."""
    sure = {key_of(one.quantity): one for one in case.certain}
    places = {one.key: at for at, one in enumerate(case.slips)}
    pair = [one for one in ranked if one.key in sure or one.key in places][:2]
    roots = [one.quantity for one in case.unread]
    if len(pair) < 2 or not roots:
        return None
    try:
        by, other = (
            sure[one.key].moves(roots) if one.key in sure else _alone(case, places[one.key], roots)
            for one in pair
        )
    except RangeError:  # so far off that no model follows: then no reading is needed to see it
        return None
    apart = [
        abs(float(by[at] - other[at])) / one.noise if one.noise else 0.0
        for at, one in enumerate(case.unread)
    ]
    at = int(np.argmax(apart))
    if apart[at] < _APART:
        return None
    taken = case.unread[at]
    unit = taken.row.unit or taken.quantity.shown
    says = [show(taken.looked_for + float(each[at]), unit) for each in (by, other)]
    return Tells(taken.row.told_as, (pair[0].what, says[0]), (pair[1].what, says[1]))


def _alone(case: Case, at: int, roots: Sequence[Quantity]) -> Floats:
    """By how much others would be off, were one number alone to blame for the trouble."""
    slip = case.slips[at]
    worse = case.worse(case.moved)[:, at] / case.spreads
    most = float(worse[int(np.argmax(np.abs(worse)))])
    times = float(np.clip(TROUBLE / most if most else 0.0, -TROUBLE, TROUBLE))
    return Middles(roots, held()).moved({slip.key: slip.at(times)})
