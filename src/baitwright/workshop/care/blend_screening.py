"""A blend of liquids screened for acute toxicity: its parts out of the notebook, or as typed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.advice.toxicity import Part, Screening, Standing, screen
from baitwright.materials.acute_toxicity import ROUTES, point_of
from baitwright.materials.hazard_phrases import codes_in
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import read_toxicity
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.typed.nearest import plain_name

BLEND = "blend"
_PART = re.compile(r"\s*([\d.,]+)\s*%\s*([^:]*?)\s*(?::\s*(.+))?")
_ACCEPTED = (
    "a share, a name and what its sheet has: '26 % Clove: oral 2737 mg/kg; vapour 11 mg/l', "
    "'11 % water: oral not relevant' or '5 % rest' for what nobody knows"
)


@dataclass(frozen=True, slots=True)
class Screened:
    """A blend with what each route gives; ``by_phrase`` names parts whose phrase stood in."""

    name: str
    routes: tuple[Screening, ...]
    by_phrase: tuple[str, ...]
    shares: str


@dataclass(frozen=True, slots=True)
class _Told:
    name: str
    share: float
    toxicity: Mapping[str, float | None]
    hazards: tuple[str, ...] = ()


def blends(page: Page) -> tuple[str, ...]:
    """The blends that are written down with their parts."""
    return tuple(one.name for one in page.all(BLEND) if one.body and one.body.get("part"))


def screen_blend(book: Notebook, name: str) -> Screened:
    """A blend of the notebook; what its parts' records do not tell is unknown.

    Raises
    ------
    InputError: no such blend, or one that does not tell its parts.
    """
    with book.reading() as page:
        found = page.latest(BLEND, as_kept(page, BLEND, name))
        body = None if found is None else found.body
        if found is None or not body or not body.get("part"):
            known = ", ".join(blends(page)) or "none yet"
            raise InputError(BLEND, name, f"a blend of the notebook with its parts: {known}")
        records = {plain_name(one.name): one.body or {} for one in page.all("liquid")}
    whole = math.fsum(one["parts"] for one in body["part"])
    told = [_of_record(one, records, whole) for one in body["part"]]
    return _screened(found.name, told, "by volume")


def screen_parts(parts: Iterable[str]) -> Screened:
    """A blend as it is typed, part by part.

    Raises
    ------
    InputError: a part that is none, or shares that are more than the whole.
    """
    told = [_typed(one, at) for at, one in enumerate(parts, start=1)]
    if not told:
        raise InputError("part", None, _ACCEPTED)
    return _screened("these parts", told, "as typed")


def _typed(words: str, at: int) -> _Told:
    found = _PART.fullmatch(words)
    if found is None:
        raise InputError(f"part {at}", words, _ACCEPTED)
    told = [read_toxicity(one) for one in (found[3] or "").split(";") if one.strip()]
    share = float(found[1].replace(",", ".")) / 100.0
    return _Told(found[2] or f"part {at}", share, dict(told))


def _of_record(one: Mapping[str, Any], records: Mapping[str, Any], whole: float) -> _Told:
    body = records.get(plain_name(one["liquid"]), {})
    told = dict(map(read_toxicity, body.get("toxicity", ())))
    hazards = tuple(codes_in(body.get("hazards", ())))
    return _Told(one["liquid"], one["parts"] / whole, told, hazards)


def _screened(name: str, told: list[_Told], shares: str) -> Screened:
    routes = [
        screen([_part(one, route) for one in told], route)
        for route in ROUTES
        if any(route in one.toxicity or point_of(route, one.hazards) for one in told)
    ]
    stood_in = {
        one.name
        for one in told
        for route in ROUTES
        if route not in one.toxicity and point_of(route, one.hazards)
    }
    return Screened(name, tuple(routes), tuple(sorted(stood_in)), shares)


def _part(one: _Told, route: str) -> Part:
    if route in one.toxicity:
        estimate = one.toxicity[route]
        if estimate is None:
            return Part(one.name, one.share, Standing.NOT_RELEVANT)
        return Part.known(one.name, one.share, estimate)
    point = point_of(route, one.hazards)
    if point is not None:
        return Part.known(one.name, one.share, point)
    return Part(one.name, one.share, Standing.UNKNOWN)
