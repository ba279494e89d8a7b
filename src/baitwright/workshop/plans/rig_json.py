"""A bait on its rig as data for other programs."""

from __future__ import annotations

from typing import Any

from baitwright.batch.on_rig import Counterweight, OnRig
from baitwright.workshop.told.plain import plain


def rig_as_json(made: OnRig) -> dict[str, Any]:
    """The pulls and the lift left, how it sinks, and the shot that balances it or nothing."""
    return {
        "rig": plain(made.stage),
        "settles": plain(made.settles),
        "counterweight": None if made.counterweight is None else _shot(made.counterweight),
    }


def _shot(held: Counterweight) -> dict[str, Any]:
    pieces = held.combination.pieces
    told = {name: plain(getattr(held, name)) for name in ("pull", "left", "taken_down", "settles")}
    return {"shot": [piece.name for piece in pieces], "metal": pieces[0].metal, **told}
