"""Dose quickly: weigh the eggs, choose the liquid and one's own syringe, read the ml."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.terms.errors import InputError
from baitwright.web.asking import status_of
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)
_FIELDS = ("eggs", "where", "liquid", "syringe")


@pages.get("/dose")
def dose(request: Request, house: InHouse) -> HTMLResponse:
    """The form, and the number."""
    from baitwright.workshop.forms.asked_places import Wrong
    from baitwright.workshop.levels.dose_quick import BOWL, SHELL, Quick, read_off, tools

    told = {name: request.query_params.get(name, "") for name in _FIELDS}
    liquids = _choices(house)
    chosen = next((one for one in liquids if one.key == told["liquid"]), liquids[0])
    found, error = None, None
    if told["eggs"].strip():
        try:
            where = told["where"] or BOWL
            found = read_off(Quick(told["eggs"], chosen, where, told["syringe"]))
        except InputError as refused:
            place = refused.field if refused.field in _FIELDS else "eggs"
            error = Wrong(str(refused), place)
    asked: dict[str, Any] = {"told": told, "chosen": chosen, "ways": (BOWL, SHELL)}
    rest: dict[str, Any] = {"liquids": liquids, "tools": tools(), "found": found, "error": error}
    return page(request, "dose.html", status=status_of(request, error), **asked, **rest)


def _choices(house: House) -> Any:
    from baitwright.workshop.levels.dose_quick import choices

    if not house.notebook.is_there:
        return choices(None)
    with house.notebook.looking() as book:
        return choices(book)
