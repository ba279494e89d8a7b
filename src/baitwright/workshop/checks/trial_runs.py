"""The program tried out on the demonstration, and the notebook looked at."""

from __future__ import annotations

import os
import webbrowser
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.where import Where
from baitwright.sheets.bench_sheet import bench_sheet
from baitwright.terms.errors import BaitwrightError, InputError
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.checks.installation import Finding, Stands
from baitwright.workshop.opening.notebook_care import last_copy
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.recipe_files.demo import BENCH, RECIPE, WISHES, demo_file
from baitwright.workshop.wishes.design_mix import design_mix


def trial_runs(place: Where, *, clock: Callable[[], datetime]) -> Iterator[Finding]:
    """Try one thing after the other; nothing is written.

    Parameters
    ----------
    place: of the notebook.
    clock: tells the local time, for the batch that is planned on trial.
    """
    yield _tried("a batch on trial", lambda: _plan(clock()))
    yield _tried("a bench sheet on trial", lambda: _print(clock()))
    yield _tried("a mix on trial", _design)
    yield _tried("the notebook", lambda: _notebook(place))
    yield _browser()


def _tried(what: str, trial: Callable[[], str]) -> Finding:
    try:
        return Finding(what, Stands.WELL, trial())
    except BaitwrightError as error:
        return Finding(what, Stands.BROKEN, str(error))
    except Exception as error:  # whatever is broken is told, and the next thing looked at
        again = "Install the program anew." if isinstance(error, ImportError) else ""
        return Finding(what, Stands.BROKEN, f"{type(error).__name__}: {error}", again)


def _plan(now: datetime) -> str:
    return f"planned: {median_of(_demo(now).rolled.baits):.0f} baits"


def _print(now: datetime) -> str:
    return f"set in type: {len(bench_sheet(_demo(now))) // 1024} KiB of PDF"


def _design() -> str:
    made = design_mix(demo_file(WISHES))
    return "designed" if made.clash is None else "looked for, and told why there is none"


def _demo(now: datetime) -> BatchPlan:
    return plan_batch(demo_file(RECIPE), demo_file(BENCH), clock=lambda: now)


def _browser() -> Finding:
    """What the workshop would be shown in."""
    what = "a browser for the pages"
    try:
        webbrowser.get()
    except webbrowser.Error:
        by_hand = "baitwright open tells the address: type it into any browser of this machine"
        return Finding(what, Stands.LEFT_OUT, "none that can be called up from here", by_hand)
    return Finding(what, Stands.WELL, "there")


def _shut(place: Path) -> str:
    """Why nothing can be written there; nothing where it can."""
    if place.exists() and not os.access(place, os.W_OK):
        return "this file may be read only"
    folder = next(one for one in place.absolute().parents if one.exists())
    if not folder.is_dir():
        return f"{folder} is no folder"
    return "" if os.access(folder, os.W_OK | os.X_OK) else f"nothing may be written in {folder}"


def _notebook(place: Where) -> str:
    """Whether it is sound; looked at and left as it is."""
    if isinstance(place, Path) and (refused := _shut(place)):
        raise InputError("notebook", str(place), f"a place that can be written to; {refused}")
    keeper = keeper_of(place)
    if not keeper.stands():
        return f"none yet at {place}: it begins with the first thing you keep"
    if problem := keeper.problem():
        raise InputError("notebook", str(place), "a sound one", hint=problem)
    return f"sound, at {place}; {last_copy(place)}"
