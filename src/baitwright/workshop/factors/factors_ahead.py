"""The factors that a plan goes by: those accepted last, of the lots that its batch will take."""

from __future__ import annotations

from dataclasses import replace

from baitwright.batch.batch_plan import PlanRequest
from baitwright.materials.factors import PRIOR_NAME
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError
from baitwright.workshop.factors.factors_kept import factors_on
from baitwright.workshop.factors.lots_seen import for_lots_ahead
from baitwright.workshop.opening.notebook_care import Clock, Use, is_there, open_at


def with_kept_factors(book: Notebook, request: PlanRequest) -> PlanRequest:
    """The request with the notebook's factors, or the table's where none were accepted."""
    with book.reading() as page:
        return for_lots_ahead(page, replace(request, factors=factors_on(page)))


def not_used(place: Where, *, clock: Clock) -> str:
    """The factors that were accepted in a notebook, by name; nothing where there are none.

    A notebook that cannot be looked into has none to speak of: whoever plans without one is not
    stopped by it.
    """
    try:
        if not is_there(place):
            return ""
        with open_at(place, Use.LOOK, clock=clock) as book, book.reading() as page:
            name = factors_on(page).name
    except InputError:
        return ""
    return "" if name == PRIOR_NAME else name


def with_factors_at(place: Where, request: PlanRequest, *, clock: Clock) -> PlanRequest:
    """The same of a notebook that need not be there yet."""
    if not is_there(place):
        return request
    with open_at(place, Use.LOOK, clock=clock) as book:
        return with_kept_factors(book, request)
