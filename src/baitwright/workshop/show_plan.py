"""A plan on the screen: as text, as JSON for programs, or with its numbers opened."""

from __future__ import annotations

import json
from collections.abc import Iterator

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.explain import explain, explain_plan
from baitwright.sheets.text import plan_text
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity
from baitwright.workshop.plan_json import plan_as_json


def shown(made: BatchPlan) -> str:
    """The plan as text."""
    return plan_text(made).rstrip("\n")


def document(made: BatchPlan) -> str:
    """The plan as JSON, complete enough to be planned again from."""
    return json.dumps(plan_as_json(made), ensure_ascii=False, indent=2, allow_nan=False)


def explained(made: BatchPlan, name: str) -> str:
    """Why: the headline numbers opened, or only those of a name or label where one is given.

    Raises
    ------
    InputError: the plan has no number of that name.
    """
    if not name:
        return explain_plan(made).rstrip("\n")
    wanted = _key(name)
    found = {
        (part.name, part.label): part
        for part in _parts(made)
        if wanted in (_key(part.name), _key(part.label))
    }
    if not found:
        raise InputError("explain", name, f"a number of this plan, such as {_nearest(made, name)}")
    return "\n".join(explain(part).rstrip("\n") for part in found.values())


def _parts(made: BatchPlan) -> Iterator[Quantity]:
    for quantity in made.quantities():
        yield from quantity.walk()


def _key(name: str) -> str:
    return " ".join(name.casefold().replace("_", " ").replace("-", " ").split())


def _nearest(made: BatchPlan, name: str) -> str:
    from difflib import get_close_matches

    known = sorted({_key(word) for part in _parts(made) for word in (part.name, part.label)})
    near = get_close_matches(_key(name), known, n=4, cutoff=0.4)
    near += [word for word in known if _key(name) in word and word not in near]
    return ", ".join(repr(word) for word in near[:6] or ["tub used", "boil", "baits"])
