"""A notebook with a batch planned in it, for tests of the bench."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

from baitwright.notebook.where import Where
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.opening.standing import Standing
from tests.workshop.shelf import path, planned

PLANNED = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
NAME = "2026-11-27/B1"
BENCH = f"/batches/{NAME}/bench"
PLAN = ("copper-wafter", "bench-three-large-eggs")


def with_a_batch(place: Where, *, so_many: int = 1) -> None:
    """Begin a notebook with one planned batch, or several: B1, B2 and so on."""
    standing = Standing(place, clock=lambda: PLANNED)
    asked = planned(*PLAN)
    for _ in range(so_many):
        with standing.writing() as book:
            plan_into(book, path(PLAN[0]), asked, now=PLANNED)
    standing.close()


def copied(once: Path, place: Path) -> None:
    """The same for one test: a copy of a notebook that was begun for all."""
    shutil.copy(once, place)
