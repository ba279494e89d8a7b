"""The numbers of a plan opened: found by name or by what they are called, as text or as a tree."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterator
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.explain import explain, explain_plan, headlines
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Origin, Quantity
from baitwright.uncertainty.bands import movers_of
from baitwright.workshop.told.plain import rounded, told
from baitwright.workshop.typed.nearest import nearest, plain_name

_WIDTH = 100


def opened(made: BatchPlan, name: str) -> str:
    """Why, as text: the headline numbers and the names of all, or only those of one name.

    Raises
    ------
    InputError: the plan has no number of that name.
    """
    if name:
        return "\n".join(explain(one).rstrip("\n") for one in _named(made, name))
    names = textwrap.wrap(
        ", ".join(_names(made)),
        _WIDTH,
        initial_indent="  ",
        subsequent_indent="  ",
        break_on_hyphens=False,
    )
    return "\n".join([explain_plan(made), "Names that --explain opens", *names])


def opened_as_json(made: BatchPlan, name: str) -> str:
    """The same for programs: each number with its inputs below it, every one written out once.

    Raises
    ------
    InputError: as `opened`.
    """
    roots = _named(made, name) if name else headlines(made)
    seen: set[int] = set()
    data: dict[str, Any] = {"explained": [_tree(one, "", seen) for one in roots]}
    if not name:
        data["names"] = _names(made)
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)


_BY_HOUR = re.compile(r" after [\d.]+ h$")
"""Ends the label of a number told hour by hour, which a name alone does not ask for."""


def _named(made: BatchPlan, name: str) -> list[Quantity]:
    """The numbers of a name or label."""
    wanted = plain_name(name)
    found = {
        (part.name, part.label): part
        for part in _parts(made)
        if wanted in (plain_name(part.name), plain_name(part.label))
    }
    if found:
        told_once = [part for part in found.values() if not _BY_HOUR.search(part.label)]
        by_label = [part for part in found.values() if wanted == plain_name(part.label)]
        return by_label or told_once or list(found.values())
    near = nearest(name, {word for part in _parts(made) for word in (part.name, part.label)})
    such = ", ".join(map(repr, near)) or "'tub used' or 'baits'"
    hint = "A bare --explain ends with all names."
    raise InputError("explain", name, f"a number of this plan, such as {such}", hint=hint)


def _parts(made: BatchPlan) -> Iterator[Quantity]:
    for quantity in made.quantities():
        yield from quantity.walk()


def _names(made: BatchPlan) -> list[str]:
    """The names of what was worked out: what was given or looked up has nothing to open."""
    return sorted({part.name for part in _parts(made) if part.origin is Origin.COMPUTED})


def _tree(quantity: Quantity, role: str, seen: set[int]) -> dict[str, Any]:
    node: dict[str, Any] = {"role": role} if role else {}
    if id(quantity) in seen:
        return {**node, "name": quantity.name, "label": quantity.label, "above": True}
    seen.add(id(quantity))
    node |= told(quantity)
    if isinstance(quantity.value, str):
        node["value"] = quantity.value
    node |= {key: text for key in ("equation", "note") if (text := getattr(quantity, key))}
    if quantity.origin is Origin.COMPUTED and "median" in node:
        node["moved_by"] = [
            {"name": one.name, "label": one.label, "share": rounded(one.share)}
            for one in movers_of(quantity)
        ]
    node["inputs"] = [_tree(part, part_role, seen) for part_role, part in quantity.inputs]
    return node
