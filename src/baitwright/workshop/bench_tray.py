"""When baits came onto the tray, by what was tapped at the bench."""

from __future__ import annotations

from datetime import datetime

from baitwright.notebook.page import Page
from baitwright.workshop.bench_tap import TAPS, Tapped, tap_from_json

TRAY = "tray"
"""The timer that runs while they dry."""


def on_tray(page: Page, batch: str) -> datetime | None:
    """When the tray of a batch was begun last, with its zone; nothing where nobody tapped it."""
    found = page.latest(TAPS, batch)
    told = [] if found is None or found.body is None else found.body["taps"]
    taps = [tap_from_json(one) for one in told]
    undone = {one.name for one in taps if one.kind is Tapped.UNDO}
    begun = (
        one.at
        for one in taps
        if one.kind is Tapped.START and one.name == TRAY and one.id not in undone
    )
    return max(begun, default=None)
