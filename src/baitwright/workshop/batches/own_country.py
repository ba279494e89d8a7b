"""The maker's country, where none is told: that of the last plan which names one."""

from __future__ import annotations

from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Where
from baitwright.workshop.batches.batch_hours import PLAN
from baitwright.workshop.opening.notebook_care import Clock, Use, is_there, open_at

_LOOKED_AT = 20
"""Plans that are looked through, the last first."""


def own_country(book: Notebook) -> str:
    """Two letters; nothing where no plan of late names a country."""
    with book.reading() as page:
        return _on(page)


def own_country_at(place: Where, *, clock: Clock) -> str:
    """The same of a notebook that need not be there yet."""
    if not is_there(place):
        return ""
    with open_at(place, Use.LOOK, clock=clock) as book:
        return own_country(book)


def _on(page: Page) -> str:
    plans = (one.body for one in page.last(PLAN, _LOOKED_AT) if one.body is not None)
    found = (one["request"]["bench"].get("country") for one in plans)
    return next((str(one) for one in found if one), "")
