"""What the page of a plan was asked: fields, what it begins with, and what stands beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qsl, urlencode

from starlette.requests import Request

from baitwright.terms.errors import InputError
from baitwright.web.guard import TOKEN
from baitwright.web.house import House
from baitwright.web.render import PART

if TYPE_CHECKING:
    from baitwright.batch.batch_plan import BatchPlan, PlanRequest
    from baitwright.workshop.forms.asked_places import Wrong
    from baitwright.workshop.plans.asked_plan import PlanForm
    from baitwright.workshop.plans.liquid_sheets import Sheets
    from baitwright.workshop.plans.plan_told import PlanTold
    from baitwright.workshop.waters.venue import Held

START, SINCE, BESIDE, NUMBER, ONCE = "start", "since", "beside", "number", "once"
_OURS = (START, SINCE, BESIDE, NUMBER, ONCE, TOKEN)
BATCH = "batch:"
"""Before the name of a batch, where a plan is told by that."""


@dataclass(frozen=True, slots=True)
class Asking:
    """Fields of a page, and what goes with them."""

    fields: tuple[tuple[str, str], ...] = ()
    start: str = ""
    since: str = ""
    beside: str = ""

    @classmethod
    def of(cls, pairs: Iterable[tuple[str, str]]) -> Asking:
        """What a query asks."""
        every = [(name, value) for name, value in pairs if value.strip()]
        ours = {name: value for name, value in every if name in _OURS}
        fields = tuple(pair for pair in every if pair[0] not in _OURS)
        return cls(fields, ours.get(START, ""), ours.get(SINCE, ""), ours.get(BESIDE, ""))


@dataclass(slots=True)
class Answer:
    """A page of a plan: its form, and the plan or what is wrong."""

    told: PlanTold
    form: PlanForm
    query: str
    asking: Asking
    request: PlanRequest | None = None
    made: BatchPlan | None = None
    error: Wrong | None = None
    left_out: tuple[str, ...] = field(default=())


def asked_of(request: Request) -> Asking:
    """What the query of a page asks."""
    return Asking.of(request.query_params.multi_items())


def asked_by(query: str) -> Asking:
    """What a query that was kept asks."""
    return Asking.of(parse_qsl(query, keep_blank_values=False))


def answered(asking: Asking, house: House) -> Answer:
    """The plan that a page asks for, or what is wrong with what it was told."""
    from baitwright.workshop.plans.asked_plan import plan_form, refilled
    from baitwright.workshop.plans.plan_told import PlanTold, all_but, plan_told
    from baitwright.workshop.plans.plan_words import wrong_at
    from baitwright.workshop.plans.worked_out import worked_out

    try:
        begun = plan_told(asking.fields) if asking.fields else None
    except InputError as error:
        form = refilled(plan_form(all_but(asking.fields, error.field)), asking.fields)
        query = urlencode(asking.fields)
        return Answer(PlanTold(), form, query, asking, error=wrong_at(form.whole, error))
    told, since, left_out = _begun(asking, house) if begun is None else (begun, asking.since, ())
    asking = Asking(tuple(told.pairs), asking.start, since, asking.beside)
    answer = Answer(told, plan_form(told), urlencode(asking.fields), asking, left_out=left_out)
    if begun is None and not told.bench:
        return answer  # nothing was typed yet: no eggs are no mistake
    try:
        answer.request = request_of(told, house)
        answer.made = worked_out(answer.request)
    except InputError as error:
        answer.error = wrong_at(answer.form.whole, error)
    return answer


def status_of(request: Request, error: object) -> int:
    """Of an answer; a script that asks for a part is told what is wrong within it."""
    return 200 if error is None or PART in request.headers else 422


def request_of(told: PlanTold, house: House) -> Any:
    """The request of what a page told, at this minute.

    Raises
    ------
    InputError: anything that cannot be used.
    """
    from baitwright.workshop.plans import plan_told

    request = plan_told.request_of(told, now=wall_clock(house), sheets=own_sheets(house))
    return with_own_factors(request, house)


def with_own_factors(request: PlanRequest, house: House) -> PlanRequest:
    """The request with the maker's own factors, as accepted last; as it is without a notebook."""
    if not house.notebook.is_there:
        return request
    from baitwright.workshop.factors.factors_ahead import with_kept_factors

    with house.notebook.looking() as book:
        return with_kept_factors(book, request)


def own_sheets(house: House) -> Sheets:
    """What the notebook has of the sheets of liquids; nothing where there is none yet."""
    if not house.notebook.is_there:
        return {}
    from baitwright.workshop.plans.liquid_sheets import sheets_of

    with house.notebook.looking() as book:
        return sheets_of(book)


def rules_held(house: House, made: BatchPlan) -> Held | None:
    """The rules of a plan's water; none known where there is no notebook yet."""
    from baitwright.workshop.care.venue_asked import plan_held

    if not house.notebook.is_there:
        return plan_held(None, made)
    with house.notebook.looking() as book:
        return plan_held(book, made)


def wall_clock(house: House) -> datetime:
    """The local time to the minute."""
    return house.notebook.clock().replace(tzinfo=None, second=0, microsecond=0)


def _begun(asking: Asking, house: House) -> tuple[PlanTold, str, tuple[str, ...]]:
    """What the page begins with: as asked, else the last batch, else the demonstration."""
    from baitwright.workshop.batches.plan_starts import (
        DEMO,
        LAST,
        as_last_time,
        begun,
        of_recipe,
        starts,
    )

    kind, _, name = asking.start.partition(":")
    if house.notebook.is_there and kind in ("", LAST, "batch", "recipe"):
        with house.notebook.looking() as book:
            last = starts(book).last
            if kind == "recipe":
                return of_recipe(book, name).told, "", ()
            if name or last:
                start = as_last_time(book, name or last, now=wall_clock(house))
                return start.told, start.since, start.left_out
    return begun(DEMO if kind in ("", LAST) else kind).told, "", ()
