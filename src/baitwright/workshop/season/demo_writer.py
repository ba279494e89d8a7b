"""Writes the demonstration's notebook as its maker would, day by day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from baitwright.notebook.store import Notebook
from baitwright.notebook.where import folder_of
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.bench.plan_saved import beside_plan
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.recipe_files.demo import BENCH, demo_bench, demo_file
from baitwright.workshop.records.record_forms import Filled, Told, record
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.typed.reading import parse

FEWER = 64
"""Batches imagined for bands of long ago: nobody waits for their digits."""


@dataclass(frozen=True, slots=True)
class Season:
    """The notebook of a season that ends at a moment."""

    book: Notebook
    now: datetime

    def ago(self, days: int, hour: int = 9) -> datetime:
        """An hour of a day before today; never one that is still to come."""
        at = self.now.replace(hour=hour, minute=0, second=0, microsecond=0) - timedelta(days)
        return min(at, self.now)

    def write(self, kind: str, told: Mapping[str, Any], *, name: str = "", at: datetime) -> str:
        """A record; its name."""
        folder = folder_of(self.book.place)
        filled = Told(always(told), Beside(folder, folder), name)
        return record(self.book, form_of(kind), filled, now=at).name

    def plan(self, recipe: str, *, at: datetime) -> str:
        """A planned batch; its name."""
        path, bench = demo_file(f"{recipe}.toml"), demo_file(BENCH)
        past = None if at > self.now - timedelta(days=2) else FEWER
        worked_out = plan_batch(path, bench, batches=past, clock=lambda: at.replace(tzinfo=None))
        told = beside_plan(demo_bench(), worked_out)
        return plan_into(self.book, path, worked_out, now=at, told=told).name

    def make(self, recipe: str, told: Mapping[str, Any], *, at: datetime) -> str:
        """A batch that was made; its name."""
        name = self.plan(recipe, at=at)
        making = Making(parse(told, BatchTable, where=""), on_day(at, 180))
        made(self.book, name, making, now=at)
        return name


def always(told: Mapping[str, Any]) -> Filled:
    """What is told, whatever stands there."""
    return lambda standing: told


def on_day(at: datetime, days: int) -> date:
    """A day so many after a moment."""
    return at.date() + timedelta(days)
