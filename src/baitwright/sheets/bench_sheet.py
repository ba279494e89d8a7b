"""A page for the wall over the bench: the steps of a batch in large print, as PDF or picture."""

from __future__ import annotations

import textwrap
from dataclasses import asdict
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_steps import Stage, shortened, stages
from baitwright.sheets.breakable import breakable
from baitwright.sheets.cut_open import cut_open
from baitwright.sheets.text_made import bridge, wanted
from baitwright.sheets.typeset import pdf_of, typeset
from baitwright.sheets.wording import clock, day, span
from baitwright.sources import sources

_TEMPLATE = Path(__file__).with_name("bench_sheet.typ")
_LONGEST = 120
"""Characters of a name that still fit on the page; a longer one is cut."""
_ON_PAPER = ("do", "how", "number", "unit")


def bench_sheet(plan: BatchPlan) -> bytes:
    """The bench sheet as a PDF of one A4 page, tagged for screen readers (PDF/UA-1).

    A batch whose steps do not fit on one in print that can be read takes a second page.
    The same plan gives the same bytes: the file is dated by the plan's own ``now`` and set in the
    fonts that come with the typesetter. A name in a script these fonts lack still prints, and the
    file is then tagged without claiming the standard.
    """
    return pdf_of(_TEMPLATE, sheet_data(plan), moment=plan.request.bench.now)


def bench_sheet_picture(plan: BatchPlan, *, dots_per_inch: float = 70.0) -> bytes:
    """The bench sheet as a PNG picture, for a page that shows what it looks like."""
    now = plan.request.bench.now
    return typeset(_TEMPLATE, sheet_data(plan), moment=now, format="png", ppi=dots_per_inch)


def sheet_data(plan: BatchPlan) -> dict[str, Any]:
    """Everything the page prints, as text."""
    recipe, bench = plan.request.recipe, plan.request.bench
    starts = plan.day.steps[0].start if plan.day.steps else bench.now
    leaving = ""
    if bench.leaving is not None:
        late = f", LATE by {span(-plan.day.slack)}" if plan.day.late else ""
        late = late if plan.day.dries else ", does not dry here"
        leaving = f"{day(bench.leaving)}, {clock(bench.leaving)}{late}"
    groups = ", ".join(group.name for group in plan.care.contains)
    may = ", ".join(group.name for group in plan.care.may_contain)
    unknown = "" if plan.care.known else "what the base mix's bag says"
    return {
        "name": _short(recipe.name),
        "wanted": _short(f"{wanted(recipe)}, from {recipe.base.name}"),
        "made": day(starts),
        "leaving": leaving,
        "bridge": bridge(plan),
        "invented": recipe.invented,
        "stages": [_printed(stage) for stage in stages(plan)],
        "bait": asdict(cut_open(plan)),
        "contains": ", ".join(part for part in (groups, unknown) if part),
        "may_contain": may,
        "sources": "; ".join(map(_in_brief, _cited(plan))),
        "version": plan.version,
    }


def _short(text: str) -> str:
    """A name cut where it would run off the page, with places to break in words that have none."""
    return breakable(shortened(text, _LONGEST))


def _printed(stage: Stage) -> dict[str, Any]:
    """A stage for the page: its steps whole, for what is cut off a dose may be the dose."""
    steps = [{key: breakable(getattr(step, key)) for key in _ON_PAPER} for step in stage.steps]
    told = {"name": stage.name, "begins": stage.begins, "caution": stage.caution}
    return {**told, "steps": steps}


def _cited(plan: BatchPlan) -> list[str]:
    """What the plan rests on besides the maker's word and plain arithmetic."""
    return [key for key in plan.sources if key in sources() and key != "definition"]


def _in_brief(key: str) -> str:
    """A source by author and year, or by its title where it has no author."""
    found = sources()[key]
    name = found.authors or found.title
    year = f" {found.year}" if found.year else ""
    return textwrap.shorten(name, 40, placeholder=" ...") + year
