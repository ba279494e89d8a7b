"""A batch beside the good ones in words and as data, and what comes of another plan."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, replace

from baitwright.notebook.store import Notebook
from baitwright.quantities import tidy
from baitwright.sheets.wording import count_of
from baitwright.terms.errors import InputError
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.batches.kept_plan import kept_plan
from baitwright.workshop.batches.same_batch import Beside, Sameness
from baitwright.workshop.forms.changes import change_lines
from baitwright.workshop.plans.plan_beside import Beside as Plans
from baitwright.workshop.plans.plan_beside import comes_otherwise
from baitwright.workshop.plans.plan_words import called
from baitwright.workshop.plans.worked_out import worked_out

_DIGITS = 3


def plans_beside(book: Notebook, same: Sameness) -> Plans:
    """What was planned otherwise than for the last good one, and what comes of that.

    Both are worked out with the same draws, so that what differs is what was told. Nothing comes of
    a plan that was purged.
    """
    told = tuple(
        replace(one, entry=called(one.entry)) for one in (*same.recipe, *same.bench, *same.factors)
    )
    if not told:
        return Plans((), ())
    try:
        asked = [kept_plan(book, one) for one in (same.good[-1], same.batch)]
    except InputError:
        return Plans(told, ())
    then, now = (worked_out(replace(one, draws=Draws())) for one in asked)
    return Plans(told, comes_otherwise(then, now))


def read(value: float, unit: str) -> str:
    """A value with its unit."""
    return f"{tidy(value, _DIGITS)} {unit}".rstrip()


def same_text(same: Sameness, plans: Plans) -> str:
    """What differs, and whether it matters."""
    if not same.good:
        return (
            f"batch {same.batch}, {same.about}: no good one of this recipe to hold it against yet"
        )
    return "\n".join(_lines(same, plans))


def _lines(same: Sameness, plans: Plans) -> Iterator[str]:
    many = count_of(len(same.good), "good one", "good ones")
    verdict = count_of(same.count, "thing differs", "things differ") if same.count else "the same"
    yield f"batch {same.batch}, {same.about}: {verdict}, beside {many} to {same.good[-1]}"
    for lot in same.lots:
        check = f"; {lot.check}" if lot.check else ""
        yield f"  ! another lot of {lot.item}: {lot.lot}, was {', '.join(lot.before)}{check}"
    for name, changes in (("recipe", same.recipe), ("bench", same.bench), ("own", same.factors)):
        yield from change_lines(changes, margin=f"  ! {name}: ")
    for number in plans.numbers:
        first, second = (one.text if one else "none" for one in (number.first, number.second))
        yield f"      so {number.label}: {first} becomes {second}"
    yield from map(_thing, same.things)


def _thing(one: Beside) -> str:
    low, high = (tidy(end, _DIGITS) for end in (one.usual.low95, one.usual.high95))
    told = f"{one.value}: {read(one.was, one.unit)}, yours lie between {low} and {high}"
    return f"  ! {told}; it moves {one.touches}" if one.is_outside else f"    {told}"


def same_json(same: Sameness, plans: Plans) -> str:
    """The same for programs."""
    told = asdict(same)
    for row, one in zip(told["things"], same.things, strict=True):
        row["is_outside"] = one.is_outside
    comes = [
        {
            "label": one.label,
            "then": one.first and one.first.text,
            "now": one.second and one.second.text,
        }
        for one in plans.numbers
    ]
    return json.dumps({**told, "comes": comes}, ensure_ascii=False, indent=2, default=str)
