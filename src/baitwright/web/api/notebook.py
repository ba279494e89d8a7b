"""The notebook: batches, recipes, the shelf and traces; and the token that writing needs."""

from __future__ import annotations

from ipaddress import ip_address
from typing import Annotated, Any

from fastapi import APIRouter, Depends, HTTPException, Path, Query, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from baitwright.web.api.answers import HOLDS, LOOKS, WRITES, said
from baitwright.web.api.plans import PlanAsked, request_asked
from baitwright.web.guard import HEADER, token_of
from baitwright.web.in_house import InHouse
from baitwright.web.turns import IN_TURN
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile
from baitwright.workshop.typed.reading import Table

asks = APIRouter()
Name = Annotated[str, Path(max_length=200)]
Words = Annotated[str, Query(max_length=200)]
_Once = Annotated[str, Field(max_length=64, description="The same again does nothing new.")]


class Token(BaseModel):
    """The token, and the header it goes in."""

    header: str
    token: str


class BatchListed(BaseModel):
    """A batch in a list."""

    name: str
    about: str | None
    day: str | None
    recipe_version: int | None
    state: str | None
    baits: int | None


class Batches(BaseModel):
    """The last batches, the latest first."""

    batches: list[BatchListed]


class BatchTold(BaseModel):
    """A batch: planned, measured, and its bags."""

    name: str
    about: str
    state: str
    recipe_version: int
    predicted: dict[str, list[float]]
    bags: dict[str, Any]


class ShelfTold(BaseModel):
    """Every item with its lots, in milligrams, microlitres or pieces; money as text."""

    items: list[dict[str, Any]]


class Version(BaseModel):
    """A version of a recipe."""

    name: str
    version: int
    time: str
    reason: str
    toml: str


class Recipes(BaseModel):
    """Recipes, or the versions of one."""

    recipes: list[Version]


class TraceTold(BaseModel):
    """Where something came from and where it went."""

    start: dict[str, Any]
    back: list[dict[str, Any]]
    onward: list[dict[str, Any]]
    recall: list[dict[str, Any]]
    links: list[dict[str, str]]


class KeepAsked(Table):
    """A recipe to be kept as the next version of its name."""

    recipe: RecipeFile
    reason: Annotated[str, Field(max_length=200)] = ""


class BatchAsked(PlanAsked):
    """A recipe and a bench, to be planned into the notebook."""

    once: _Once = ""


class Written(BaseModel):
    """What was written."""

    name: str
    version: int
    is_new: bool


class BatchPlanned(BaseModel):
    """A batch that was planned, with what the shelf has for it."""

    name: str
    about: str
    version: int
    state: str
    reserved: list[str]
    short: list[str]
    missing: list[str]


async def _raw(request: Request) -> dict[str, Any]:
    """The body as it was sent."""
    told: dict[str, Any] = await request.json()
    return told


Raw = Annotated[dict[str, Any], Depends(_raw)]


@asks.get("/token", responses={**WRITES, 200: {"model": Token}})
def token(request: Request, house: InHouse) -> Response:
    """The token that writing needs, for programs on this machine alone."""
    if request.client is None or not _is_here(request.client.host):
        raise HTTPException(403, "Only a program on the workshop's own machine is told that.")
    return said({"header": HEADER, "token": token_of(house)})


@asks.get("/batches", responses={**LOOKS, 200: {"model": Batches}})
def batches(house: InHouse, words: Words = "") -> Response:
    """The last batches, the latest first; only those with some words in them, where told."""
    from baitwright.workshop.batches.batch_list import last_batches
    from baitwright.workshop.bench.batch_words import batches_json

    with house.notebook.looking() as book:
        return said(batches_json(last_batches(book, words=words)))


@asks.get("/batches/{name:path}", responses={**LOOKS, 200: {"model": BatchTold}})
def batch(house: InHouse, name: Name) -> Response:
    """A batch with its bags."""
    from baitwright.workshop.batches.bags import batch_with_bags

    with house.notebook.looking() as book:
        found, bags = batch_with_bags(book, name)
    return said({"name": name, **(found.body or {}), "bags": {one.name: one.body for one in bags}})


@asks.get("/shelf", responses={**LOOKS, 200: {"model": ShelfTold}})
def shelf(house: InHouse) -> Response:
    """What stands on the shelf."""
    from baitwright.workshop.shelf.shelf_table import shelf_json
    from baitwright.workshop.shelf.stock import shelves

    with house.notebook.looking() as book:
        return said(shelf_json(shelves(book)))


@asks.get("/recipes", responses={**LOOKS, 200: {"model": Recipes}})
def recipes(house: InHouse) -> Response:
    """Every recipe as it stands."""
    from baitwright.workshop.recipes.recipe_shelf import recipes as found

    with house.notebook.looking() as book:
        return said({"recipes": [_version(one) for one in found(book)]})


@asks.get("/recipes/{name:path}", responses={**LOOKS, 200: {"model": Recipes}})
def versions(house: InHouse, name: Name) -> Response:
    """Every version of a recipe, the first one first."""
    from baitwright.workshop.recipes.recipe_shelf import versions as found

    with house.notebook.looking() as book:
        return said({"recipes": [_version(one) for one in found(book, name)]})


@asks.get("/trace", responses={**LOOKS, 200: {"model": TraceTold}})
def trace(house: InHouse, name: Words) -> Response:
    """Where something came from and where it went."""
    from baitwright.workshop.traces.trace_words import trace_json
    from baitwright.workshop.traces.traces import trace as follow

    with house.notebook.looking() as book:
        return said(trace_json(follow(book, name)))


@asks.post(
    "/recipes", status_code=201, dependencies=HOLDS, responses={**WRITES, 201: {"model": Written}}
)
def keep(asked: KeepAsked, raw: Raw, house: InHouse) -> Response:
    """Keep a recipe as the next version of its name; one like the newest makes no new one."""
    from baitwright.workshop.recipes.recipe_told import keep_told

    now = house.notebook.clock()
    with house.notebook.writing() as book:
        kept = keep_told(book, raw["recipe"], now=now, reason=asked.reason)
    one = kept.revision
    return said({"name": one.name, "version": one.version, "is_new": kept.is_new}, 201)


@asks.post(
    "/batches",
    status_code=201,
    dependencies=[*HOLDS, IN_TURN],
    responses={**WRITES, 201: {"model": BatchPlanned}},
)
def plan_batch(asked: BatchAsked, raw: Raw, house: InHouse) -> Response:
    """Plan a batch into the notebook, and speak for what it takes off the shelf."""
    from dataclasses import asdict

    from baitwright.workshop.bench.plan_saved import save, saved
    from baitwright.workshop.plans.plan_told import PlanTold
    from baitwright.workshop.plans.worked_out import worked_out

    now, made = house.notebook.clock(), worked_out(request_asked(asked, house))
    told = PlanTold(raw["recipe"], raw["bench"])
    with house.notebook.writing() as book:
        name = save(book, told, made, once=asked.once, now=now)
        return said(asdict(saved(book, name)), 201)


def _version(one: Any) -> dict[str, Any]:
    from baitwright.workshop.recipes.recipe_changes import text_of

    return {
        "name": one.name,
        "version": one.version,
        "time": one.time.isoformat(),
        "reason": one.reason,
        "toml": text_of(one),
    }


def _is_here(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False
