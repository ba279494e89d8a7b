"""A plan on the screen: as text, or as JSON for programs."""

from __future__ import annotations

import json

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.text import plan_text
from baitwright.workshop.plans.plan_json import plan_as_json
from baitwright.workshop.waters.venue import Held
from baitwright.workshop.waters.venue_words import venue_json, venue_lines


def shown(made: BatchPlan, held: Held | None = None) -> str:
    """The plan as text, with what the rules of its water say where it names one."""
    told = plan_text(made).rstrip("\n")
    if held is None:
        return told
    of_the_water = "\n".join(venue_lines(held))
    # What is broken stands first; that nobody wrote any rule down is for the end.
    parts = (told, of_the_water) if held.rules is None else (of_the_water, told)
    return "\n\n".join(parts)


def document(made: BatchPlan, held: Held | None = None) -> str:
    """The plan as JSON, complete enough to be planned again from."""
    told = plan_as_json(made)
    if held is not None:
        told["water_rules"] = venue_json(held)
    return json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
