"""Complaints in words: the open ones, one followed, and the answer that can be sent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from baitwright.ledger.trace import Place
from baitwright.sources import key_said
from baitwright.workshop.batches.same_batch import Sameness
from baitwright.workshop.faults.complaint_followed import Followed
from baitwright.workshop.faults.complaints import Row
from baitwright.workshop.faults.faults_asked import Found
from baitwright.workshop.faults.faults_words import rests_on

NONE_KEPT = "no bag of it was kept back"
_CAUSES = 2
"""Causes that an answer tells (judgement): more say less."""


def list_text(rows: Iterable[Row]) -> str:
    """Complaints, a line each."""
    return "\n".join(map(_line, rows)) or "No complaint is open."


def followed_text(found: Followed) -> str:
    """A complaint with its batch, who else has it, what differs and its sample."""
    return "\n".join(_told(found))


def where_told(reached: Iterable[tuple[Place, str]]) -> tuple[str, ...]:
    """Who else has of it, a line each."""
    return tuple(f"{one.stop} {one.name}{f', {about}' if about else ''}" for one, about in reached)


def differs_told(same: Sameness | None) -> tuple[str, ...]:
    """What was different, in short."""
    if same is None or not same.good:
        return ("there is no good one of this recipe to hold it against yet",)
    lots = (f"another lot of {one.item}: {one.lot}" for one in same.lots)
    planned = len(same.recipe) + len(same.bench) + len(same.factors)
    told = (
        *lots,
        *(f"{one.value} lies outside what is usual" for one in same.outside),
        *([f"planned otherwise in {planned}"] if planned else []),
    )
    return told or (f"nothing that matters, beside the good ones to {same.good[-1]}",)


def samples_told(found: Followed) -> tuple[str, ...]:
    """Which bags were kept back, where, and what one showed."""
    kept = [f"bag {one.bag}, {one.baits} baits, {one.where}" for one in found.samples]
    if found.row.sample:
        return (*kept, f"it showed: {found.row.sample}")
    return tuple(f"look at {one}" for one in kept) if kept else (NONE_KEPT,)


def answer_text(found: Followed, fault: Found | None = None) -> str:
    """An answer that can be sent; no name is in it, so that none is kept with it.

    Parameters
    ----------
    found: the complaint.
    fault: what may have made it so, where the fault finder was asked.
    """
    return "\n\n".join(_answer(found, fault))


def _answer(found: Followed, fault: Found | None) -> Iterator[str]:
    row = found.row
    of = f" It is of batch {', '.join(found.batches)}." if found.batches else ""
    yield f"Thank you for telling us: {row.what.rstrip('.')}.{of}"
    yield "\n".join(one.said for one in found.care)
    if found.row.sample:
        yield f"We kept a bag of it back and looked at it: {row.sample.rstrip('.')}."
    elif found.samples:
        yield "We kept a bag of it back, and look at it next."
    elif found.batches:
        yield "We kept no bag of it back; please keep yours, it is the only one to look at."
    if fault is not None and fault.fault.causes:
        causes = fault.fault.causes[:_CAUSES]
        told = "; ".join(f"{one.what} ({rests_on(one)})" for one in causes)
        yield f"What may have made it so, by our plan and record: {told}. We test that first."
    if row.done:
        yield f"What we did: {row.done.rstrip('.')}."
    yield "This is what our notebook shows; it is no more certain than that."


def _line(row: Row) -> str:
    of = f", of {row.bag}" if row.bag else ""
    who = f", {row.customer}" if row.customer else ""
    return f"{'! ' if row.harm else ''}{row.name}: {row.state}{of}{who}: {row.what}"


def _told(found: Followed) -> Iterator[str]:
    yield f"complaint {_line(found.row)}"
    yield from (f"  ! {one.text} [{key_said(one.source)}]" for one in found.care)
    if not found.batches:
        yield "  of no bag or batch that is told: say which with bag="
        return
    yield f"  batch {', '.join(found.batches)}{', in quarantine' if found.aside else ''}"
    yield "  who else has of it:"
    yield from (f"    {line}" for line in where_told(found.recall) or ("nobody yet",))
    yield "  what was different:"
    yield from (f"    {line}" for line in differs_told(found.same))
    yield "  kept back:"
    yield from (f"    {line}" for line in samples_told(found))
    if found.row.answer:
        yield f"  answered: {found.row.answer}"
    if found.row.done:
        yield f"  done: {found.row.done}"
