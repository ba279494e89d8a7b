"""What backup, restore, rebuild, purge and mix did, for programs."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import asdict
from pathlib import Path

from baitwright.ledger.movements import Counted
from baitwright.notebook.backup import Restored
from baitwright.workshop.copies.losses import Loss
from baitwright.workshop.copies.rebuild import Rebuilt
from baitwright.workshop.told.worth_words import as_json, known
from baitwright.workshop.tubs.mixing import Mixed


def backup_json(copy: Path) -> str:
    """Where the copy lies."""
    return as_json({"written": copy})


def put_back_json(done: Restored) -> str:
    """The copy that was put back, the copy of what it replaced, and what was purged again."""
    told = {"put_back": done.backup, "replaced": done.replaced, "purged_again": done.purged}
    return as_json(told)


def rebuilt_json(made: Rebuilt, *, where: object) -> str:
    """Rows that came back by table, and what did not."""
    return as_json({"notebook": where, "rows": made.rows, "not_there": made.lost})


def purge_json(loss: Loss, left: Mapping[Path, str] | None) -> str:
    """What goes for good, and what a purge did not reach; nothing is left where none was done."""
    named = [{"kind": kind, "name": name} for kind, name in loss.named_in]
    told = [{"path": path, "why": why} for path, why in (left or {}).items()]
    done = {"done": left is not None, "not_reached": told}
    return as_json({**asdict(loss), "named_in": named, **done})


def mixed_json(made: Mixed, counted: Mapping[str, Counted], unpriced: Container[str] = ()) -> str:
    """A tub and what it took, in milligrams, microlitres or pieces, money as text.

    ``unpriced`` are lots of which not all of the price is known.
    """
    used = [
        {
            "item": one.item,
            "lot": one.lot,
            "amount": -one.amount,
            "counted": counted[one.item],
            "value": known(-one.value, whole=one.lot not in unpriced),
            "value_known": one.lot not in unpriced,
        }
        for one in made.used
    ]
    return as_json({"item": made.item, "lot": made.lot, "used": used, "missing": made.missing})
