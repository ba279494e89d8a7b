"""Batches and bags in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from baitwright.ledger.movements import Counted
from baitwright.notebook.page import Revision
from baitwright.workshop.batches.batch_beside import beside, label_of
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batch_made import BatchMade
from baitwright.workshop.batches.batch_needs import Planned
from baitwright.workshop.shelf.drawing import Need
from baitwright.workshop.told.worth_words import as_json, money
from baitwright.workshop.typed.amounts import in_words


def planned_text(planned: Planned, counted: dict[str, Counted]) -> str:
    """What a planned batch is called, and what the shelf has for it."""
    lines = [f"batch {planned.name}: write it on the bench sheet"]
    lines += [
        f"  spoken for: {in_words(units, counted[item])} of {item}, lot {lot}"
        for item, lot, units in planned.reserved
    ]
    lines += short_lines(planned.short)
    if planned.missing:
        lines.append(
            f"  not on the shelf, so not in the trace or the cost: {', '.join(planned.missing)}"
        )
    return "\n".join(lines)


def short_lines(short: Iterable[Need]) -> list[str]:
    """What the shelf is short of."""
    return [f"  ! {in_words(n.amount.units, n.amount.counted)} of {n.item} short" for n in short]


def made_text(made: BatchMade, moved: str) -> str:
    """What a batch took, and what its baits are worth."""
    each = money(made.value / made.baits, whole=made.priced, digits=4)
    worth = f"{made.baits} in lot {made.name}, each {each}"
    return "\n".join(filter(None, (moved, f"{made.item}: {worth}")))


def measured_text(name: str, outside: Iterable[str]) -> str:
    """What was written down later, and what of it lies outside the plan's band."""
    return "\n".join(
        (
            f"batch {name}: written down",
            *(
                f"  ! {label_of(one)} lies outside the planned band: weigh it again?"
                for one in outside
            ),
        )
    )


def batches_text(found: Iterable[Revision]) -> str:
    """The last batches, a line each."""
    lines = [
        f"{one.name}: {one.body['about']}, {State(one.body['state'])}{_baits(one)}"
        for one in found
        if one.body is not None
    ]
    return "\n".join(lines) or "No batch yet: baitwright batch plan RECIPE BENCH"


def batches_json(found: Iterable[Revision]) -> str:
    """The same for programs; `batch show NAME --json` tells all of one."""
    keys = ("about", "day", "recipe_version", "state", "baits")
    told = [
        {
            "name": one.name,
            **{key: one.body.get(key) for key in keys},
            "state": State(one.body["state"]),
        }
        for one in found
        if one.body is not None
    ]
    return as_json({"batches": told})


def batch_text(one: Revision, bags: Iterable[Revision]) -> str:
    """A batch with what was planned beside what was measured, and its bags."""
    body = one.body or {}
    title = f"batch {one.name}: {body['about']} (version {body['recipe_version']} of the recipe)"
    lines = [title, f"  {State(body['state'])}{_baits(one)}"]
    lines += _beside(body)
    lines += [
        f"  bag {bag.name}: {bag.body['baits']} baits, {bag.body['kept']}{_best(bag.body)}"
        for bag in bags
        if bag.body is not None
    ]
    return "\n".join(lines)


def _beside(body: Mapping[str, Any]) -> Iterator[str]:
    for one in beside(body):
        if one.planned:
            was = f", was {one.was}" if one.was else ""
            yield f"  {one.label}: planned {one.planned} ({one.band}){was}"
        else:
            yield f"  {one.label}: {one.was}"


def _baits(one: Revision) -> str:
    body = one.body or {}
    return f", {body['baits']} baits" if State(body["state"]) is State.MADE else ""


def _best(body: Any) -> str:
    return f", best before {body['best_before']}" if body["best_before"] else ""
