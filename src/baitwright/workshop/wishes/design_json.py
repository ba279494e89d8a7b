"""A mix designed as data for programs."""

from __future__ import annotations

from typing import Any

from baitwright.blending.explain import Explanation
from baitwright.blending.rows import Row
from baitwright.blending.search import Design
from baitwright.sheets.text_clash import clash_sentence
from baitwright.workshop.wishes.design_mix import Designed


def design_as_json(made: Designed) -> dict[str, Any]:
    """The whole answer as plain data; shares are of 1, money is per kg in the maker's own."""
    wanted, found = made.wanted, made.found
    told: dict[str, Any] = {"name": wanted.name, "invented": wanted.invented}
    told["goal"] = str(wanted.wishes.goal)
    if made.clash is not None:
        told["clash"] = {
            "told": clash_sentence(made.clash),
            "wishes": [
                {"wish": one.wish.name, "helps": one.helps, "reach": one.value}
                for one in made.clash.reaches
            ],
        }
    if found is not None and made.weighed is not None:
        told["best"] = {"value": found.goal, "cost": found.cost, "shares": dict(found.shares)}
        told["ended"] = str(found.ended)
        told["weighed"] = {
            "step": float(made.weighed.step),
            "shares": {name: float(share) for name, share in made.weighed.shares.items()},
            "moved": made.weighed.moved,
            "broken": [
                {"wish": one.wish.name, "by": None if one.by is None else float(one.by)}
                for one in made.weighed.broken
            ],
        }
        told["rows"] = [_row(row, found) for row in wanted.wishes.rows]
    if made.why is not None:
        told |= _why(made.why)
    if made.swept is not None:
        told["prices"] = {
            "ingredient": made.swept.ingredient,
            "dearest": made.swept.dearest,
            "stretches": [
                {
                    "from": one.low,
                    "to": one.high,
                    "share": one.share,
                    "cost_from": one.cost(one.low),
                    "cost_to": one.cost(one.high),
                    "shares": dict(one.shares),
                }
                for one in made.swept.stretches
            ],
        }
    if made.looked:
        told["looked_at"] = [
            {
                "ingredient": one.ingredient,
                "price": one.price,
                "best": one.found.goal if one.found.is_there else None,
                "shares": dict(one.found.shares),
            }
            for one in made.looked
        ]
    return {**told, "notes": list(wanted.notes)}


def _row(row: Row, found: Design) -> dict[str, Any]:
    return {
        "row": row.name,
        "value": row.value(found.shares),
        "limit": row.asked,
        "unit": row.unit,
        "hard": row.hard,
        "by": str(row.origin),
    }


def _why(why: Explanation) -> dict[str, Any]:
    return {
        "leaning": [
            {
                "row": one.row.name,
                "margin_per_point": one.margin,
                "next_point": None if one.next_point is None else one.next_point.value,
            }
            for one in why.leaning
        ],
        "left_out": [
            {"id": one.candidate.id, "price": one.price, "enters_at": one.enters_at.value}
            for one in why.too_dear
        ],
    }
