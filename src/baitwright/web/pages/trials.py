"""A trial before it is started: nights needed, who fishes what where, and when to stop."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import nullcontext
from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter

from baitwright.web.house import House
from baitwright.web.questions import Question, add_all

if TYPE_CHECKING:
    from baitwright.workshop.comparing import trial_tables as tables

pages = APIRouter(include_in_schema=False)


def _nights(house: House, told: tables.NightsQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.trial_shown import needs_shown

    with _book(house) as book:
        found = needs_shown(book, told)
    return {} if found is None else {"needs": found}


def _swap(house: House, told: tables.SwapQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.trial_shown import swap_shown

    return {"rods": swap_shown(told)}


def _square(house: House, told: tables.SquareQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.trial_shown import square_shown

    return {"rods": square_shown(told)}


def _look(house: House, told: tables.LookQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.trial_shown import look_shown

    with _book(house) as book:
        return {"rule": look_shown(book, told)}


def _book(house: House) -> Any:
    """The notebook to look into; nothing where there is none yet."""
    return house.notebook.looking() if house.notebook.is_there else nullcontext()


@cache
def questions() -> dict[str, Question]:
    """What can be asked of a trial, by its path."""
    from baitwright.workshop.comparing import trial_tables as tables

    return {
        "/notebook/trial": Question(
            "Plan a trial",
            tables.NightsQuestion,
            _nights,
            about="How many nights a true difference needs before it shows.",
            template="trial.html",
            at_once=True,
        ),
        "/notebook/trial/swap": Question(
            "Two baits that change sides",
            tables.SwapQuestion,
            _swap,
            about="Both rods out every night; which side is best for fish falls out of it.",
            template="trial.html",
        ),
        "/notebook/trial/square": Question(
            "Three baits or more",
            tables.SquareQuestion,
            _square,
            about="Each bait once on every rod and every night.",
            template="trial.html",
        ),
        "/notebook/trial/look": Question(
            "When to stop",
            tables.LookQuestion,
            _look,
            about="A rule set before the first night, and where the trial stands by it.",
            template="trial.html",
        ),
    }


_PATHS = (
    "/notebook/trial",
    "/notebook/trial/swap",
    "/notebook/trial/square",
    "/notebook/trial/look",
)
add_all(pages, _PATHS, questions=questions)
