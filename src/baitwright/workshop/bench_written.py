"""What was told at the bench, written down as a batch's file has it: made, or measured later."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.asked_fields import KEY, SHARE, Asked, Group, asked
from baitwright.workshop.batch_file import BatchTable
from baitwright.workshop.batch_made import Making, made, measured_later
from baitwright.workshop.batch_used import STOCK
from baitwright.workshop.batches import State, batch_of
from baitwright.workshop.bench_book import AtBench
from baitwright.workshop.bench_entries import DRAWN, NOTED, Entry, read_entry
from baitwright.workshop.reading import parse
from baitwright.workshop.stock_words import read_day
from baitwright.workshop.told_fields import told_by

BEST, WHY = "best_before", "why_short"
_LATER = ("remark",)


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


def to_write(found: AtBench) -> Group:
    """The fields of what is to be written down, filled with what was told.

    Of a batch that was made already, only what may still be measured, and is not yet written.
    """
    data, _ = told_at(found)
    body = found.batch.body or {}
    if body["state"] == State.MADE:
        known = parse(data, BatchTable, where="").model_dump(mode="json", exclude_none=True)
        data = {key: told for key, told in data.items() if known[key] != body["actual"].get(key)}
        return _without(asked(BatchTable, data), (*STOCK, "made", *_LATER))
    done = found.state.done.values()
    data = {"made": min(done).date().isoformat(), **data} if done else data
    group = asked(BatchTable, data)
    return replace(group, groups=tuple(_liquid(one) for one in group.groups))


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
    told, more = _parted(pairs)
    table = parse(told_by(BatchTable, told), BatchTable, where="")
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


def _parted(
    pairs: Iterable[tuple[str, str]],
) -> tuple[list[tuple[str, str]], Mapping[str, str]]:
    every = list(pairs)
    own = (BEST, WHY)
    return [one for one in every if one[0] not in own], dict(one for one in every if one[0] in own)


def _without(group: Group, names: Iterable[str]) -> Group:
    left = tuple(one for one in group.fields if one.name not in names)
    return replace(group, fields=left, groups=())


def _liquid(row: Group) -> Group:
    """A liquid that was drawn: its name, and how much."""
    words = {KEY: ("Liquid", ""), SHARE: ("Drawn", "2.3 ml")}

    def worded(fields: Iterable[Asked]) -> Iterator[Asked]:
        for one in fields:
            label, example = words[one.name.rpartition(".")[2]]
            yield replace(one, label=label, example=example)

    return replace(
        row, title=row.title.replace("Drawn", "Liquid"), fields=tuple(worded(row.fields))
    )
