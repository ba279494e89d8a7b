"""A page for the wall over the bench: the steps of a batch in large print, as PDF or picture."""

from __future__ import annotations

import json
import textwrap
from dataclasses import asdict
from datetime import UTC
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.materials.cores import core
from baitwright.quantities import show
from baitwright.sheets.bench_steps import shortened, stages
from baitwright.sheets.text_made import bridge, wanted
from baitwright.sheets.wording import clock, day, figure, span
from baitwright.sources import sources
from baitwright.uncertainty.bands import median_of

_TEMPLATE = Path(__file__).with_name("bench_sheet.typ")
_LONGEST = 120
"""Characters of a name that still fit on the page; a longer one is cut."""


def bench_sheet(plan: BatchPlan) -> bytes:
    """The bench sheet as a PDF of one A4 page, tagged for screen readers (PDF/UA-1).

    A batch whose steps do not fit on one in print that can be read takes a second page.
    The same plan gives the same bytes: the file is dated by the plan's own ``now`` and set in the
    fonts that come with the typesetter. A name in a script these fonts lack still prints, and the
    file is then tagged without claiming the standard.
    """
    import typst  # loads a compiler and its fonts, so only those who print pay

    try:
        return _compiled(plan, format="pdf", pdf_standards="ua-1")
    except typst.TypstError:
        return _compiled(plan, format="pdf")


def bench_sheet_picture(plan: BatchPlan, *, dots_per_inch: float = 70.0) -> bytes:
    """The bench sheet as a PNG picture, for a page that shows what it looks like."""
    return _compiled(plan, format="png", ppi=dots_per_inch)


def _compiled(plan: BatchPlan, **how: Any) -> bytes:
    import typst

    made: bytes = typst.compile(
        _TEMPLATE,
        sys_inputs={"sheet": json.dumps(sheet_data(plan), ensure_ascii=True)},
        ignore_system_fonts=True,
        timestamp=plan.request.bench.now.replace(tzinfo=UTC),  # the maker's own clock
        **how,
    )
    return made


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
        "stages": [_printed(asdict(stage)) for stage in stages(plan)],
        "bait": _bait(plan),
        "contains": ", ".join(part for part in (groups, unknown) if part),
        "may_contain": may,
        "sources": "; ".join(map(_in_brief, _cited(plan))),
        "version": plan.version,
    }


def _short(text: str) -> str:
    """A name cut where it would run off the page, with places to break in words that have none."""
    return _breakable(shortened(text, _LONGEST))


def _breakable(text: str) -> str:
    """The same words, with places to break in those that are longer than a line."""
    return " ".join("\u200b".join(textwrap.wrap(word, 24)) for word in text.split())


def _printed(stage: dict[str, Any]) -> dict[str, Any]:
    """A stage for the page: its steps whole, for what is cut off a dose may be the dose."""
    steps = [{key: _breakable(text) for key, text in step.items()} for step in stage["steps"]]
    return {**stage, "steps": steps}


def _bait(plan: BatchPlan) -> dict[str, Any]:
    """The bait cut open: sizes in mm, and how deep it had set on the way through the pot."""
    bait, front = plan.request.recipe.bait, plan.boil.front.value
    core_size = 0.0 if bait.core is None else bait.core.diameter
    row = None if bait.core is None else core(bait.core.material)
    shell = 0.5 * (bait.diameter - core_size)
    through = (
        _THROUGH * 0.5 * (median_of(plan.rolled.diameter) - median_of(plan.rolled.core_diameter))
    )
    pairs = list(zip(front.seconds, front.depths, strict=True))
    skin = _under_way(pairs, shell) if row else None
    return {
        "outer": 1e3 * bait.diameter,
        "core": 1e3 * core_size,
        "outer_words": f"{show(bait.diameter, 'mm')} as rolled",
        "core_words": f"{show(core_size, 'mm')} {row.name}" if row else "",
        "paste_words": f"{show(shell, 'mm')} of paste" if row else "paste all through, no core",
        "dried_words": f"{figure(plan.dry.diameter).text} dried" if plan.day.dries else "",
        "skin": 1e3 * skin[1] if skin else 0.0,
        "skin_words": f"set {show(skin[1], 'mm', 2)} deep at {skin[0]:.0f} s" if skin else "",
        "end_words": f"set through by {figure(plan.boil.seconds).text}"
        if pairs[-1][1] >= through
        else f"boil {figure(plan.boil.seconds).text}",
    }


def _under_way(pairs: list[tuple[float, float]], shell: float) -> tuple[float, float] | None:
    """When the set front stood well inside the shell [s], and how deep [m]: a ring to cut down to.

    Nothing where it never stood there; a bait without a core shows none, for it would be drawn like
    one.
    """
    inside = [pair for pair in pairs if 0.2 * shell < pair[1] < 0.8 * shell]
    return inside[-1] if inside else None


_THROUGH = 0.98
"""A set front this far in counts as through."""


def _cited(plan: BatchPlan) -> list[str]:
    """What the plan rests on besides the maker's word and plain arithmetic."""
    return [key for key in plan.sources if key in sources() and key != "definition"]


def _in_brief(key: str) -> str:
    """A source by author and year, or by its title where it has no author."""
    found = sources()[key]
    name = found.authors or found.title
    year = f" {found.year}" if found.year else ""
    return textwrap.shorten(name, 40, placeholder=" ...") + year
