"""A plan saved from what a page tells, begun again from it, and compared with another."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.plan_starts import as_last_time, begun, of_recipe, starts
from baitwright.workshop.bench.plan_saved import plan_of, save, saved
from baitwright.workshop.plans.papers import PAPERS, paper
from baitwright.workshop.plans.plan_beside import comes_otherwise, told_otherwise
from baitwright.workshop.plans.plan_told import PlanTold, request_of
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.demo import demo_bench, demo_recipe
from baitwright.workshop.recipes.recipe_shelf import keep_recipe, versions
from baitwright.workshop.recipes.recipe_told import keep_told

NOW = datetime(2026, 11, 27, 9, 0)
HERE = NOW.replace(tzinfo=UTC)
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=HERE)
    yield made
    made.close()


def told(**bench: str) -> PlanTold:
    return PlanTold(demo_recipe(), {**demo_bench(), **bench})


def kept(book: Notebook, plan: PlanTold, once: str = "") -> str:
    made = worked_out(request_of(plan, now=NOW))
    return save(book, plan, made, once=once, now=HERE)


def test_a_saved_plan_is_the_plan_and_begins_the_next(book: Notebook) -> None:
    plan = told()
    name = kept(book, plan)
    assert plan_of(book, name) == worked_out(request_of(plan, now=NOW))
    assert starts(book).last == name
    start = as_last_time(book, name, now=NOW)
    assert start.since == name
    assert start.told.pairs == plan.pairs


def test_a_leaving_that_is_past_is_left_out_and_told(book: Notebook) -> None:
    name = kept(book, told(leaving="2026-11-28 17:00"))
    assert not as_last_time(book, name, now=NOW).left_out
    later = as_last_time(book, name, now=NOW + timedelta(days=2))
    assert later.left_out == ("leaving",)
    assert "leaving" not in later.told.bench


def test_one_page_saves_once(book: Notebook) -> None:
    first, again, other = (kept(book, told(), once=mark) for mark in ("one", "one", "two"))
    assert first == again != other


def test_a_recipe_that_says_the_same_keeps_its_comments(book: Notebook) -> None:
    keep_recipe(book, EXAMPLES / "copper-wafter.toml", now=HERE)
    assert not keep_told(book, demo_recipe(), now=HERE).is_new
    kept(book, told())
    (only,) = versions(book, "Copper wafter")
    assert "# Osier Wharf" in (only.body or {})["toml"]
    changed = {**demo_recipe(), "bait": {**demo_recipe()["bait"], "hardness": "normal"}}
    assert keep_told(book, changed, now=HERE).revision.version == 2


def test_a_recipe_of_the_notebook_begins_without_a_bench(book: Notebook) -> None:
    keep_told(book, demo_recipe(), now=HERE)
    assert of_recipe(book, "Copper wafter").told == PlanTold(demo_recipe(), {})
    for start in ("last one", "recipe"):
        with pytest.raises(InputError):
            begun(start)
    with pytest.raises(InputError):
        of_recipe(book, "Chalk")


def test_what_the_shelf_has_not_is_told(book: Notebook) -> None:
    found = saved(book, kept(book, told()))
    names = ["Copper", "eggs", "Malt", "Caraway oil", "Yeast extract", "cork-ball 9 mm"]
    assert list(found.missing) == names
    assert not found.short
    with pytest.raises(InputError):
        saved(book, "2026-11-27/B9")


def test_the_larger_difference_stands_first() -> None:
    one, other = told(), told(lake="18 C")
    assert [change.entry for change in told_otherwise(one, other)] == ["lake"]
    plans = [worked_out(request_of(plan, now=NOW)) for plan in (one, other)]
    numbers = comes_otherwise(*plans)
    assert numbers
    assert all(one.first != one.second for one in numbers)
    assert [one.apart for one in numbers] == sorted((one.apart for one in numbers), reverse=True)
    assert not comes_otherwise(plans[0], plans[0])


def test_every_paper_is_printed() -> None:
    made = worked_out(request_of(told(), now=NOW))
    begins = {name: paper(made, name)[:5] for name in PAPERS}
    assert begins == {"bench-sheet.pdf": b"%PDF-", "day.ics": b"BEGIN", "plan.json": b'{\n  "'}
    with pytest.raises(InputError):
        paper(made, "plan.xls")
