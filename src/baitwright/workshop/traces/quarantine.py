"""Quarantine: lots put aside with all that was made of them, kept there, and let out again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.lots import LOT, lot_of, lots_named
from baitwright.workshop.traces.let_out import (
    let_out,
    set_aside_also,
    set_aside_with,
    shared_reasons,
)
from baitwright.workshop.traces.traces import LOT_STOPS, Trace, place_named, trace_on


@dataclass(frozen=True, slots=True)
class Quarantined:
    """Lots that were put into quarantine together."""

    lots: tuple[str, ...]
    recall: tuple[Place, ...]
    about: Mapping[Place, str]


@dataclass(frozen=True, slots=True)
class Released:
    """Lots that were let out of quarantine, and those reached that stay in it, each with why."""

    lots: tuple[str, ...]
    still: tuple[tuple[str, str], ...]


def quarantine(book: Notebook, name: str, why: str, *, now: datetime) -> Quarantined:
    """Put a lot and all lots that hold something of it aside, so that nothing picks them.

    Raises
    ------
    InputError: no such lot or supplier's lot, or no reason.
    """
    _require(why, "a musty smell")
    with book.writing() as page:
        found = trace_on(page, place_named(page, name, lots_first=True))
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
                _set_aside(page, trace_on(page, place), why=lot.why, now=now)


def release(
    book: Notebook, name: str, why: str, *, now: datetime, with_all: bool = False
) -> Released:
    """Let a lot, or the lots of a supplier's, out of quarantine.

    What was made of them stays there. With all, that comes out too, unless it is there for another
    reason or holds something else that is in quarantine.

    Raises
    ------
    InputError: no such lot or supplier's lot, nothing of it in quarantine for one reason, or no
        reason to let it out.
    """
    _require(why, "a second look")
    with book.writing() as page:
        found, named = _meant(page, name)
        before, reasons = _still(page, found), shared_reasons(page, named)
        wanted = dict.fromkeys(_reached(found) if with_all else named, reasons)
        out = let_out(page, wanted, starts=named, why=why, now=now)
        still = _still(page, found)
        if still == before:
            hint = f"In quarantine: {'; '.join(f'{one}, {told}' for one, told in still)}."
            raise InputError("lot", name, "a lot in quarantine", hint=hint if still else "")
    return Released(out, still)


def take_back(book: Notebook, name: str, *, now: datetime) -> Released:
    """Take the last quarantine of a lot or a supplier's lot back, as if it had not been.

    What was in quarantine before, or is there for another reason since, stays there for that.

    Raises
    ------
    InputError: no such lot or supplier's lot, or its last change was no quarantine.
    """
    with book.writing() as page:
        found, named = _meant(page, name)
        wanted = set_aside_with(page, named, _reached(found))
        if not wanted:
            raise InputError("lot", name, "one whose last change was a quarantine")
        out = let_out(page, wanted, starts=named, why="quarantine taken back", now=now)
        return Released(out, _still(page, found))


def _require(why: str, such_as: str) -> None:
    if not why.strip():
        raise InputError("why", None, f"a reason, such as {such_as}")


def _meant(page: Page, name: str) -> tuple[Trace, tuple[str, ...]]:
    """The trace of a name, and the lots that the name itself means."""
    found = trace_on(page, place_named(page, name, lots_first=True))
    if found.start.stop in LOT_STOPS:
        return found, (found.start.name,)
    if found.start.stop is not Stop.SUPPLIED:
        raise InputError("lot", name, "a lot, or a supplier's lot")
    return found, tuple(one.into.name for one in found.links if one.source == found.start)


def _reached(found: Trace) -> tuple[str, ...]:
    """The lots of a trace from its start on, the nearest first."""
    places = (found.start, *(one.place for one in found.onward))
    return tuple(one.name for one in places if one.stop in LOT_STOPS)


def _still(page: Page, found: Trace) -> tuple[tuple[str, str], ...]:
    lots = lots_named(page, _reached(found))
    return tuple((name, lot.why) for name, lot in lots if lot.quarantined)


def _set_aside(page: Page, found: Trace, *, why: str, now: datetime) -> list[str]:
    """Every lot from the start on; one that is there already stays there for both reasons."""
    lots = []
    for name in _reached(found):
        record = page.latest(LOT, name)
        if record is not None and record.body is not None:
            body = set_aside_also(lot_of(page, name), why).as_body()
            if body != record.body:
                page.write(LOT, name, body, seen=record.version, time=now, reason=why)
            lots.append(name)
    return lots
