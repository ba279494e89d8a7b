"""A plan on paper and in files: bench sheet, pictures, a page of them, calendar, and JSON."""

from __future__ import annotations

from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_sheet import bench_sheet
from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.pictures import plan_page
from baitwright.workshop.plans.figures import plan_figures
from baitwright.workshop.plans.show_plan import document
from baitwright.workshop.told.files import write_together
from baitwright.workshop.waters.venue import Held

PLAN = "plan.json"


def write_plan(plan: BatchPlan, folder: Path, held: Held | None = None) -> tuple[Path, ...]:
    """Write everything that leaves the house, all of it or nothing.

    Parameters
    ----------
    plan: the plan.
    folder: made when it is not there; files of these names in it are replaced.
    held: the rules of its water, which go into the plan.

    Returns
    -------
    Where bench sheet, pictures, their page, calendar and plan are, the plan last.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    figures = plan_figures(plan)
    contents = {
        "bench-sheet.pdf": bench_sheet(plan),  # the one a viewer may hold open
        **{f"{one.name}.svg": one.svg.encode() for one in figures},
        "figures.html": plan_page(plan, figures).encode(),
        "day.ics": day_calendar(plan),
        PLAN: f"{document(plan, held)}\n".encode(),
    }
    return write_together(folder, contents, field="out")
