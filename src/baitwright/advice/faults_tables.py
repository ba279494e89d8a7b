"""What makers meet, and what tells it: symptoms, their signs, causes with their tests, habits."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, cast

from baitwright.materials.tables import Row, one_of, read_rows, slug
from baitwright.terms.errors import InputError

DATA = Path(__file__).with_name("data")
R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom(Row):
    """A failure that makers meet.

    ``needs`` is a number of the plan that has to be above nothing, and ``missing`` what is not
    there where it is nothing.
    """

    label: str
    seen: str
    needs: str = ""
    missing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign(Row):
    """A number of the plan that a symptom hangs on, and where it goes when things go wrong.

    ``label`` may hold a star; each number that fits is a sign of its own. ``weight`` is how much it
    says of the symptom, 1 where it is the thing itself (judgement).
    """

    symptom: str
    node: str
    label: str
    goes: str = one_of("up", "down")
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf(Row):
    """Where a walk up the plan ends: what it is in the kitchen, by how much it slips, its test.

    ``slip`` is one standard deviation in ``slip_unit``; nothing where the plan's own band tells.
    ``lot`` is the part of a batch that another lot changes, ``care`` a caution of its test, and
    ``sort`` whether it lies in the kitchen or in what the program assumes. ``is_alone`` where a run
    of a model takes one of it only, so that it is moved in a run of its own.
    """

    what: str
    slip: float
    slip_unit: str
    lot: str = ""
    is_alone: bool
    sort: str = one_of("kitchen", "model")
    care: str = ""
    test: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Habit(Row):
    """A cause that is no number of the plan, hung on the nearest that is.

    ``weight`` is how much it is blamed, beside a standard deviation of the sign.
    """

    symptom: str
    node: str
    what: str
    weight: float
    lot: str = ""
    care: str = ""
    test: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Told(Row):
    """A reading of a batch's record and the number of the plan it is of.

    ``noise_pct`` is one standard deviation of the reading; ``is_held`` where the plan says it and
    the maker does it, so that nothing above it is to blame.
    """

    node: str
    label: str
    noise_pct: float
    is_held: bool
    told_as: str
    unit: str = ""


def symptoms() -> Mapping[str, Symptom]:
    """Every symptom by id."""
    return table("faults", Symptom)


def symptom(name: str) -> Symptom:
    """A symptom by its label or id.

    Raises
    ------
    InputError: there is none such.
    """
    wanted = slug(name)
    for row in symptoms().values():
        if wanted in (row.id, slug(row.label)):
            return row
    accepted = f"one of: {', '.join(row.label for row in symptoms().values())}"
    raise InputError("symptom", name, accepted)


def signs_of(one: Symptom) -> tuple[Sign, ...]:
    """The numbers that a symptom hangs on."""
    return tuple(row for row in table("fault_signs", Sign).values() if row.symptom == one.id)


def leaves() -> Mapping[str, Leaf]:
    """Where a walk up the plan ends, by the name of the number."""
    return table("fault_leaves", Leaf)


def habits_of(one: Symptom) -> tuple[Habit, ...]:
    """The causes of a symptom that are no numbers."""
    return tuple(row for row in table("fault_habits", Habit).values() if row.symptom == one.id)


def readings() -> Mapping[str, Told]:
    """Readings of a record by name."""
    return table("fault_readings", Told)


def held() -> frozenset[str]:
    """Names of numbers that the plan says and the maker does."""
    return frozenset(row.node for row in readings().values() if row.is_held)


def table(name: str, kind: type[R]) -> Mapping[str, R]:
    """The rows of a table of this room by id, in the table's order.

    Parameters
    ----------
    name: the file's name without its ending.
    kind: the record each row becomes.
    """
    return cast("Mapping[str, R]", _read(name, cast(Any, kind)))


@cache
def _read(name: str, kind: type[Row]) -> Mapping[str, Row]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return read_rows(csv.reader(file), name, kind)
