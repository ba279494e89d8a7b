"""Traces: from a supplier's lot to the night it was fished and back, and recall."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.ledger.trace import Chain, Link, Place, Stop, Traced
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.lots import LOT, lot_of
from baitwright.workshop.traces.trace_about import about

LOT_STOPS = (Stop.INGREDIENT, Stop.MIX, Stop.BATCH, Stop.BAG)
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
        return trace_on(page, place_named(page, name))


def trace_on(page: Page, start: Place) -> Trace:
    """The same of a place, on a page that is open already."""
    after, before = page.links_onward(start), page.links_back(start)
    onward, back = Chain(after), Chain(before).back(start)
    links = tuple(dict.fromkeys((*before, *after)))
    told = about(page, {start, *(end for link in links for end in (link.source, link.into))})
    return Trace(start, back, onward.onward(start), onward.recall(start), links, told)


def place_named(page: Page, name: str, *, lots_first: bool = False) -> Place:
    """The place of a name; a supplier's lot may be told without the supplier.

    Raises
    ------
    InputError: nothing of that name is in any trace, or several are.
    """
    for stop in Stop:  # "night 2026-11-27/1", where a lot has the same name
        if name.casefold().startswith(f"{stop} "):
            for meant in page.places(name[len(stop) + 1 :]):
                if meant.stop is stop:
                    return meant
    places = page.places(name.strip())
    if lots_first:
        places = tuple(one for one in places if one.stop in LOT_STOPS) or places
    if len(places) == 1:
        return places[0]
    if places:
        told = ", ".join(f"{one.stop} {one.name}" for one in places)
        raise InputError("trace", name, f"one of these, in full: {told}")
    name = as_kept(page, LOT, name)
    if page.latest(LOT, name) is not None:
        return Place(Stop(lot_of(page, name).stop), name)
    raise InputError("trace", name, "a lot, a batch, a bag, a night, a sale or a supplier's lot")
