"""At the bench: a planned batch made with wet hands, step after step."""

from __future__ import annotations

import secrets
from pathlib import Path
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Body, Depends, Request
from fastapi.responses import FileResponse, HTMLResponse, JSONResponse, RedirectResponse

from baitwright.terms.errors import InputError
from baitwright.web.guard import HEADER, TOKEN, holds_token, token_of
from baitwright.web.house import house_of
from baitwright.web.in_house import InHouse
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)
_AT = "/batches/{day}/{number}/bench"
_STATIC = Path(__file__).parents[1] / "static"
_MOST_AT_ONCE = 500
"""Taps sent in one go (judgement); a page that was away for a day has fewer."""


def _batch(day: str, number: str) -> str:
    return f"{day}/{number}"


Named = Annotated[str, Depends(_batch)]
"""The batch of a path; its name holds a slash."""


async def _pairs(request: Request) -> list[tuple[str, str]]:
    form = await request.form()
    return [(name, one) for name, one in form.multi_items() if isinstance(one, str)]


Pairs = Annotated[list[tuple[str, str]], Depends(_pairs)]


@pages.get("/bench/{day}/{number}")
def short_way(day: str, number: str) -> RedirectResponse:
    """The bench of a batch by a shorter name."""
    return RedirectResponse(f"/batches/{quote(day)}/{quote(number)}/bench", 307)


@pages.get(_AT)
def bench(request: Request, house: InHouse, name: Named) -> HTMLResponse:
    """The strip of a batch with the live step large; another is shown where it is asked for."""
    from baitwright.workshop.bench.bench_book import look

    with house.notebook.looking() as book:
        try:
            found = look(book, name)
        except InputError as error:
            return page(request, "refusal.html", status=404, code=404, told=str(error))
    return _shown(request, found, step=request.query_params.get("step", ""))


@pages.post(_AT, dependencies=[Depends(holds_token)])
def deed(request: Request, name: Named, pairs: Pairs) -> Any:
    """A tap of a page without a script."""
    from baitwright.workshop.bench.bench_book import look, tap
    from baitwright.workshop.bench.bench_form import taps_of_form

    house = house_of(request)
    now = house.notebook.clock()
    with house.notebook.writing() as book:
        found = look(book, name)
        try:
            taps = taps_of_form(found, pairs, now=now)
        except InputError as error:
            typed = dict(pairs)
            return _shown(request, found, step=typed.get("step", ""), error=error, typed=typed)
        tap(book, name, taps, now=now)
    moves = any(one.kind in ("done", "undo") for one in taps)
    stays = "" if moves else dict(pairs).get("step", "")
    asked = f"?step={stays}#step-{stays}" if stays else "#live"
    return RedirectResponse(f"/batches/{quote(name)}/bench{asked}", 303)


@pages.get(f"{_AT}/taps")
def told_taps(house: InHouse, name: Named) -> JSONResponse:
    """Every tap there is, for a page that looks whether another one tapped."""
    from baitwright.workshop.bench.bench_book import look
    from baitwright.workshop.bench.bench_form import taps_as_json

    try:
        with house.notebook.looking() as book:
            return JSONResponse(taps_as_json(look(book, name)))
    except InputError as error:
        return JSONResponse({"detail": str(error)}, 404)


@pages.post(f"{_AT}/taps", dependencies=[Depends(holds_token)])
def take_taps(
    house: InHouse,
    name: Named,
    taps: Annotated[list[Any], Body(embed=True, max_length=_MOST_AT_ONCE)],
) -> JSONResponse:
    """Taps that a page's script sends, once or again; one that cannot be is told and kept out."""
    from baitwright.workshop.bench.bench_book import tap
    from baitwright.workshop.bench.bench_form import taps_as_json
    from baitwright.workshop.strip.bench_tap import tap_from_json

    taken, refused = [], []
    for at, one in enumerate(taps):
        try:
            taken.append(tap_from_json(one))
        except InputError as error:
            refused.append({"at": at, "said": str(error)})
    try:
        with house.notebook.writing() as book:
            found = tap(book, name, taken, now=house.notebook.clock())
    except InputError as error:
        return JSONResponse({"detail": str(error)}, 404 if error.field == "batch" else 409)
    return JSONResponse({**taps_as_json(found), "refused": refused})


@pages.get(f"{_AT}/write")
def write(request: Request, house: InHouse, name: Named) -> HTMLResponse:
    """The last step: what was told, filled in, to be looked over and written down."""
    from baitwright.workshop.bench.bench_book import look
    from baitwright.workshop.bench.bench_writing import to_write

    with house.notebook.looking() as book:
        found = look(book, name)
    return _to_write(request, found, to_write(found))


@pages.post(f"{_AT}/write", dependencies=[Depends(holds_token)])
def written(request: Request, name: Named, pairs: Pairs) -> Any:
    """Made by what the page says; or, of a batch made already, measured later."""
    from baitwright.workshop.bench.bench_book import look
    from baitwright.workshop.bench.bench_writing import typed_again
    from baitwright.workshop.bench.bench_written import write_down
    from baitwright.workshop.forms.asked_places import wrong

    house = house_of(request)
    now = house.notebook.clock()
    entries = [one for one in pairs if one[0] != TOKEN]
    with house.notebook.writing() as book:
        try:
            outside = write_down(book, name, entries, now=now)
        except InputError as error:
            found = look(book, name)
            group = typed_again(found, entries)
            said = wrong(group, error)
            return _to_write(request, found, group, error=said, typed=dict(entries))
    asked = "?" + "&".join(f"outside={one}" for one in outside) if outside else ""
    return RedirectResponse(f"/batches/{quote(name)}/bench/written{asked}", 303)


@pages.get(f"{_AT}/written")
def was_written(request: Request, house: InHouse, name: Named) -> HTMLResponse:
    """It is written down; what to do next."""
    from baitwright.workshop.bench.bench_book import look
    from baitwright.workshop.bench.bench_writing import outside_of

    with house.notebook.looking() as book:
        found = look(book, name)
    outside = outside_of(request.query_params.getlist("outside"))
    return page(request, "bench_written.html", found=found, outside=outside)


@pages.get("/bench-worker.js")
def worker() -> FileResponse:
    """The script that keeps the bench open while the workshop is away; it minds batches alone."""
    allowed = {"service-worker-allowed": "/batches/"}
    return FileResponse(_STATIC / "bench" / "worker.js", headers=allowed)


@pages.get("/workshop.webmanifest")
def manifest() -> JSONResponse:
    """What a browser needs to put the workshop among a machine's programs."""
    mark = {"src": "/static/mark.svg", "sizes": "any", "type": "image/svg+xml"}
    told = {
        "id": "/",
        "name": "Baitwright",
        "short_name": "Baitwright",
        "start_url": "/",
        "display": "standalone",
        "background_color": "#faf6ee",
        "theme_color": "#84441a",
        "icons": [mark],
    }
    return JSONResponse(told, media_type="application/manifest+json")


def _shown(
    request: Request,
    found: Any,
    *,
    step: str = "",
    error: InputError | None = None,
    typed: dict[str, str] | None = None,
) -> HTMLResponse:
    from baitwright.workshop.bench.bench_form import bench_as_json

    house = house_of(request)
    state = found.state
    keys = [one.key for one in found.strip]
    live = step if step in keys else state.live
    now = house.notebook.clock()
    told = {
        "found": found,
        "state": state,
        "shown": live,
        "error": error,
        "typed": typed or {},
        "now": now,
        "refresh": state.seconds_to_next(now),
        "fresh": secrets.token_hex(8),
        "data": {**bench_as_json(found), "token": token_of(house), "header": HEADER},
    }
    return page(request, "bench.html", status=200 if error is None else 422, **told)


def _to_write(
    request: Request,
    found: Any,
    group: Any,
    *,
    error: Any = None,
    typed: dict[str, str] | None = None,
) -> HTMLResponse:
    from baitwright.workshop.bench.bench_written import told_at

    _, refused = told_at(found)
    told = {"found": found, "group": group, "error": error, "typed": typed or {}}
    status = 200 if error is None else 422
    return page(request, "bench_write.html", status=status, refused=refused, **told)
