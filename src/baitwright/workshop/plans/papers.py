"""The papers of a plan as bytes, for a door that hands them out: sheet, calendar and data."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_sheet import bench_sheet
from baitwright.sheets.calendar import day_calendar
from baitwright.terms.errors import InputError
from baitwright.workshop.plans.show_plan import document

PAPERS: Mapping[str, Callable[[BatchPlan], bytes]] = {
    "bench-sheet.pdf": bench_sheet,
    "day.ics": day_calendar,
    "plan.json": lambda made: f"{document(made)}\n".encode(),
}


def paper(made: BatchPlan, name: str, *, batch: str = "") -> bytes:
    """One paper of a plan.

    Parameters
    ----------
    made: the plan.
    name: of the paper.
    batch: what the notebook calls the batch; its calendar follows that name.

    Raises
    ------
    InputError: there is none of the name.
    """
    if name not in PAPERS:
        raise InputError("paper", name, f"one of: {', '.join(PAPERS)}")
    if batch and PAPERS[name] is day_calendar:
        return day_calendar(made, named=(batch,))
    return PAPERS[name](made)
