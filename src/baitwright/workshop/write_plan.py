"""A plan on paper and in files: bench sheet, pictures of the night, calendar, and JSON."""

from __future__ import annotations

from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_sheet import bench_sheet
from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.pictures import plan_pictures
from baitwright.workshop.files import write_together
from baitwright.workshop.show_plan import document

PLAN = "plan.json"


def write_plan(plan: BatchPlan, folder: Path) -> tuple[Path, ...]:
    """Write everything that leaves the house, all of it or nothing.

    Parameters
    ----------
    plan: the plan.
    folder: made when it is not there; files of these names in it are replaced.

    Returns
    -------
    Where bench sheet, pictures, calendar and plan are, the plan last.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    contents = {
        "bench-sheet.pdf": bench_sheet(plan),  # the one a viewer may hold open
        **{f"{one.name}.svg": one.svg.encode() for one in plan_pictures(plan)},
        "day.ics": day_calendar(plan),
        PLAN: f"{document(plan)}\n".encode(),
    }
    return write_together(folder, contents, field="out")
