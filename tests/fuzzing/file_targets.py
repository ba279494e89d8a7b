"""Targets of files that a maker, a supplier or another program wrote."""

from __future__ import annotations

import atexit
import json
import shutil
import tempfile
from collections.abc import Callable
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

from baitwright.workshop.days.several_file import read_day_file
from baitwright.workshop.forms.bottle_file import read_bottle_test
from baitwright.workshop.forms.form_words import from_file
from baitwright.workshop.forms.readings_file import read_readings
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.plans.plan_file import read_plan_file
from baitwright.workshop.plans.plan_json import plan_as_json
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.mix_file import read_mix, read_shelf
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.recipes.recipe_changes import changes_between
from baitwright.workshop.recipes.recipe_texts import recipe_of
from baitwright.workshop.strip.batch_file import read_batch
from baitwright.workshop.sweeps.sweep_file import read_sweep
from baitwright.workshop.tables.food_import import read_foods
from baitwright.workshop.tables.table_file import HowToRead
from baitwright.workshop.tables.table_import import Wishes, import_table
from baitwright.workshop.wishes.wishes_file import read_wishes
from tests.fuzzing.target import CLOCK, EXAMPLES, NOW, Target


@cache
def folder() -> Path:
    """A folder of this process, on no disk where the system has such a place."""
    memory = Path("/dev/shm")
    made = Path(tempfile.mkdtemp(dir=memory if memory.is_dir() else None, prefix="fuzzed-"))
    atexit.register(shutil.rmtree, made, ignore_errors=True)
    return made


def of_file(
    name: str, read: Callable[[Path], Any], *covers: str, seeds: tuple[bytes, ...] = ()
) -> Target:
    """A target of a file, named as it was meant to be."""

    def takes(data: bytes) -> object:
        path = folder() / name
        path.write_bytes(data)
        return read(path)

    return Target(name, takes, covers, seeds)


def examples(*patterns: str) -> tuple[bytes, ...]:
    """Files of the examples, to begin with."""
    found = (path for one in patterns for path in sorted(EXAMPLES.glob(one)))
    return tuple(path.read_bytes() for path in found)


def _sweep_file(path: Path) -> None:
    for beside in EXAMPLES.glob("*.toml"):  # a sweep names its recipe, bench and mixes
        if beside.name != path.name and not (path.parent / beside.name).exists():
            shutil.copy(beside, path.parent)
    read_sweep(path, factors_path=None, now=CLOCK)


def _record_file(path: Path) -> None:
    is_json = path.read_bytes().lstrip()[:1] == b"{"
    from_file(path.replace(path.with_suffix(".json")) if is_json else path, kind="night")


def _kept_recipe(path: Path) -> None:
    """What is asked of a recipe's text once it is kept."""
    text = path.read_bytes().decode("utf-8", "replace")
    recipe_of(text)
    changes_between(text, text)


@cache
def _plan() -> bytes:
    made = plan_batch(
        EXAMPLES / "copper-wafter.toml", EXAMPLES / "bench-one-egg.toml", clock=lambda: CLOCK
    )
    return json.dumps(plan_as_json(made)).encode()


DELIVERIES = b"""item,amount,price,best before,came,supplier,lot,allergens
semolina,25 kg,32.50,2027-05-01,2026-11-20,Reed Mill,L1,cereals-with-gluten
malt,500 ml,9.90,,,Reed Mill,,
"""
FOODS = b"""Food code,Food name,WATER (g),PROCNT(g),FAT (mg),CHOAVLDF (g),FIBTG (g),ASH (g)
X1,"Bran meal, invented",10.2,14.1,3200,41.7,26.0,4.8
"""
FOODS_JSON = b"""{"FoundationFoods": [{"description": "Bran meal, invented", "fdcId": 1,
"foodNutrients": [{"nutrient": {"number": "203", "unitName": "g"}, "amount": 14.1}]}]}"""


@cache
def workbook() -> bytes:
    """The deliveries as a workbook."""
    from openpyxl import Workbook

    book, file = Workbook(), BytesIO()
    for line in DELIVERIES.decode().splitlines():
        book.active.append(line.split(","))
    book.save(file)
    return file.getvalue()


READINGS = examples("readings.toml")
AS_IT_IS = HowToRead()
TARGETS = (
    of_file(
        "recipe.toml",
        read_recipe,
        "workshop/recipe_files/recipe_file:read_recipe",
        "workshop/typed/toml_reading:in_toml",
        seeds=examples("*wafter*.toml", "*sinker*.toml"),
    ),
    of_file(
        "kept-recipe.toml",
        _kept_recipe,
        "workshop/recipes/recipe_changes:changes_between",
        seeds=examples("*sinker*.toml"),
    ),
    of_file(
        "bench.toml",
        lambda path: read_bench(path, now=CLOCK),
        "workshop/recipe_files/bench_file:read_bench",
        seeds=examples("bench-*.toml"),
    ),
    of_file(
        "mix.toml",
        read_mix,
        "workshop/recipe_files/mix_file:read_mix",
        seeds=examples("*mix.toml"),
    ),
    of_file(
        "ingredients.toml",
        read_shelf,
        "workshop/recipe_files/mix_file:read_shelf",
        seeds=(b'[ingredients.fishmeal-65]\nprice = 2.10\nprotein = "20 %"\n',),
    ),
    of_file(
        "wishes.toml",
        read_wishes,
        "workshop/wishes/wishes_file:read_wishes",
        seeds=examples("*wishes.toml"),
    ),
    of_file(
        "day.toml",
        read_day_file,
        "workshop/days/several_file:read_day_file",
        seeds=examples("day.toml"),
    ),
    of_file(
        "sweep.toml",
        _sweep_file,
        "workshop/sweeps/sweep_file:read_sweep",
        seeds=examples("sweep.toml"),
    ),
    of_file(
        "readings.toml",
        lambda path: read_readings(path, plan_name="plan"),
        "workshop/forms/readings_file:read_readings",
        seeds=READINGS,
    ),
    of_file(
        "batch.toml",
        read_batch,
        "workshop/strip/batch_file:read_batch",
        seeds=(*READINGS, b'eggs = ["62 g", "64 g"]\ndrawn = { Malt = "2.3 ml" }\n'),
    ),
    of_file(
        "bottle.toml",
        lambda path: read_bottle_test(path, plan_name="plan"),
        "workshop/forms/bottle_file:read_bottle_test",
        seeds=examples("bottle-test.toml"),
    ),
    of_file(
        "factors.toml",
        read_factors,
        "workshop/recipe_files/factors_file:read_factors",
        seeds=(
            b'name = "mine"\nmade_on = 2026-11-27T09:00:00\n[[factors]]\n'
            b'key = "cook"\nmu = 0.01\nkappa = 3.0\n'
            b"nu = 4.0\nsigma2 = 0.01\n",
        ),
    ),
    of_file(
        "record.toml",
        _record_file,
        "workshop/forms/form_words:from_json",
        seeds=(b'water = "Long Reedpool"\n[[rod]]\nbites = 1\n', b'{"water": "Reed"}'),
    ),
    of_file(
        "plan.json",
        read_plan_file,
        "workshop/plans/plan_file:read_plan_file",
        "workshop/plans/plan_json:request_from_json",
        "workshop/plans/plan_json:recipe_from_json",
        seeds=(_plan(),),
    ),
    of_file(
        "deliveries.csv",
        lambda path: import_table(None, path, Wishes(only_look=True), now=NOW),
        "workshop/tables/table_reading:read_table",
        "workshop/tables/table_rows:read_rows",
        "workshop/tables/table_text:_parted",
        seeds=(DELIVERIES, DELIVERIES.decode().encode("utf-16")),
    ),
    of_file(
        "deliveries.xlsx",
        lambda path: import_table(None, path, Wishes(only_look=True), now=NOW),
        "workshop/tables/table_sheet:_opened",
        "workshop/tables/table_zip:refuse_bomb",
        seeds=(workbook(),),
    ),
    of_file(
        "foods.csv",
        lambda path: read_foods(path, AS_IT_IS),
        "workshop/tables/food_import:read_foods",
        "workshop/tables/food_json:json_foods",
        seeds=(FOODS, FOODS_JSON),
    ),
)
