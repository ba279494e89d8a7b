"""The hours of a plan, to be kept with its batch: a page tells them without the plan."""

from __future__ import annotations

from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.dry import DryStage
from baitwright.uncertainty.bands import band_of, median_of


def hours_of(made: BatchPlan) -> dict[str, Any]:
    """The hours of a plan as plain data, to be kept with its batch."""
    leaving = made.request.bench.leaving
    steps = [(one.name, one.text, one.start, one.end) for one in made.day.steps]
    return {
        "steps": [
            [name, text, start.isoformat(), end.isoformat()] for name, text, start, end in steps
        ],
        "leaving": None if leaving is None else leaving.isoformat(),
        "tray": _on_tray(made.dry) if made.day.dries else None,
    }


def _on_tray(dry: DryStage) -> list[int]:
    """For how long they are left there, and the band of when they are ready, s."""
    band = band_of(dry.ready)
    return [round(one) for one in (median_of(dry.time), band.low80, band.high80)]
