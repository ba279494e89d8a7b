"""What a batch was planned by, held against another: recipe, bench, and the maker's own factors."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.notebook.page import Page
from baitwright.workshop.batches.batch_hours import PLAN, WRITTEN
from baitwright.workshop.forms.changes import Change, entries_changed
from baitwright.workshop.recipes.recipe_changes import RECIPE, changes_between, text_of

_CLOCK = ("now", "leaving")
"""What a bench says that is another for each batch."""
Told = Mapping[str, Any]


def recipe_changed(page: Page, about: str, versions: tuple[int, int]) -> tuple[Change, ...]:
    """What two versions of a recipe say otherwise; nothing where one of them was purged."""
    if versions[0] == versions[1]:
        return ()
    texts = {one.version: text_of(one) for one in page.history(RECIPE, about) if one.body}
    if not all(texts.get(one) for one in versions):
        return ()
    return changes_between(texts[versions[0]], texts[versions[1]])


def plan_told(page: Page, name: str) -> Told:
    """What is kept with the plan of a batch; nothing where it was purged."""
    found = page.latest(PLAN, name)
    return {} if found is None else found.body or {}


def bench_changed(then: Told, now: Told) -> tuple[Change, ...]:
    """What the bench of two plans says otherwise, but for the clock."""
    told = (
        {key: one for key, one in plan.get(WRITTEN, {}).items() if key not in _CLOCK}
        for plan in (then, now)
    )
    return entries_changed(*told)


def factors_changed(then: Told, now: Told) -> tuple[Change, ...]:
    """Which of the maker's own factors two plans reckoned with otherwise."""
    if not then or not now:
        return ()
    return entries_changed(*(dict(_middles(plan)) for plan in (then, now)))


def _middles(plan: Told) -> Iterator[tuple[str, str]]:
    for one in plan["request"]["factors"]["factors"]:
        name = f"{one['key'].replace('_', ' ')} {one['about']}".strip()
        yield name, f"{math.exp(one['mu']):.2f}"
