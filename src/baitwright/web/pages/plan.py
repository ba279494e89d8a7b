"""The plan: inputs and what comes of them, the why of each number, two side by side, and saving."""

from __future__ import annotations

from functools import partial
from secrets import token_urlsafe
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from baitwright.web.asking import (
    BATCH,
    NUMBER,
    Answer,
    Asking,
    answered,
    asked_by,
    asked_of,
    rules_held,
    status_of,
)
from baitwright.web.guard import holds_token
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.render import page
from baitwright.web.turns import IN_TURN

pages = APIRouter(include_in_schema=False)
_HOLDS = [Depends(holds_token), IN_TURN]


@pages.get("/plan", dependencies=[IN_TURN])
def plan(request: Request, house: InHouse) -> HTMLResponse:
    """The form, and the plan of what stands in it."""
    return _shown(request, house, answered(asked_of(request), house))


@pages.get("/plan/why", dependencies=[IN_TURN])
def why(request: Request, house: InHouse, *, query: str = "") -> HTMLResponse:
    """One number of the plan opened; the plan is told by its fields, or by its query."""
    from baitwright.workshop.plans.why import why as opened

    answer = answered(asked_by(query) if query else asked_of(request), house)
    if answer.made is None:
        return _shown(request, house, answer)
    found = opened(answer.made, request.query_params.get(NUMBER, ""))
    back = f"/plan?{_query(answer)}"
    return page(request, "plan_why.html", why=found, back=back, recipe=_name(answer))


@pages.get("/plan/compare", dependencies=[IN_TURN])
def compare(request: Request, house: InHouse, *, first: str = "", second: str = "") -> HTMLResponse:
    """Two plans side by side."""
    from baitwright.workshop.plans.figures import baits_beside
    from baitwright.workshop.plans.plan_beside import beside

    told: dict[str, Any] = {"first": first, "second": second, "batches": _batches(house)}
    if not first or not second:
        return page(request, "plan_compare.html", beside=None, lacking="", **told)
    one, other = (answered(_kept(query), house) for query in (first, second))
    named: dict[str, Any] = {"one": _told_as(one, first), "other": _told_as(other, second)}
    if one.made is None or other.made is None:
        lacking = named["one"] if one.made is None else named["other"]
        return page(request, "plan_compare.html", beside=None, lacking=lacking, **told)
    found = beside((one.told, one.made), (other.told, other.made))
    if named["one"] == named["other"]:
        named = {key: f"{name} ({at})" for at, (key, name) in enumerate(named.items(), 1)}
    told["pair"] = baits_beside((one.made, other.made), (named["one"], named["other"]))
    links: dict[str, Any] = {"to_one": f"/plan?{_query(one)}", "to_other": f"/plan?{_query(other)}"}
    return page(request, "plan_compare.html", beside=found, **told, **named, **links)


@pages.get("/plan/figures.css")
def dark_figures() -> Response:
    """Rules that turn the figures dark where the page is."""
    from baitwright.workshop.plans.figures import dark_rules

    rules = f"@media screen and (prefers-color-scheme: dark) {{\n{dark_rules()}}}\n"
    return Response(rules, media_type="text/css", headers={"cache-control": "max-age=3600"})


@pages.post("/plan/save", dependencies=_HOLDS)
def save(
    request: Request, house: InHouse, *, query: str = Form(""), once: str = Form("")
) -> Response:
    """Keep the recipe and plan the batch; sent twice it is done once."""
    from baitwright.workshop.bench.plan_saved import save as keep

    answer = answered(asked_by(query), house)
    if answer.made is None:
        return _shown(request, house, answer)
    now = house.notebook.clock()
    with house.notebook.writing() as book:
        name = keep(book, answer.told, answer.made, once=once[:64], now=now)
    return RedirectResponse(f"/plan/saved?{urlencode({'batch': name})}", 303)


@pages.get("/plan/saved")
def saved(request: Request, house: InHouse, batch: str = "") -> HTMLResponse:
    """What became of a plan that was saved."""
    from baitwright.workshop.bench.plan_saved import saved as found

    with house.notebook.looking() as book:
        told = found(book, batch)
    return page(request, "plan_saved.html", saved=told)


def _handed_out(paper: str, kind: str) -> None:
    """Open the door to one paper of every planned batch."""

    def papers(house: InHouse, name: str) -> Response:
        from baitwright.workshop.bench.plan_saved import plan_of
        from baitwright.workshop.plans.papers import paper as printed

        with house.notebook.looking() as book:
            made = plan_of(book, name)
        shown = {"content-disposition": f'inline; filename="{paper}"'}
        return Response(printed(made, paper, batch=name), media_type=kind, headers=shown)

    path = f"/batches/{{name:path}}/{paper}"
    pages.add_api_route(path, papers, response_class=Response, dependencies=[IN_TURN])


_handed_out("bench-sheet.pdf", "application/pdf")
_handed_out("day.ics", "text/calendar")
_handed_out("plan.json", "application/json")


def _shown(request: Request, house: House, answer: Answer) -> HTMLResponse:
    from baitwright.workshop.batches.plan_starts import NOTHING, starts
    from baitwright.workshop.factors.learned_shown import next_of
    from baitwright.workshop.plans.plan_shown import plan_shown

    begin = NOTHING
    if house.notebook.is_there:
        with house.notebook.looking() as book:
            begin = starts(book)
    asking = answer.asking
    return page(
        request,
        "plan.html",
        status=status_of(request, answer.error),
        form=answer.form,
        error=answer.error,
        shown=None if answer.made is None else plan_shown(answer.made),
        to_measure=None if answer.made is None else next_of(answer.made),
        held=None if answer.made is None else _held(house, answer.made),
        goes_by="" if answer.request is None else answer.request.factors.name,
        query=answer.query,
        asking=asking,
        starts=begin,
        against=_against(answer, house),
        left_out=answer.left_out,
        once=token_urlsafe(12),
        figures=partial(_figures, answer),
    )


def _held(house: House, made: Any) -> Any:
    """The rules of the plan's water in words; none where it names none."""
    from baitwright.workshop.waters.venue_shown import held_shown

    return held_shown(rules_held(house, made))


def _figures(answer: Answer) -> Any:
    """The plan drawn; asked for by the template, for a script fetches them on their own."""
    if answer.request is None or answer.made is None:
        return ()
    from baitwright.workshop.plans.figures import figures_asked

    return figures_asked(answer.request)


def _against(answer: Answer, house: House) -> dict[str, Any] | None:
    """What differs from the plan that was kept beside, or from the batch that is repeated."""
    asking = answer.asking
    other = asking.beside or (f"{BATCH}{asking.since}" if asking.since else "")
    if answer.made is None or not other:
        return None
    from baitwright.workshop.plans.plan_beside import beside

    before = answered(_kept(other), house)
    if before.made is None:
        return None
    found = beside((before.told, before.made), (answer.told, answer.made))
    link = urlencode({"first": other, "second": answer.query})
    return {"found": found, "link": f"/plan/compare?{link}", "batch": asking.since}


def _kept(query: str) -> Asking:
    """A plan that is told by its query, or by the name of its batch."""
    if query.startswith(BATCH):
        return Asking(start=query)
    return asked_by(query)


def _query(answer: Answer) -> str:
    asking = answer.asking
    kept = {"since": asking.since, "beside": asking.beside}
    also = urlencode({name: value for name, value in kept.items() if value})
    return "&".join(filter(None, (answer.query, also)))


def _name(answer: Answer) -> str:
    return str(answer.told.recipe.get("name", ""))


def _told_as(answer: Answer, query: str) -> str:
    return query.removeprefix(BATCH) if query.startswith(BATCH) else _name(answer)


def _batches(house: House) -> list[tuple[str, str]]:
    if not house.notebook.is_there:
        return []
    from baitwright.workshop.batches.batch_list import last_batches

    with house.notebook.looking() as book:
        found = last_batches(book, 30)
    return [(one.name, str((one.body or {}).get("about", ""))) for one in found]
