"""A mended mix as data for programs, and as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from baitwright.blending.moved import Moved
from baitwright.learning.restart import Calibration
from baitwright.sheets.text_clash import clash_sentence
from baitwright.terms.quantity import Quantity
from baitwright.workshop.mending.mend_made import Mended, StandIn
from baitwright.workshop.mending.mend_shown import unlike
from baitwright.workshop.told.csv_file import Cell
from baitwright.workshop.told.plain import told as as_data


def mend_json(told: Mended) -> dict[str, Any]:
    """Everything of a mended mix as plain data; shares are of 1, an unknown is null."""
    asked = told.asked
    data: dict[str, Any] = {
        "name": asked.name,
        "stands_in_for": asked.old.told.base.name,
        "without": [one.id for one in asked.gone],
        "changed": {
            one.id: {
                figure: {"before": before, "after": after}
                for figure, (before, after) in new.overridden.items()
                if before != after
            }
            for one, new in asked.changed
        },
        "not_compared": list(asked.likeness.untold),
    }
    if told.clash is not None:
        data["clash"] = clash_sentence(told.clash)
    return data if told.made is None else {**data, **_made(told, told.made)}


def _made(told: Mended, made: StandIn) -> dict[str, Any]:
    old, new = made.before.made.contains, made.after.made.contains
    return {
        "was": dict(told.asked.wishes.present or {}),
        "shares": {name: float(share) for name, share in made.weighed.shares.items()},
        "noticed": list(unlike(told, made)),
        "changes": [_moved(one) for one in made.moved],
        "allergens": {
            "before": [one.name for one in old.certain],
            "after": [one.name for one in new.certain],
            "may_contain": [one.name for one in new.possible],
            "known": new.known,
        },
        "unpriced": list(made.after.made.cost.unpriced),
        "rolls": [
            {
                "mix": one.mix,
                "why": one.why,
                "dry_mix": as_data(one.dry_mix),
                "paste": as_data(one.paste),
            }
            for one in made.rolls.rolls
        ],
        "weigh": {name: as_data(one) for name, one in made.weigh},
        "factors": [_factor(one) for one in made.calibrations],
    }


def _moved(one: Moved) -> dict[str, Any]:
    ends = {"before": one.before, "after": one.after, "change": one.by}
    numbers = {name: None if each is None else as_data(each) for name, each in ends.items()}
    return {"figure": one.label, **numbers}


def _factor(one: Calibration) -> dict[str, Any]:
    after = one.after
    return {
        "key": one.key,
        "fate": str(one.fate),
        "moved": list(one.moved),
        "before": {
            "about": one.before.about,
            "median": one.before.median,
            "batches": one.before.batches,
        },
        "after": None
        if after is None
        else {"about": after.about, "median": after.median, "batches": after.batches},
        "learned_again_from": one.measurement,
    }


def mend_rows(told: Mended) -> Iterator[tuple[Cell, ...]]:
    """Parts, numbers, rolls and factors, one to a row; what nobody knows is an empty cell."""
    made = told.made
    if made is None:
        return
    names = {one.id: one.name for one in (*told.asked.gone, *told.asked.wishes.candidates)}
    present = told.asked.wishes.present or {}
    for name in dict.fromkeys((*present, *made.weighed.shares)):
        was, now = present.get(name, 0.0), float(made.weighed.shares.get(name, 0))
        ends = (_exact(100.0 * each) for each in (was, now, now - was))
        yield ("part", names[name], *ends, "%", None, None, None)
    for one in made.moved:
        before, after, by = (_middle(each) for each in (one.before, one.after, one.by))
        known = one.after or one.before
        low, high = (None, None) if one.after is None else _band(one.after)
        unit = "" if known is None else as_data(known)["unit"]
        yield ("number", one.label, before, after, by, unit, low, high, None)
    for roll in made.rolls.rolls:
        low, high = _band(roll.dry_mix)
        middle = _middle(roll.dry_mix)
        yield ("roll, dry mix", roll.mix, None, middle, None, "g", low, high, roll.why)
    for name, mass in made.weigh:
        yield ("to weigh", name, None, _middle(mass), None, "g", None, None, None)
    for each in made.calibrations:
        now_at = None if each.after is None else _exact(each.after.median)
        note = "; ".join((str(each.fate), *each.moved))
        was_at = _exact(each.before.median)
        yield ("factor", each.label, was_at, now_at, None, "times", None, None, note)


def _middle(one: Quantity | None) -> Decimal | None:
    return None if one is None else _exact(as_data(one)["median"])


def _band(one: Quantity) -> tuple[Decimal | None, Decimal | None]:
    low, high = as_data(one)["band80"]
    return _exact(low), _exact(high)


def _exact(number: float | None) -> Decimal | None:
    return None if number is None else Decimal(f"{number:.6g}") + 0
