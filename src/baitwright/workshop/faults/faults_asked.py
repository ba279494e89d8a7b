"""Why it went wrong: a symptom of a batch, by its own plan and record, beside the good ones."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baitwright.advice.faults import Fault, Known, find_fault
from baitwright.advice.faults_numbered import Numbers
from baitwright.advice.faults_tables import symptom, symptoms
from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.materials.cautions import Caution, cautions
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.batches.batch_hours import BATCH, PLAN
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.batches.good_ones import LOOKED_THROUGH, good_ones, is_made
from baitwright.workshop.batches.same_batch import Sameness, is_cancelled, same_on
from baitwright.workshop.faults.faults_known import (
    Drawn,
    as_doses,
    drawn_told,
    lots_told,
    readings_told,
)
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.shelf.lots import LOT
from baitwright.workshop.told.in_hand import in_hand

KEPT = 16
"""Faults kept in hand: a complaint is looked at again and again while it is answered."""


@dataclass(frozen=True, slots=True)
class Found:
    """A fault of a batch: its causes, what it was held against, and what its tests call for."""

    batch: str
    about: str
    fault: Fault
    same: Sameness

    @property
    def care(self) -> tuple[Caution, ...]:
        """Cautions of the tests, each once, in the order of the causes."""
        named = dict.fromkeys(one.care for one in self.fault.causes if one.care)
        return tuple(cautions()[name] for name in named)


@dataclass(frozen=True, slots=True)
class _Case:
    """What the notebook has of a batch and of the last good one, and what was noticed."""

    noticed: str
    asked: PlanRequest
    then: PlanRequest | None
    known: Known
    drawn: tuple[Drawn, ...]


def why_wrong(book: Notebook, batch: str, noticed: str) -> Found:
    """The causes of what was noticed of a batch or a bag, ranked.

    Parameters
    ----------
    book: the notebook.
    batch: its name, or that of one of its bags; the last one made if nothing.
    noticed: the symptom.

    Raises
    ------
    InputError: no such batch or symptom, one that was cancelled, or one whose plan was purged.
    """
    what = symptom(noticed)
    with book.reading() as page:
        name = batch_meant(page, batch)
        found = batch_of(page, name)
        if is_cancelled(found):
            raise InputError("batch", name, "one that is planned or made")
        same = same_on(page, found)
        case = _case(page, found, same, noticed=what.id)
    return Found(name, same.about, _fault(case), same)


@in_hand(KEPT)
def _fault(case: _Case) -> Fault:
    """The causes of a case; the last few are kept in hand."""
    plan = _worked_out(case.asked)
    then = None if case.then is None else _worked_out(case.then)
    doses = as_doses(case.drawn, Numbers.of_plan(plan))
    known = replace(case.known, readings=(*case.known.readings, *doses), then=then)
    return find_fault(plan, symptom(case.noticed), known)


def noticed() -> tuple[tuple[str, str], ...]:
    """What can be asked after: the label of each symptom, and how it is seen."""
    return tuple((one.label, one.seen) for one in symptoms().values())


def batch_meant(page: Page, name: str) -> str:
    """The batch of a name: its own, or one of its bags'; the last one that was made if nothing."""
    if not name.strip():
        last = next((one for one in page.last(BATCH, LOOKED_THROUGH) if is_made(one)), None)
        return batch_of(page, "" if last is None else last.name).name
    kept = as_kept(page, LOT, name)
    parent = kept.rpartition("/")[0]
    is_bag = page.latest(BATCH, kept) is None and page.latest(BATCH, parent) is not None
    return parent if is_bag else batch_of(page, name).name


def _case(page: Page, found: Revision, same: Sameness, *, noticed: str) -> _Case:
    good = good_ones(page, same.about, before=found)
    asked = _plan_kept(page, found.name)
    if asked is None:
        raise InputError("batch", found.name, "one whose plan is kept")
    then = _plan_kept(page, good[-1].name) if good else None
    last = good[-1].name if good else ""
    read = tuple(readings_told(page, found, good))
    known = Known(read, good=last, lots=lots_told(same.lots))
    return _Case(noticed, asked, then, known, drawn_told(found))


def _plan_kept(page: Page, name: str) -> PlanRequest | None:
    kept = page.latest(PLAN, name)
    return None if kept is None or kept.body is None else request_from_json(kept.body)


def _worked_out(asked: PlanRequest) -> BatchPlan:
    """With the same draws for all, so that what differs is what was told."""
    return worked_out(replace(asked, draws=Draws()))
