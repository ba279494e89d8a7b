"""What the page of a plan begins with: the last batch, a recipe, the demonstration, or nothing."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, PLAN, WRITTEN
from baitwright.workshop.plans.plan_told import PlanTold
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.demo import demo_bench, demo_recipe
from baitwright.workshop.recipes.recipe_changes import text_of
from baitwright.workshop.recipes.recipe_shelf import KIND as RECIPE
from baitwright.workshop.recipes.recipe_shelf import recipes
from baitwright.workshop.typed.clock import leaving_time
from baitwright.workshop.typed.reading import parse

LAST, DEMO, EMPTY = "last", "demo", "empty"


@dataclass(frozen=True, slots=True)
class Start:
    """What a page begins with, and the batch that it repeats."""

    told: PlanTold
    since: str = ""
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Starts:
    """What there is to begin with."""

    last: str
    about: str
    recipes: tuple[str, ...]


NOTHING = Starts("", "", ())


def starts(book: Notebook) -> Starts:
    """What a notebook has to begin with."""
    with book.reading() as page:
        last = next(iter(page.last(BATCH, 1)), None)
    names = tuple(one.name for one in recipes(book))
    return NOTHING if last is None and not names else Starts(*_named(last), names)


def begun(start: str) -> Start:
    """What a page begins with that needs no notebook.

    Raises
    ------
    InputError: it is not known.
    """
    if start == DEMO:
        return Start(PlanTold(demo_recipe(), demo_bench()))
    if start == EMPTY:
        return Start(PlanTold())
    raise InputError("start", start, f"one of: {LAST}, {DEMO}, {EMPTY}")


def as_last_time(book: Notebook, name: str, *, now: datetime) -> Start:
    """A batch told again: its recipe's version, and its bench where the notebook has it.

    Raises
    ------
    InputError: no such batch, or no recipe of it is left.
    """
    with book.reading() as page:
        batch, plan = page.latest(BATCH, name), page.latest(PLAN, name)
        if batch is None or batch.body is None:
            raise InputError("batch", name, "a batch of the notebook")
        versions = page.history(RECIPE, batch.body["about"])
    wanted = batch.body["recipe_version"]
    text = next((text_of(one) for one in versions if one.version == wanted), "")
    if not text:
        raise InputError("batch", name, "a batch whose recipe is in the notebook")
    bench = dict(((plan and plan.body) or {}).get(WRITTEN, {}))
    gone = tuple(_past(bench, now=now))
    kept = {key: value for key, value in bench.items() if key not in gone}
    return Start(PlanTold(_read(text), kept), name, gone)


def of_recipe(book: Notebook, name: str) -> Start:
    """A recipe of the notebook.

    Raises
    ------
    InputError: no such recipe.
    """
    with book.reading() as page:
        found = page.latest(RECIPE, name)
    if found is None or found.body is None:
        raise InputError("recipe", name, "a recipe of the notebook")
    return Start(PlanTold(_read(text_of(found))))


def _named(last: Revision | None) -> tuple[str, str]:
    return ("", "") if last is None else (last.name, str((last.body or {})["about"]))


def _read(text: str) -> dict[str, Any]:
    return tomllib.loads(text.lstrip("\ufeff"))


def _past(bench: Mapping[str, Any], *, now: datetime) -> list[str]:
    """What a bench says of the clock that is past by now."""
    gone = ["now"] if "now" in bench else []
    if "leaving" in bench:
        try:
            told = parse({"leaving": bench["leaving"]}, BenchFile, where="")
            if told.leaving is not None:
                leaving_time(told.leaving, now)
        except InputError:
            gone.append("leaving")
    return gone
