"""The rooms behind the page that opens: every other page, and what can be done there."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI

from baitwright.web.pages import (
    answers,
    ask,
    batches,
    bench,
    care,
    cautions,
    complaints,
    demo,
    dose,
    faults,
    labels,
    languages,
    learning,
    mix,
    notebook,
    orders,
    plan,
    prices,
    recipes,
    shelf,
    sign_in,
    tables,
    trace,
    travel,
    trials,
    year,
)
from baitwright.web.refusals import REFUSALS
from baitwright.web.trouble import Trouble

_ROOMS = (
    *(bench, travel, batches, plan, mix, dose, recipes, shelf, tables, prices),
    *(orders, answers, ask, faults, complaints, learning, trials, year, notebook, trace),
    *(care, cautions, demo, labels, sign_in, languages),
)
PAGES = tuple(room.pages for room in _ROOMS)


def make_rooms(state: Any) -> FastAPI:
    """All of them over a workshop's state."""
    rooms = FastAPI(
        docs_url=None,  # its pages would fetch scripts from elsewhere
        redoc_url=None,
        openapi_url=None,
        exception_handlers=dict(REFUSALS),
    )
    rooms.state = state
    rooms.add_middleware(Trouble)
    for pages in PAGES:
        rooms.include_router(pages)
    return rooms
