"""When baits came onto the tray, by what was tapped at the bench."""

from __future__ import annotations

from datetime import datetime

from baitwright.notebook.page import Page
from baitwright.workshop.strip.bench_tap import Tapped
from baitwright.workshop.strip.bench_taps import taps_of

TRAY = "tray"
"""The timer that runs while they dry."""


def on_tray(page: Page, batch: str) -> datetime | None:
    """When the tray of a batch was begun last, with its zone; nothing where nobody tapped it."""
    taps = taps_of(page, batch)
    undone = {one.name for one in taps if one.kind is Tapped.UNDO}
    begun = (
        one.at
        for one in taps
        if one.kind is Tapped.START and one.name == TRAY and one.id not in undone
    )
    return max(begun, default=None)
