"""The papers of a plan as bytes, for a door that hands them out: sheet, calendar and data."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_sheet import bench_sheet
from baitwright.sheets.calendar import day_calendar
from baitwright.terms.errors import InputError
from baitwright.workshop.show_plan import document

PAPERS = {
    "bench-sheet.pdf": "application/pdf",
    "day.ics": "text/calendar",
    "plan.json": "application/json",
}
"""What there is, and its type."""


def paper(made: BatchPlan, name: str) -> bytes:
    """One paper of a plan.

    Raises
    ------
    InputError: there is none of the name.
    """
    if name == "bench-sheet.pdf":
        return bench_sheet(made)
    if name == "day.ics":
        return day_calendar(made)
    if name == "plan.json":
        return f"{document(made)}\n".encode()
    raise InputError("paper", name, f"one of: {', '.join(PAPERS)}")
