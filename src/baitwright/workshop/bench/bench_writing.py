"""The page that writes a batch down: its fields, filled with what was told at the bench."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batch_used import STOCK
from baitwright.workshop.bench.bench_book import AtBench
from baitwright.workshop.bench.bench_written import only_of_batch, told_at
from baitwright.workshop.forms.asked_fields import KEY, SHARE, Asked, Group, asked
from baitwright.workshop.forms.told_fields import told_by
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.strip.bench_entries import marks
from baitwright.workshop.typed.reading import parse

_ONCE = (*STOCK, "made", "remark")
"""What is told when a batch is made and not later."""


def to_write(found: AtBench) -> Group:
    """The fields of what is to be written down, filled with what was told.

    Of a batch that was made already, only what may still be measured, and is not yet written.
    """
    data, _ = told_at(found)
    body = found.batch.body or {}
    if body["state"] == State.MADE:
        known = parse(data, BatchTable, where="").model_dump(mode="json", exclude_none=True)
        data = {key: told for key, told in data.items() if known[key] != body["actual"].get(key)}
        return _worded(asked(BatchTable, data), found)
    done = found.state.done.values()
    data = {"made": min(done).astimezone().date().isoformat(), **data} if done else data
    return _worded(asked(BatchTable, data), found)


def typed_again(found: AtBench, pairs: Sequence[tuple[str, str]]) -> Group:
    """The same fields with what was typed in them, to the letter."""
    try:
        told = told_by(BatchTable, only_of_batch(pairs))
        group = _worded(asked(BatchTable, told), found)
    except InputError:
        group = to_write(found)
    return _refilled(group, dict(pairs))


def outside_of(names: Iterable[str]) -> tuple[str, ...]:
    """Readings that lie outside their band, as a page calls them."""
    return tuple(one.replace("_", " ") for one in names if one in marks())


def _refilled(group: Group, typed: Mapping[str, str]) -> Group:
    fields = tuple(replace(one, value=typed.get(one.name, one.value)) for one in group.fields)
    return replace(
        group, fields=fields, groups=tuple(_refilled(one, typed) for one in group.groups)
    )


def _worded(group: Group, found: AtBench) -> Group:
    if (found.batch.body or {})["state"] == State.MADE:
        left = tuple(one for one in group.fields if one.name not in _ONCE)
        return replace(group, fields=left, groups=())
    rows = tuple(_liquid(one) for one in group.groups)
    return replace(group, fields=tuple(sorted(group.fields, key=_turn)), groups=rows)


def _turn(one: Asked) -> int:
    """The count first, for it has to be told; then what was told, then the rest."""
    return 0 if one.name in ("baits_made", "baits_good") else 1 if one.value else 2


def _liquid(row: Group) -> Group:
    """A liquid that was drawn: its name, and how much."""
    words = {KEY: "Liquid", SHARE: "Drawn"}
    fields = (replace(one, label=words[one.name.rpartition(".")[2]]) for one in row.fields)
    return replace(row, title=row.title.replace("Drawn", "Liquid"), fields=tuple(fields))
