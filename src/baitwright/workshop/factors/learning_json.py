"""What was learned, for programs."""

from __future__ import annotations

import json
from dataclasses import asdict

from baitwright.learning.history import Grown
from baitwright.learning.next_reading import Next
from baitwright.workshop.factors.learning_book import Learning
from baitwright.workshop.factors.learning_words import between


def learning_json(made: Learning) -> str:
    """Score, factors with what each came from, gains and next readings."""
    told = {
        "batches": made.batches,
        "read": made.read,
        "score": None if made.score is None else asdict(made.score),
        "standing": made.standing.name,
        "is_news": made.is_news,
        "factors": [_factor(one) for one in made.history.grown],
        "plan": made.plan,
        "gains": [
            {"label": one.label, "before": asdict(one.before), "after": asdict(one.after)}
            for one in made.gains
        ],
        "next": [_next(one) for one in made.next_readings],
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _next(one: Next) -> dict[str, object]:
    told = asdict(one)
    del told["hows"]
    return {**told, "how": one.how}


def _factor(one: Grown) -> dict[str, object]:
    low, high = between(one.now)
    return {
        "key": one.now.key,
        "about": one.now.about,
        "median": one.now.median,
        "low80": low,
        "high80": high,
        "width": one.width,
        "batches": [
            {"batch": step.seen.batch, "score": step.score, "is_far": step.is_far}
            for step in one.steps
        ],
        "changes": [asdict(change) for change in one.changes],
    }
