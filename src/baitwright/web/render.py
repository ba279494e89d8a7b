"""Pages put together from templates: every text escaped, every page with what all of them share."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from functools import cache
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined

from baitwright import __version__
from baitwright.terms.errors import InputError
from baitwright.web.guard import TOKEN, token_of
from baitwright.web.house import House, house_of
from baitwright.web.lan import is_signed_in

ROOMS = (
    ("/", "Trays"),
    ("/plan", "Plan"),
    ("/mix", "Mix"),
    ("/batches", "Batches"),
    ("/shelf", "Shelf"),
    ("/notebook", "Notebook"),
    ("/more", "More"),
)
"""What stands in the row of doors on every page."""
PART = "x-part"
"""The header by which a script asks for one part of a page only."""
DONE = "done"
"""Under which a page is told which deed led to it."""


def page(request: Request, template: str, *, status: int = 200, **told: Any) -> HTMLResponse:
    """A page of the workshop.

    Parameters
    ----------
    request: what was asked.
    template: its file; a script that asks for a part gets the block of that name.
    status: of the answer.
    told: what the template tells.
    """
    from baitwright.workshop.notebook_care import copied_last

    house: House = house_of(request)
    made = templates().get_template(template)
    shared = {
        "asked_path": request.url.path,
        "copied": copied_last(house.place),
        "house": house,
        "is_signed_in": is_signed_in(request),
        "rooms": ROOMS,
        "said": house.once.said(request.query_params.get(DONE, "")),
        "token": token_of(house),
        "token_field": TOKEN,
        "version": __version__,
    }
    part = request.headers.get(PART)
    if part in made.blocks:
        context = made.new_context({**shared, **told})
        return HTMLResponse("".join(made.blocks[part](context)), status)
    return HTMLResponse(made.render(**shared, **told), status)


def alone(template: str, *, status: int = 200, **told: Any) -> HTMLResponse:
    """A page that shows nothing of the workshop, for who is not in it."""
    return HTMLResponse(templates().get_template(template).render(**told), status)


@cache
def templates() -> Environment:
    """The templates, escaping all they are told."""
    made = Environment(
        loader=PackageLoader("baitwright.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    made.install_null_translations(newstyle=True)  # type: ignore[attr-defined]
    made.filters["day"] = day
    made.filters["clock"] = clock
    made.filters["amount"] = amount
    made.filters["money"] = money
    made.filters["paid"] = paid
    made.filters["share"] = share
    made.filters["hour"] = hour
    return made


def day(told: date) -> str:
    """A day as it is said: Fri 27 Nov."""
    return f"{told:%a} {told.day} {told:%b}"


def amount(units: int, counted: Any) -> str:
    """So much of an item, with the unit it is read in."""
    from baitwright.workshop.amounts import in_words

    return in_words(units, counted)


def money(told: Decimal | None, places: int = 2) -> str:
    """An amount of the shop's money."""
    return "" if told is None else f"{told:,.{places}f}"


def paid(told: Decimal, whole: bool, digits: int = 2) -> str:
    """Money of which not all may be known, for want of a price that nobody told."""
    from baitwright.workshop.worth_words import money

    return money(told, whole=whole, digits=digits)


def share(told: Decimal | None) -> str:
    """A share in per cent."""
    from baitwright.workshop.cost_words import percent

    return percent(told)


def clock(told: datetime) -> str:
    """An hour of a day: Fri 27 Nov, 17:00."""
    return f"{day(told)}, {told:%H:%M}"


def hour(told: datetime) -> str:
    """A moment on the clock of this machine, to the second: 17:00:30."""
    return f"{told.astimezone():%H:%M:%S}"


def refused(request: Request, error: InputError, *, status: int = 422) -> HTMLResponse:
    """The page that tells an error which no page of its own could tell."""
    from baitwright.workshop.web_words import said_here

    return page(request, "refused.html", status=status, error=said_here(error))
