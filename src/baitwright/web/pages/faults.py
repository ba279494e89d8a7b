"""Why it went wrong: what was noticed of a batch, and what may have made it so."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter

from baitwright.web.house import House
from baitwright.web.questions import Question, add_all

if TYPE_CHECKING:
    from baitwright.workshop.faults.faults_question import WhyQuestion

pages = APIRouter(include_in_schema=False)


def _batches(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.batches.kept_plan import planned_batches
    from baitwright.workshop.faults.faults_asked import noticed

    told: dict[str, Any] = {"choose": (), "field": "batch", "noticed": noticed()}
    if house.notebook.is_there:
        with house.notebook.looking() as book:
            told["choose"] = planned_batches(book)
    return told


def _why(house: House, told: WhyQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.faults import faults_words as words
    from baitwright.workshop.faults.faults_asked import why_wrong

    if not told.symptom:
        return {"batch": told.batch, "found": None}
    with house.notebook.looking() as book:
        found = why_wrong(book, told.batch, told.symptom)
    return {"batch": "", "found": found, "words": words}


@cache
def questions() -> dict[str, Question]:
    """What can be asked here, by its path."""
    from baitwright.workshop.faults.faults_question import WhyQuestion

    return {
        "/ask/why": Question(
            "Why it went wrong",
            WhyQuestion,
            _why,
            about="What may have made it so, by the batch's own plan and record.",
            template="why_wrong.html",
            shown=_batches,
        )
    }


add_all(pages, ("/ask/why",), questions=questions)
