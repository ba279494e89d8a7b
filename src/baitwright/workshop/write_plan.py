"""A plan on paper and in files: the plan as JSON, the bench sheet as PDF, the day as a calendar."""

from __future__ import annotations

from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_sheet import bench_sheet
from baitwright.sheets.calendar import day_calendar
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
    Where bench sheet, calendar and plan are.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    contents = {
        "bench-sheet.pdf": bench_sheet(plan),  # the one a viewer may hold open
        "day.ics": day_calendar(plan),
        PLAN: f"{document(plan)}\n".encode(),
    }
    return write_together(folder, contents, field="out")
