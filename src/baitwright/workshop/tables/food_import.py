"""Analyses of foods from a file into the notebook: all of them in one transaction, or none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.opening.notebook_care import copy_before
from baitwright.workshop.tables.food_analysis import DECLARED, Food, FoodAnalysis, analysis_of
from baitwright.workshop.tables.food_json import json_foods
from baitwright.workshop.tables.food_tags import tagged_foods
from baitwright.workshop.tables.table_file import HowToRead, RowError, shortened
from baitwright.workshop.tables.table_reading import bytes_of, table_of
from baitwright.workshop.tables.table_text import text_of
from baitwright.workshop.typed.nearest import nearest

ANALYSIS = "analysis"


@dataclass(frozen=True, slots=True)
class FoodImport:
    """What became of a file of foods: analyses, what is wrong, and which were new or changed."""

    foods: tuple[FoodAnalysis, ...]
    wrong: tuple[RowError, ...]
    kept: tuple[str, ...] = ()
    copied: Path | None = None


def read_foods(path: Path, how: HowToRead) -> FoodImport:
    """The foods of a file, JSON or a table with INFOODS tagnames, each checked.

    Raises
    ------
    InputError: the file cannot be read, or holds no foods. What is wrong with one of them is
        listed and not raised.
    """
    data = bytes_of(path)
    try:
        foods, wrong = foods_of(data, how)
    except InputError as error:
        raise error.located(str(path)) from None
    return FoodImport(foods, wrong)


def foods_of(data: bytes, how: HowToRead) -> tuple[tuple[FoodAnalysis, ...], tuple[RowError, ...]]:
    """The foods in a file's bytes.

    Raises
    ------
    InputError: as `read_foods`.
    """
    if data.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in {b"{", b"["}:
        read, wrong = json_foods(text_of(data, how.encoding)[0])
    else:
        read, wrong = tagged_foods(table_of(data, how))
    errors = list(wrong)
    foods: dict[str, FoodAnalysis] = {}
    for food in read:
        try:
            if food.name in foods:
                raise InputError("name", food.name, "each food once")
            foods[food.name] = analysis_of(food)
        except InputError as error:
            errors.append(_error(food, error))
    return tuple(foods.values()), tuple(sorted(errors, key=lambda one: one.row))


def import_foods(book: Notebook, path: Path, how: HowToRead, *, now: datetime) -> FoodImport:
    """Keep the analysis of every food of a file, or of none where one of them is wrong.

    The notebook is copied before. An analysis that is there already makes no new version.

    Raises
    ------
    InputError: as `read_foods`, or the notebook cannot be written to.
    """
    read = read_foods(path, how)
    if read.wrong:
        return read
    copied = copy_before(book, "import", now=now)
    with book.writing() as page:
        kept = tuple(_kept(page, read.foods, path=path, now=now))
    return FoodImport(read.foods, (), kept, copied)


def analysis_named(book: Notebook, name: str) -> FoodAnalysis:
    """A food's analysis from the notebook.

    Raises
    ------
    InputError: there is none of that name.
    """
    with book.reading() as page:
        record = page.latest(ANALYSIS, name)
        if record is None or record.body is None:
            near = nearest(name, (one.name for one in page.all(ANALYSIS)))
            accepted = f"one such as {', '.join(near)}" if near else "one that was imported"
            raise InputError("analysis", name, accepted)
    return analysis_from(name, record.body)


def analysis_names(book: Notebook) -> tuple[str, ...]:
    """The foods whose analyses are kept."""
    with book.reading() as page:
        return tuple(one.name for one in page.all(ANALYSIS))


def food_body(food: FoodAnalysis) -> dict[str, Any]:
    """An analysis as plain data: grams in 100 g as exact text."""
    return {
        "code": food.code,
        "per_100_g": {part: f"{grams:f}" for part, grams in food.parts.items()},
        "tags": dict(food.tags),
        "sum": None if food.total is None else f"{food.total:f}",
        "notes": list(food.notes),
    }


def _kept(page: Page, foods: Iterable[FoodAnalysis], *, path: Path, now: datetime) -> Iterable[str]:
    for food in foods:
        latest = page.latest(ANALYSIS, food.name)
        body, seen = food_body(food), 0 if latest is None else latest.version
        if latest is None or latest.body != body:
            reason = f"imported from {shortened(path.name)}"
            page.write(ANALYSIS, food.name, body, seen=seen, time=now, reason=reason)
            yield food.name


def analysis_from(name: str, body: Mapping[str, Any]) -> FoodAnalysis:
    """An analysis as its record has it."""
    parts = {part: Decimal(grams) for part, grams in body["per_100_g"].items()}
    known = {part: parts[part] for part in DECLARED if part in parts}
    total = None if body["sum"] is None else Decimal(body["sum"])
    return FoodAnalysis(name, body["code"], known, body["tags"], total, tuple(body["notes"]))


def _error(food: Food, error: InputError) -> RowError:
    hint = f"{error.hint} It is {shortened(food.name)!r}.".lstrip()
    return RowError(food.at, error.field, shortened(error.got), error.accepted, hint)
