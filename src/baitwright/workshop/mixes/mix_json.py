"""A mix as data for other programs; what is unknown is null and never nothing."""

from __future__ import annotations

from typing import Any

from baitwright.blending.bases import Basis
from baitwright.blending.candidate import Candidate
from baitwright.blending.carp import CAVEAT
from baitwright.sources import sources
from baitwright.terms.quantity import Quantity
from baitwright.workshop.mixes.mix_analysis import Analysed
from baitwright.workshop.told.plain import plain, told


def mix_json(found: Analysed) -> dict[str, Any]:
    """Everything of a mix as plain data; an unknown is null."""
    made = found.made
    bound, cost = made.binding, made.cost
    numbers = found.quantities()
    return {
        "name": found.asked.told.base.name,
        "known_by": str(made.mix.known),
        "parts": [
            {
                "name": one.name,
                "role": None if one.row is None else one.row.role,
                "share": told(one.share),
                "price": one.price,
                "labelled": _labelled(one.candidate),
            }
            for one in made.mix.parts
        ],
        "bases": {
            basis.value: {name: told(one) for name, one in made.bases.figures[basis].items()}
            for basis in Basis
        },
        "missing": {name: list(lack) for name, lack in made.missing.items()},
        "densities": {basis.value: told(one) for basis, one in made.bases.densities.items()},
        "bulk_density": None if made.bulk_density is None else told(made.bulk_density),
        "dry_mix_per_egg": told(made.bowl.dry_mix),
        "classes": None if made.classes is None else {k: told(v) for k, v in made.classes.items()},
        "binding": None
        if bound is None
        else {n: told(getattr(bound, n)) for n in ("setting", "hydrating", "gelling")},
        "hardener": _hardener(found),
        "meshes": [plain(one) for one in found.meshes],
        "cost": {
            "per_kg": None if cost.per_kilogram is None else told(cost.per_kilogram),
            "per_egg": None if cost.per_egg is None else told(cost.per_egg),
            "unpriced": list(cost.unpriced),
        },
        "allergens": {
            "contains": [one.name for one in made.contains.certain],
            "may_contain": [one.name for one in made.contains.possible],
            "known": made.contains.known,
        },
        "must_hold": [
            {"limit": one.limit.text, "chance": told(one.chance), "figure": told(one.figure)}
            for one in found.held
        ],
        "remarks": [{"about": n.stage, "text": n.text, "source": n.source} for n in found.remarks],
        "cold_water": [n.text for n in found.cold],
        "carp": _carp(found),
        "sources": _cited(numbers),
    }


def _labelled(candidate: Candidate | None) -> dict[str, Any]:
    if candidate is None:
        return {}
    return {
        name: {"label": after, "table": before}
        for name, (before, after) in candidate.overridden.items()
    }


def _hardener(found: Analysed) -> dict[str, Any]:
    advice = found.advice
    return {
        "milk_protein_base": advice.milky,
        "common_practice": 100.0 * advice.usual.value,
        "own_setting": None if advice.own is None else told(advice.own),
        "by_protein": None if advice.computed is None else told(advice.computed),
    }


def _carp(found: Analysed) -> dict[str, Any] | None:
    if not found.carp:
        return None
    rows = [
        {
            "published": one.published.label,
            "low": one.published.low,
            "high": one.published.high,
            "unit": one.published.unit,
            "source": one.published.source,
            "evidence": one.published.evidence.value,
            "ours": None if one.ours is None else told(one.ours),
            "verdict": one.verdict,
        }
        for one in found.carp
    ]
    return {"caveat": CAVEAT, "figures": rows}


def _cited(numbers: list[Quantity]) -> list[dict[str, str]]:
    seen: set[int] = set()
    keys = {part.source for one in numbers for part in one.walk(seen)}
    known = sources()
    return [{"key": key, "citation": known[key].citation} for key in sorted(keys) if key in known]
