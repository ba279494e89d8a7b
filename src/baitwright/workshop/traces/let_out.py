"""Out of quarantine again: for which reasons a lot is there, and what has to stay for another."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

from baitwright.notebook.page import Page, Revision
from baitwright.workshop.shelf.lots import LOT, Lot, lot_of, lots_named, place_of

_AND, _NOT_TOLD = "; ", "no reason told"


def reasons_in(why: str) -> tuple[str, ...]:
    """Reasons as they are written behind one another."""
    return tuple(dict.fromkeys(one.strip() for one in why.split(_AND) if one.strip()))


def reasons_of(lot: Lot) -> tuple[str, ...]:
    """Why a lot is in quarantine; nothing where it is not."""
    return reasons_in(lot.why) or (_NOT_TOLD,) if lot.quarantined else ()


def set_aside_for(lot: Lot, reasons: Iterable[str]) -> Lot:
    """A lot that is in quarantine for these reasons; out of it where there are none."""
    told = dict.fromkeys(reasons)
    return replace(lot, quarantined=bool(told), why=_AND.join(told))


def set_aside_also(lot: Lot, why: str) -> Lot:
    """A lot in quarantine for one more reason than it was."""
    return set_aside_for(lot, (*reasons_of(lot), *reasons_in(why)))


def shared_reasons(page: Page, lots: Iterable[str]) -> frozenset[str]:
    """For what all of some lots are in quarantine, or were when they last were in it."""
    told = [reasons for one in lots if (reasons := _last(page.history(LOT, one)))]
    return frozenset.intersection(*told) if told else frozenset()


def set_aside_with(
    page: Page, starts: Collection[str], lots: Iterable[str]
) -> Mapping[str, frozenset[str]]:
    """What the quarantine that was the last change to some lots set aside, each with its reasons.

    Nothing where their last change was none.
    """
    last = [found for one in starts if (found := _last_change(page, one)) is not None]
    if not last:
        return {}
    stamp = max(map(_stamp, last))
    return {
        lot: reasons
        for lot in lots
        for one, reasons in _added(page.history(LOT, lot))
        if _stamp(one) == stamp
    }


def let_out(
    page: Page,
    wanted: Mapping[str, frozenset[str]],
    *,
    starts: Collection[str],
    why: str,
    now: datetime,
) -> tuple[str, ...]:
    """Take reasons from lots in quarantine; those come out of it that have none left.

    What holds something of a lot that stays in quarantine stays there too, but for the starts.

    Parameters
    ----------
    page: to write on.
    wanted: lots, each with the reasons that are no more.
    starts: the lots that were named.
    why, now: the reason, and when.
    """
    there = {name: lot for name, lot in lots_named(page, wanted) if lot.quarantined}
    left = {
        name: [one for one in reasons_of(lot) if one not in wanted[name]]
        for name, lot in there.items()
    }
    out = {name for name, reasons in left.items() if not reasons}
    while held := {name for name in out.difference(starts) if _holds_back(page, name, out)}:
        out -= held
        for name in held:
            del left[name]
    for name, reasons in left.items():
        record, told = page.latest(LOT, name), set_aside_for(there[name], reasons)
        if record is not None and told != there[name]:
            page.write(LOT, name, told.as_body(), seen=record.version, time=now, reason=why)
    return tuple(name for name in wanted if name in out)


def _holds_back(page: Page, name: str, out: Collection[str]) -> bool:
    """Whether something that a lot was made of stays in quarantine."""
    links = page.links_back(place_of(name, lot_of(page, name)))
    before = lots_named(page, (one.source.name for one in links))
    return any(lot.quarantined and one not in out for one, lot in before)


def _added(versions: Iterable[Revision]) -> Iterator[tuple[Revision, frozenset[str]]]:
    """Every version of a lot that set it aside for something, and for what."""
    before: frozenset[str] = frozenset()
    for one in versions:
        after = _reasons(one)
        if after - before:
            yield one, after - before
        before = after


def _last(versions: Iterable[Revision]) -> frozenset[str]:
    return next(
        (found for one in reversed(tuple(versions)) if (found := _reasons(one))), frozenset()
    )


def _reasons(one: Revision) -> frozenset[str]:
    return frozenset() if one.body is None else frozenset(reasons_of(Lot(**one.body)))


def _stamp(one: Revision) -> tuple[datetime, str]:
    """All lots that are set aside together are so at one time for one reason."""
    return one.time, one.reason


def _last_change(page: Page, lot: str) -> Revision | None:
    """The newest version of a lot, if that set it aside."""
    versions = page.history(LOT, lot)
    found = [one for one, _ in _added(versions)]
    return found[-1] if found and found[-1] is versions[-1] else None
