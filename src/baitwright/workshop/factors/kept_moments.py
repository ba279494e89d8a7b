"""What a plan's record keeps to be learned from, and the same worked out where it keeps nothing."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict
from datetime import datetime
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.learning.bottle import learn_from_bottle
from baitwright.learning.history import Seen
from baitwright.learning.moments import Moments
from baitwright.learning.plan_moments import moments_of
from baitwright.learning.propose import Proposal
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.workshop.batches.batch_hours import BATCH, PLAN
from baitwright.workshop.batches.good_ones import is_made
from baitwright.workshop.factors.batches_seen import MOMENTS
from baitwright.workshop.factors.tests_seen import TESTS, digest_of, tests_of
from baitwright.workshop.forms.bottle_file import bottle_test_of
from baitwright.workshop.forms.form_events import TestTable
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.told.in_hand import in_hand
from baitwright.workshop.typed.reading import parse


def kept_moments(made: BatchPlan) -> dict[str, Any]:
    """What the record of a plan keeps to be learned from."""
    return {MOMENTS: asdict(moments_of(made))}


def moments_again(body: Mapping[str, Any]) -> Moments:
    """What a kept plan is learned from, worked out again: a second for each, the first time."""
    return _worked_out(json.dumps(body["request"]))


def test_again(body: Mapping[str, Any], written: Mapping[str, Any], batch: str) -> tuple[Seen, ...]:
    """What a kept bottle test shows, worked out again: seconds for each, the first time."""
    asked = (body["request"], dict(written), batch)
    return _tested(json.dumps(asked, default=str))


class WorkingOut:
    """Works out what is kept nowhere, and counts how often."""

    def __init__(self) -> None:
        """Nothing yet."""
        self.count = 0

    def moments(self, plan: Mapping[str, Any], /) -> Moments:
        """What a plan is learned from."""
        self.count += 1
        return moments_again(plan)

    def test(
        self, plan: Mapping[str, Any], written: Mapping[str, Any], batch: str, /
    ) -> tuple[Seen, ...]:
        """What a test shows."""
        self.count += 1
        return test_again(plan, written, batch)


def keep_what_was_worked_out(book: Notebook, *, now: datetime) -> int:
    """Write beside every plan what is learned of it and of the tests of its batch, where it keeps
    nothing; how many there were.
    """
    with book.writing() as page:
        lacking = tuple(_lacking(page))
        for plan, entries in lacking:
            body = {**(plan.body or {}), **entries}
            page.write(PLAN, plan.name, body, seen=plan.version, time=now)
    return len(lacking)


def _lacking(page: Page) -> Iterator[tuple[Revision, dict[str, Any]]]:
    """Plans of made batches, with the entries that are to stand there."""
    names = [one.name for one in page.all(BATCH) if is_made(one)]
    every = tests_of(page)
    for one in page.named(PLAN, names):
        body, tests = one.body or {}, every.get(one.name, ())
        kept = body.get(TESTS, {})
        wanted = {digest_of(one): one for one in tests}
        found = {} if MOMENTS in body else {MOMENTS: asdict(moments_again(body))}
        if set(wanted) - set(kept):
            found[TESTS] = {
                digest: kept.get(digest) or list(map(list, test_again(body, test, one.name)))
                for digest, test in wanted.items()
            }
        if found:
            yield one, found


@in_hand(256)
def _tested(asked: str) -> tuple[Seen, ...]:
    request, written, batch = json.loads(asked)
    made = worked_out(request_from_json({"request": request}))
    try:
        test = bottle_test_of(parse(written, TestTable, where=""), batch)
        lesson = learn_from_bottle(made, test, factors=made.request.factors)
    except InputError:
        return ()  # it was refused when it was held against the plan, and teaches nothing
    return tuple(_told_by(lesson.proposals, made.request.factors, batch))


def _told_by(proposals: Iterable[Proposal], planned: FactorSet, batch: str) -> Iterator[Seen]:
    for one in proposals:
        after = one.after
        blur = planned.find(after.key, after.about).scale ** 2 * (1.0 - one.share) / one.share
        yield Seen(batch, after.key, after.about, one.log_ratio, blur)


@in_hand(256)
def _worked_out(request: str) -> Moments:
    return moments_of(worked_out(request_from_json({"request": json.loads(request)})))
