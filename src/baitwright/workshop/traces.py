"""Traces: from a supplier's lot to the night it was fished and back; quarantine, and recall."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from baitwright.ledger.trace import Chain, Link, Place, Stop, Traced
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.lots import LOT, lot_of, lots_named
from baitwright.workshop.names import as_kept
from baitwright.workshop.trace_about import about

_LOTS = (Stop.INGREDIENT, Stop.MIX, Stop.BATCH, Stop.BAG)
"""Stops that are lots of the shelf."""


@dataclass(frozen=True, slots=True)
class Trace:
    """A place, what went into it and what it went into, and which of it is to be fetched back.

    ``about`` says what each place is: an item, a customer's code, a water.
    """

    start: Place
    back: tuple[Traced, ...]
    onward: tuple[Traced, ...]
    recall: tuple[Place, ...]
    links: tuple[Link, ...]
    about: Mapping[Place, str]


@dataclass(frozen=True, slots=True)
class Quarantined:
    """Lots that were put into quarantine together, or let out of it."""

    lots: tuple[str, ...]
    recall: tuple[Place, ...]
    about: Mapping[Place, str]


def trace(book: Notebook, name: str) -> Trace:
    """Everything that something was made of, and everything that it went into.

    Parameters
    ----------
    book: the notebook.
    name: of a lot, a batch, a bag, a night or a sale, or a supplier's lot with or without their
        name.

    Raises
    ------
    InputError: nothing of that name is in any trace.
    """
    with book.reading() as page:
        return _trace(page, _place(page, name))


def quarantine(book: Notebook, name: str, why: str, *, now: datetime) -> Quarantined:
    """Put a lot and all lots that hold something of it aside, so that nothing picks them.

    Raises
    ------
    InputError: no such lot or supplier's lot, or no reason.
    """
    if not why.strip():
        raise InputError("why", None, "a reason, such as a musty smell")
    with book.writing() as page:
        found = _trace(page, _place(page, name, lots_first=True))
        lots = tuple(_set_aside(page, found, why=why, now=now))
    return Quarantined(lots, found.recall, found.about)


def keep_aside(page: Page, joined: Iterable[tuple[str, Place]], *, now: datetime) -> None:
    """Set aside what newly goes on from lots in quarantine, for after an import.

    Parameters
    ----------
    page: with all that came in.
    joined: lots, each with a place of it or after it from where on all is set aside.
    now: when, with its zone.
    """
    for name, place in joined:
        for _, lot in lots_named(page, [name]):
            if lot.quarantined:
                _set_aside(page, _trace(page, place), why=lot.why, now=now)


def release(book: Notebook, lot: str, why: str, *, now: datetime) -> None:
    """Let one lot out of quarantine; what was made of it stays there until it is let out too.

    Raises
    ------
    InputError: no such lot, one that is not in quarantine, or no reason.
    """
    if not why.strip():
        raise InputError("why", None, "a reason, such as a second look")
    with book.writing() as page:
        lot = as_kept(page, LOT, lot)
        found, told = page.latest(LOT, lot), lot_of(page, lot)
        if not told.quarantined or found is None:
            raise InputError("lot", lot, "a lot in quarantine")
        body = replace(told, quarantined=False, why="").as_body()
        page.write(LOT, lot, body, seen=found.version, time=now, reason=why)


def _set_aside(page: Page, found: Trace, *, why: str, now: datetime) -> list[str]:
    lots = []
    for place in (found.start, *(one.place for one in found.onward)):
        if place.stop not in _LOTS:
            continue  # a night may have the name of a lot
        record = page.latest(LOT, place.name)
        if record is not None and record.body is not None:
            body = replace(lot_of(page, place.name), quarantined=True, why=why).as_body()
            if body != record.body:
                page.write(LOT, place.name, body, seen=record.version, time=now, reason=why)
            lots.append(place.name)
    return lots


def _trace(page: Page, start: Place) -> Trace:
    after, before = page.links_onward(start), page.links_back(start)
    onward, back = Chain(after), Chain(before).back(start)
    links = tuple(dict.fromkeys((*before, *after)))
    told = about(page, {start, *(end for link in links for end in (link.source, link.into))})
    return Trace(start, back, onward.onward(start), onward.recall(start), links, told)


def _place(page: Page, name: str, *, lots_first: bool = False) -> Place:
    """The place of a name; a supplier's lot may be told without the supplier."""
    for stop in Stop:  # "night 2026-11-27/1", where a lot has the same name
        if name.casefold().startswith(f"{stop} "):
            for meant in page.places(name[len(stop) + 1 :]):
                if meant.stop is stop:
                    return meant
    places = page.places(name.strip())
    if lots_first:
        places = tuple(one for one in places if one.stop in _LOTS) or places
    if len(places) == 1:
        return places[0]
    if places:
        told = ", ".join(f"{one.stop} {one.name}" for one in places)
        raise InputError("trace", name, f"one of these, in full: {told}")
    name = as_kept(page, LOT, name)
    if page.latest(LOT, name) is not None:
        return Place(Stop(lot_of(page, name).stop), name)
    raise InputError("trace", name, "a lot, a batch, a bag, a night, a sale or a supplier's lot")
