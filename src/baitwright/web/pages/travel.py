"""To the water and back: the travelling page, and the nights that come home in it."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import UploadFile

from baitwright.terms.errors import InputError
from baitwright.web.guard import holds_token
from baitwright.web.house import house_of
from baitwright.web.in_house import InHouse
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)
_LONGEST = 2_000_000
"""Bytes of a file of nights (judgement): hundreds of them come to a tenth."""


@pages.get("/travel")
def travel(request: Request) -> HTMLResponse:
    """What the travelling page is, and where nights are taken in."""
    return page(request, "travel.html", error=None, typed="", carried=())


@pages.get("/travel.html")
def travelling_page(request: Request, house: InHouse) -> HTMLResponse:
    """One file with all that goes to the water."""
    from baitwright.workshop.bench.travel import NIGHTS, travelling

    with house.notebook.looking() as book:
        told = travelling(book, now=house.notebook.clock())
    made = page(request, "travelling.html", told=told, kind=NIGHTS)
    name = f"at-the-water-{told.written:%Y-%m-%d}.html"
    made.headers["content-disposition"] = f'attachment; filename="{name}"'
    return made


async def _carried(request: Request) -> str:
    """The text of a file, or what was pasted."""
    form = await request.form()
    file, text = form.get("file"), form.get("text", "")
    told = await file.read(_LONGEST + 1) if isinstance(file, UploadFile) else b""
    await form.close()
    if len(told) > _LONGEST:
        raise InputError("file", f"over {_LONGEST} bytes", "a file of nights")
    pasted = text if isinstance(text, str) else ""
    return told.decode("utf-8-sig", errors="replace") or pasted


@pages.post("/travel", dependencies=[Depends(holds_token)])
def home(request: Request, text: str = Depends(_carried)) -> Any:
    """Take nights in; what happened to each is told, and the same file may come again."""
    from baitwright.workshop.bench.nights_home import take_home

    house = house_of(request)
    try:
        with house.notebook.writing() as book:
            carried = take_home(book, text, now=house.notebook.clock())
    except InputError as error:
        told = {"error": error, "typed": text[:100_000], "carried": ()}
        return page(request, "travel.html", status=422, **told)
    return page(request, "travel.html", error=None, typed="", carried=carried)
