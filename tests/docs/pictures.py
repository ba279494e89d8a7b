"""The pictures of the documents, taken of the program: ``python -m tests.docs.pictures``.

Bench sheet, bait and day are drawn by the program itself on a fixed morning; the pages are
photographed in Chromium over the demonstration, whose days end today. Nothing here is touched up.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import Page, sync_playwright

from baitwright.sheets.bench_sheet import bench_sheet_picture
from baitwright.workshop.plans.figures import plan_figures
from baitwright.workshop.plans.plan_batch import plan_batch
from tests.architecture.tree import ROOT
from tests.web.conftest import chromium, chromium_at, served
from tests.web.rooms import Shown, filled

PICTURES = ROOT / "docs" / "pictures"
EXAMPLES = ROOT / "examples"
MORNING = datetime(2026, 11, 26, 8, 0)
MOST = 150_000
"""Bytes of one picture: a page of them is to come up at once on a slow line."""


@dataclass(frozen=True)
class Shot:
    """One page, how wide and high the window is, and what is done there first."""

    name: str
    path: str
    width: int = 1100
    height: int = 760
    presses: tuple[str, ...] = ()


def shots(shown: Shown) -> tuple[Shot, ...]:
    """The pages that a newcomer should see first."""
    return (
        Shot("plan", "/plan?start=demo"),
        Shot("bench", f"/batches/{shown.planned}/bench", 390, 780, ("Done", "Done")),
        Shot("trace", "/trace?name=S-881", 1100, 700),
        Shot("trays", "/", 1100, 700),
    )


def draw() -> None:
    """What the program draws by itself."""
    plan = plan_batch(
        EXAMPLES / "copper-wafter.toml",
        EXAMPLES / "bench-three-large-eggs.toml",
        clock=lambda: MORNING,
    )
    (PICTURES / "bench-sheet.png").write_bytes(bench_sheet_picture(plan))
    for picture in plan_figures(plan):
        if picture.name in {"bait", "day"}:
            (PICTURES / f"{picture.name}.svg").write_text(picture.svg, encoding="utf-8")


def photograph() -> None:
    """The pages, in the light."""
    with TemporaryDirectory() as folder, open_pages(Path(folder)) as (page, shown):
        for one in shots(shown):
            page.set_viewport_size({"width": one.width, "height": one.height})
            page.goto(one.path)
            page.wait_for_load_state("networkidle")
            for button in one.presses:
                page.get_by_role("button", name=button, exact=True).first.click()
                page.wait_for_timeout(300)
            page.screenshot(path=PICTURES / f"{one.name}.png")


@contextmanager
def open_pages(folder: Path) -> Iterator[tuple[Page, Shown]]:
    """A window on the demonstration."""
    shown = filled(folder / "notebook.sqlite")
    with served(shown.place) as workshop, sync_playwright() as driver:
        browser = chromium_at(driver, chromium())
        window = browser.new_context(base_url=workshop.address, color_scheme="light")
        window.set_default_timeout(120_000)
        yield window.new_page(), shown
        browser.close()


def main() -> int:
    """Make them all; 1 where one came out too large."""
    draw()
    photograph()
    large = [path.name for path in PICTURES.iterdir() if path.stat().st_size > MOST]
    print(f"too large: {', '.join(large)}" if large else "made")
    return 1 if large else 0


if __name__ == "__main__":
    sys.exit(main())
