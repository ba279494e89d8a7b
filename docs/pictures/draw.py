"""Draw the picture of the demo's bench sheet anew: ``python docs/pictures/draw.py``."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from baitwright.sheets.bench_sheet import bench_sheet_picture
from baitwright.workshop.plans.plan_batch import plan_batch

HERE = Path(__file__).resolve().parent
EXAMPLES = HERE.parents[1] / "examples"
MORNING = datetime(2026, 11, 26, 8, 0)


def main() -> None:
    """Plan the demo on a fixed morning and draw its sheet."""
    plan = plan_batch(
        EXAMPLES / "copper-wafter.toml",
        EXAMPLES / "bench-three-large-eggs.toml",
        clock=lambda: MORNING,
    )
    (HERE / "bench-sheet.png").write_bytes(bench_sheet_picture(plan))


if __name__ == "__main__":
    main()
