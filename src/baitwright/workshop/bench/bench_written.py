"""What was told at the bench, written down as a batch's file has it: made, or measured later."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batch_made import Making, made, measured_later
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.bench.bench_book import AtBench
from baitwright.workshop.forms.told_fields import told_by
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.strip.bench_entries import DRAWN, NOTED, Entry, read_entry
from baitwright.workshop.typed.reading import parse
from baitwright.workshop.typed.typed_days import read_day

BEST, WHY = "best_before", "why_short"


@dataclass(frozen=True, slots=True)
class Refused:
    """A value that was told and cannot be read; it stays as it was typed."""

    entry: Entry
    typed: str
    said: str


def told_at(found: AtBench) -> tuple[dict[str, Any], tuple[Refused, ...]]:
    """What was told, as a batch's file has it, and what of it cannot be read."""
    data: dict[str, Any] = {}
    refused: list[Refused] = []
    told = found.state.told
    for entry in entries_told(found):
        typed = told[entry.name].told
        try:
            value = read_entry(entry, typed)
        except InputError as error:
            refused.append(Refused(entry, typed, error.accepted))
            continue
        if entry.name.startswith(DRAWN):
            data.setdefault("drawn", {})[entry.name.removeprefix(DRAWN)] = value
        elif not entry.name.startswith(NOTED):
            data[entry.name] = value
    return data, tuple(refused)


def entries_told(found: AtBench) -> tuple[Entry, ...]:
    """Entries that something was told for, each once, in the order of the steps."""
    told = found.state.told
    every = {one.name: one for step in reversed(found.strip) for one in reversed(step.entries)}
    return tuple(one for one in reversed(every.values()) if one.name in told)


def write_down(
    book: Notebook, name: str, pairs: Iterable[tuple[str, str]], *, now: datetime
) -> tuple[str, ...]:
    """Make the batch by what a page was told; one that was made takes what was measured later.

    The same told twice is written once.

    Returns
    -------
    Names of what lies outside the band that the plan had for it.

    Raises
    ------
    InputError: what cannot be, told with its field.
    """
    every = list(pairs)
    more = dict(every)
    table = parse(told_by(BatchTable, only_of_batch(every)), BatchTable, where="")
    with book.reading() as page:
        body = batch_of(page, name).body or {}
    said = table.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
    if body["state"] != State.MADE:
        best = _day(more.get(BEST, ""), now.date())
        made(book, name, Making(table, best, more.get(WHY, "")), now=now)
        return ()
    if said.items() <= body["actual"].items():
        return ()
    return measured_later(book, name, table, now=now)


def _day(typed: str, today: date) -> date | None:
    try:
        return read_day(typed, today) if typed.strip() else None
    except InputError as error:
        raise InputError(BEST, typed, error.accepted) from None


def only_of_batch(pairs: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """The fields that a batch's file has, without those that only its making asks."""
    return [one for one in pairs if one[0] not in (BEST, WHY)]
