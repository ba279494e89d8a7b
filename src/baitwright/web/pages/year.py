"""A year: what was made, what it cost, what went wrong, what was learned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.terms.errors import InputError
from baitwright.web.files import paper_of, pdf_download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.render import page

if TYPE_CHECKING:
    from baitwright.workshop.years.year import YearReport

pages = APIRouter(include_in_schema=False)


@pages.get("/notebook/year")
def year(request: Request, house: InHouse, year: str = "") -> HTMLResponse:
    """One year, this one unless told."""
    from baitwright.workshop.forms.web_words import said_here
    from baitwright.workshop.years.year_words import year_pictures

    told: YearReport | None = None
    error = None
    try:
        told = _told(house, year) if house.notebook.is_there else None
    except InputError as refused:
        error = said_here(refused)
    pictures = () if told is None else year_pictures(told)
    now = house.now.year
    shown = {"told": told, "pictures": pictures, "asked": year, "now": now, "error": error}
    return page(request, "year.html", status=200 if error is None else 422, **shown)


@pages.get("/notebook/year.pdf")
def as_pages(house: InHouse, year: str = "", paper: str = "a4") -> Response:
    """The same on paper."""
    from baitwright.workshop.years.year_sheet import write_year

    told, size, now = _told(house, year), paper_of(paper), house.now
    return pdf_download(
        f"year-{told.year}.pdf", lambda path: write_year(path, told, paper=size, now=now)
    )


def _told(house: House, year: str) -> YearReport:
    from baitwright.workshop.years.year import year_report, year_typed

    now = house.now
    with house.notebook.looking() as book:
        return year_report(book, year_typed(year, now=now), now=now)
