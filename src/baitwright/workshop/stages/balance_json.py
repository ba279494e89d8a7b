"""A rig's balance as data for other programs; what never comes is null."""

from __future__ import annotations

from typing import Any

from baitwright.batch.design import DesignOption
from baitwright.batch.rig_balance import RigBalance
from baitwright.workshop.plans.rig_json import rig_as_json
from baitwright.workshop.told.plain import core_as_data, plain, rounded, told


def balance_as_json(made: RigBalance) -> dict[str, Any]:
    """Everything about one bait on one rig, as plain data."""
    notes = (*made.on_rig.notes, *made.design.notes)
    nearest = made.design.nearest
    return {
        "recipe": made.plan.request.recipe.name,
        **rig_as_json(made.on_rig),
        "night": [{**plain(one), "time": rounded(one.time / 3600.0)} for one in made.night],
        "lasts": told(made.lasts),
        "design": {
            "weighed_up": made.design.weighed_up,
            "options": [_option(one) for one in made.design.options],
            "nearest": None if nearest is None else _option(nearest),
        },
        "protocols": [
            {"id": told.protocol.id, "steps": list(told.protocol.steps), "error": plain(told.error)}
            for told in made.protocols
        ],
        "cautions": plain(made.cautions),
        "notes": [plain(note) for note in notes],
    }


def _option(one: DesignOption) -> dict[str, Any]:
    return {
        "diameter_mm": rounded(1e3 * one.diameter),
        **core_as_data(one.core),
        "paste_mm": rounded(1e3 * one.paste),
        "granules": rounded(one.granules),
        "tray_h": rounded(one.tray / 3600.0),
        "alone": plain(one.alone),
        "rig": plain(one.rig),
        "share": plain(one.share),
        "margin": plain(one.margin),
        "lasts": told(one.lasts),
    }
