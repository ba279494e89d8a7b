"""Learning: the maker's own factors batch by batch, accepted into plans or taken back."""

from __future__ import annotations

from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.materials.factors import set_said
from baitwright.web.deeds import Deed, Doing, add_all
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page
from baitwright.web.turns import IN_TURN

pages = APIRouter(include_in_schema=False)
_PATH = "/learning"


@pages.get(_PATH, dependencies=[IN_TURN])
def learning(request: Request, house: InHouse) -> HTMLResponse:
    """Every factor with its band, its batches and its changes, and what to measure next."""
    from baitwright.workshop.factors.learned_shown import learned_shown
    from baitwright.workshop.factors.learning_book import learning

    if not house.notebook.is_there:
        return page(request, "learning.html", made=None)
    with house.notebook.looking() as book:
        made = learning(book, now=house.now)
    return page(request, "learning.html", made=made, shown=learned_shown(made))


def _accept(doing: Doing) -> Done:
    from baitwright.workshop.factors.learning_book import accept

    with doing.house.notebook.writing() as book:
        standing = accept(book, now=doing.house.now)
    return Done(_PATH, "Plans are made with: %(name)s", {"name": set_said(standing.name)})


def _before(doing: Doing) -> Done:
    from baitwright.workshop.factors.factors_kept import factors_before

    with doing.house.notebook.writing() as book:
        standing = factors_before(book, now=doing.house.now)
    return Done(_PATH, "Plans are made with: %(name)s", {"name": set_said(standing.name)})


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.shelf.deed_tables import Nothing

    return {
        "accept": Deed(
            "Plan with what was learned",
            "Plan with it",
            Nothing,
            _accept,
            back=_PATH,
            about="From now on plans go by all that your batches taught. Plans made before stay.",
        ),
        "before": Deed(
            "Back to the factors before",
            "Go back to them",
            Nothing,
            _before,
            back=_PATH,
            about="From now on plans go by the factors before the last ones, or by the tables.",
        ),
    }


add_all(pages, _PATH, ("accept", "before"), deeds=deeds)
