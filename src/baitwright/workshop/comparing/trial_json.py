"""Trials as data."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from baitwright.learning.sequential import SequentialPlan
from baitwright.workshop.comparing.repeatability import Repeated
from baitwright.workshop.comparing.trial import Looked, NightsNeeded, Tried


def needed_json(made: NightsNeeded) -> str:
    """Nights needed; a floor where the scatter is chance alone."""
    needs = [{"ratio": one.ratio, "nights": one.nights, "bites": one.bites} for one in made.needs]
    scatter = {"ratio": made.scatter.ratio, "widens": made.scatter.widens}
    return _text({"bites_a_night": made.bites, "scatter": scatter, "needs": needs})


def plan_json(rows: Sequence[Sequence[str]], *, rods: Sequence[str]) -> str:
    """Nights, and the bait of each rod on them."""
    return _text({"nights": [dict(zip(rods, row, strict=True)) for row in rows]})


def rule_json(plan: SequentialPlan) -> str:
    """A stopping rule."""
    return _text(asdict(plan))


def looked_json(made: Looked) -> str:
    """Where a trial with a stopping rule stands."""
    told = {"standing": made.standing.name.lower(), "nights": made.nights, "sum": made.total}
    return _text({**told, "bites": made.bites, "uneven_nights": made.uneven, **asdict(made.plan)})


def tried_json(made: Tried) -> str:
    """Runs with their levels and order, and effects where there are readings."""
    names = made.design.factors
    runs = [
        {
            name: made.levels[at][level > 0]
            for at, (name, level) in enumerate(zip(names, row, strict=True))
        }
        for row in made.design.levels
    ]
    order = [run + 1 for run in made.design.order]
    return _text({"runs": runs, "order": order, "effects": [asdict(one) for one in made.found]})


def repeated_json(made: Repeated) -> str:
    """A repeatability study; variances in the unit squared."""
    study = made.study
    told = {
        key: getattr(study, key) for key in ("repeat", "hand", "thing", "gauge", "total", "share")
    }
    more = {"repeats_within": study.repeats_within, "sizes_told_apart": study.sizes_told_apart}
    return _text({"unit": made.unit, **told, **more, "mean": made.mean, "off": made.off})


def _text(data: Mapping[str, Any]) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2)
