"""What the maker's batches have taught: each factor with its history, and what plans gain by it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from baitwright.learning.history import History, history_of
from baitwright.learning.next_reading import Next, next_readings
from baitwright.materials.factors import prior_factors
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.batches.batch_hours import PLAN
from baitwright.workshop.factors.all_seen import in_days
from baitwright.workshop.factors.batches_seen import batches_seen
from baitwright.workshop.factors.factors_kept import factors_on, keep_factors
from baitwright.workshop.factors.kept_moments import WorkingOut, keep_what_was_worked_out
from baitwright.workshop.factors.lots_seen import for_lots_ahead
from baitwright.workshop.factors.running_score import Score, running_score
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.readings.changed_bands import Change, changes_by


@dataclass(frozen=True, slots=True)
class Learning:
    """What was learned.

    ``batches`` were made, ``read`` of them taught something; ``standing`` are the factors that
    plans are made with, ``proposed`` those that all batches lead to. ``gains`` are numbers of
    ``plan``, the last one, with the table's factors and with the proposed; ``next_readings`` what
    to measure of it, the most telling first. ``worked_out`` plans and tests kept nothing yet that
    can be learned from, so that they had to be worked out anew.
    """

    batches: int
    read: int
    score: Score | None
    history: History
    standing: FactorSet
    proposed: FactorSet
    worked_out: int = 0
    plan: str = ""
    gains: tuple[Change, ...] = ()
    next_readings: tuple[Next, ...] = ()

    @property
    def is_news(self) -> bool:
        """Whether the batches say something that the standing factors do not."""
        return bool(self.history.grown) and set(self.proposed.factors) != set(self.standing.factors)


def learning(book: Notebook, *, now: datetime, with_plan: bool = True) -> Learning:
    """Work out all factors anew from every batch.

    Parameters
    ----------
    book: the notebook.
    now: for the day of the proposed factors.
    with_plan: tell what the last plan gains, which works two plans out.
    """
    work = WorkingOut()
    with book.reading() as page:
        told = tuple(batches_seen(page, work_out=work))
        every = tuple(in_days(page, told))
        standing, last = factors_on(page), next(iter(page.last(PLAN, 1)), None)
    history = history_of(every, prior=prior_factors())
    read = sum(bool(seen) for _, seen in told)
    proposed = _proposed(history, read, now)
    score = running_score(one for one, _ in told)
    made = Learning(len(told), read, score, history, standing, proposed, work.count)
    if not with_plan or last is None or last.body is None:
        return made
    asked = replace(request_from_json(last.body), draws=Draws(), factors=prior_factors())
    before, after = worked_out(asked), asked
    if history.grown:
        with book.reading() as page:
            after = for_lots_ahead(page, replace(asked, factors=replace(proposed, made_on=None)))
    gains = changes_by(before, asked.factors, after.factors)
    told_next = next_readings(worked_out(after))
    return replace(made, plan=last.name, gains=gains, next_readings=told_next)


def accept(book: Notebook, *, now: datetime) -> FactorSet:
    """Plan with what all batches lead to from now on.

    Raises
    ------
    InputError: no batch taught anything yet.
    """
    made = learning(book, now=now, with_plan=False)
    if not made.history.grown:
        accepted = "a batch that was made and of which something was weighed or counted"
        raise InputError("factors", "none", accepted)
    keep_what_was_worked_out(book, now=now)
    keep_factors(book, made.proposed, now=now)
    return made.proposed


def _proposed(history: History, read: int, now: datetime) -> FactorSet:
    prior = prior_factors()
    if not history.grown:
        return prior
    name = f"from {read} batch{'' if read == 1 else 'es'}, {now.date()}"
    return prior.with_factors(history.factors, name=name, made_on=now)
