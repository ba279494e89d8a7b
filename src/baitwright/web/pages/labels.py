"""Labels of what was made here, looked at and printed; and what something cost, on paper."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, Request
from fastapi.responses import Response

from baitwright.web.files import paper_of, pdf_download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.questions import Question, add_all

if TYPE_CHECKING:
    from baitwright.workshop.labels.label_tables import LabelsTable

pages = APIRouter(include_in_schema=False)


def _labels(house: House, told: LabelsTable) -> dict[str, Any]:
    """What stands on each, with the sign of its lot."""
    from baitwright.workshop.labels.label_words import labels_shown
    from baitwright.workshop.labels.labels import labels_of

    with house.notebook.looking() as book:
        found = labels_of(book, told.name, told.telling())
    return {"labels": labels_shown(found, paper=told.paper)}


@cache
def questions() -> dict[str, Question]:
    """What can be asked, by its path."""
    from baitwright.workshop.labels.label_tables import LabelsTable

    return {
        "/labels": Question(
            "Labels",
            LabelsTable,
            _labels,
            about="For a batch's bags, one bag, packs, kits, a tub of mix or a blend.",
            template="labels.html",
            shown=lambda house: {"choose": (), "field": ""},
        ),
    }


add_all(pages, ("/labels",), questions=questions)


@pages.get("/labels/labels.pdf")
def as_pages(request: Request, house: InHouse) -> Response:
    """The same on paper, with each lot's sign to be read by a phone."""
    from baitwright.workshop.forms.told_fields import told_by
    from baitwright.workshop.labels.label_tables import LabelsTable
    from baitwright.workshop.labels.label_words import write_labels
    from baitwright.workshop.labels.labels import labels_of
    from baitwright.workshop.typed.reading import parse

    raw = told_by(LabelsTable, request.query_params.multi_items())
    told = parse(raw, LabelsTable, where="")
    with house.notebook.looking() as book:
        found = labels_of(book, told.name, told.telling())
    return pdf_download(
        "labels.pdf", lambda path: write_labels(path, found, paper=told.paper, skip=told.skip)
    )


@pages.get("/cost/cost.pdf")
def cost_pages(house: InHouse, *, batch: str = "", lot: str = "", paper: str = "a4") -> Response:
    """What a batch or a lot cost, on paper."""
    from baitwright.workshop.costs.cost_sheet import write_cost
    from baitwright.workshop.costs.costs import cost_of_batch, cost_of_lot
    from baitwright.workshop.costs.prices import price_lines

    with house.notebook.looking() as book:
        found = cost_of_batch(book, batch) if batch else cost_of_lot(book, lot)
        prices = price_lines(book)
    size, now = paper_of(paper), house.now
    return pdf_download(
        "cost.pdf", lambda path: write_cost(path, found, prices, paper=size, now=now)
    )
