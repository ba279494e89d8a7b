"""One loader for every table: CSV rows into frozen records, in SI, checked once and kept.

A column carries its unit at the end of its name (``mass_low_g``); the record's field has the name
without it (``mass_low``) and the value in SI. Every row says what stands behind it and names a key
of the bibliography.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, dataclass, field, fields
from functools import cache, partial
from pathlib import Path
from typing import Any, TypeVar, cast

from baitwright.quantities import to_si
from baitwright.sources import source_keys
from baitwright.terms.errors import BaitwrightError, InputError
from baitwright.terms.evidence import Evidence

DATA = Path(__file__).with_name("data")

# What a column's name ends in, and the unit it stands for. Longer endings are tried first.
COLUMN_UNITS: Mapping[str, str] = {
    "_kj_per_100g": "kJ/100g",
    "_w_per_m_k": "W/m/K",
    "_j_per_kg_k": "J/kg/K",
    "_g_per_ml": "g/ml",
    "_pct": "%",
    "_ml": "ml",
    "_mm": "mm",
    "_kg": "kg",
    "_g": "g",
    "_C": "C",
    "_s": "s",
}

# Units of the tables that nobody types, as multiples of SI.
_TABLE_UNITS = {
    "kJ/100g": 1e4,
    "W/m/K": 1.0,
    "J/kg/K": 1.0,
    "kPa": 1e3,
    "1/min": 1.0 / 60.0,
    "1": 1.0,
}

# A limit of 53 g and a mass typed as 53 g are to be the same number of kilograms.
MICROGRAM_DIGITS = 9

NOT_IN_TABLES = frozenset({Evidence.MEASURED})


class TableError(BaitwrightError):
    """A table that does not say what it must: our fault, found when it is loaded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row of every table has."""

    id: str
    evidence: Evidence
    source: str
    note: str = ""


R = TypeVar("R", bound=Row)


def one_of(*words: str) -> Any:
    """A text field that takes only these words."""
    return field(metadata={"words": frozenset(words)})


def in_si(number: float, unit: str) -> float:
    """A number of a table in its unit, in SI."""
    scale = _TABLE_UNITS.get(unit)
    return to_si(number, unit) if scale is None else number * scale


def load(name: str, kind: type[R]) -> dict[str, R]:
    """The rows of a table by id, in the table's order. Read it, do not write into it.

    Parameters
    ----------
    name: the file's name without its ending.
    kind: the record each row becomes; its fields say which columns there are.

    Raises
    ------
    TableError: a column is missing or unknown, a value does not fit, an id comes twice, or the
        evidence or the source of a row is not known.
    """
    return cast("dict[str, R]", _load(name, cast(Any, kind)))


@cache
def _load(name: str, kind: type[Row]) -> dict[str, Row]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return read_rows(csv.reader(file), name, kind)


def read_rows(lines: Any, name: str, kind: type[R]) -> dict[str, R]:
    """Rows from an open reader; `load` is this on a file of the shelf.

    Raises
    ------
    TableError: as `load`.
    """
    header = next(lines, None)
    if header is None:
        raise TableError(f"{name}: empty")
    columns = [_column(title, name, kind) for title in header]
    missing = {f.name for f in fields(kind)} - {column.field for column in columns}
    if missing or len({column.field for column in columns}) != len(columns):
        raise TableError(f"{name}: columns missing or twice: {sorted(missing) or header}")
    table: dict[str, R] = {}
    for number, cells in enumerate(lines, start=2):
        where = f"{name}, line {number}"
        if len(cells) != len(columns):
            raise TableError(f"{where}: {len(cells)} cells under {len(columns)} columns")
        row = kind(**{c.field: c.read(cell, where) for c, cell in zip(columns, cells, strict=True)})
        if row.id in table:
            raise TableError(f"{where}: the id {row.id!r} comes twice")
        _check_limits(row, where)
        table[row.id] = row
    if not table:
        raise TableError(f"{name}: no rows")
    return table


@dataclass(frozen=True, slots=True)
class _Column:
    title: str
    field: str
    convert: Callable[[str], Any]
    blank: Any

    def read(self, cell: str, where: str) -> Any:
        text = cell.strip()
        if not text and self.blank is not MISSING:
            return self.blank
        try:
            if not text:
                raise ValueError("nothing there")
            return self.convert(text)
        except ValueError as error:
            raise TableError(f"{where}, {self.title}: {cell!r} does not fit ({error})") from error


def _column(title: str, name: str, kind: type[Row]) -> _Column:
    known = {f.name: f for f in fields(kind)}
    if title in known:
        return _Column(title, title, _converter(known[title], "1"), _blank(known[title]))
    for ending, unit in COLUMN_UNITS.items():
        stem = title.removesuffix(ending)
        if stem != title and stem in known:
            return _Column(title, stem, _converter(known[stem], unit), _blank(known[stem]))
    raise TableError(f"{name}: unknown column {title!r}")


def _blank(target: Field[Any]) -> Any:
    """What an empty cell means; MISSING where it may not be empty."""
    if str(target.type).startswith("tuple"):
        return ()
    return None if str(target.type).endswith("| None") else target.default


def _converter(target: Field[Any], unit: str) -> Callable[[str], Any]:
    words = target.metadata.get("words")
    if words is not None:
        return lambda text: _word(text, words)
    if target.name == "source" or target.name.endswith("_source"):
        return lambda text: _word(text, source_keys())
    number = partial(_number, unit=unit)
    by_type: dict[str, Callable[[str], Any]] = {
        "str": str,
        "bool": lambda text: _word(text, ("yes", "no")) == "yes",
        "int": int,
        "float": number,
        "float | None": number,
        "tuple[str, ...]": _words,
        "tuple[float, ...]": lambda text: tuple(number(part) for part in _words(text)),
        "Evidence": _evidence,
        "Evidence | None": _evidence,
    }
    return by_type[str(target.type)]


def _word(text: str, known: Any) -> str:
    if text not in known:
        raise ValueError("not one of the words known here")
    return text


def _words(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _evidence(text: str) -> Evidence:
    evidence = Evidence(text)
    if evidence in NOT_IN_TABLES:
        raise ValueError("a table holds no measurements of one workshop")
    return evidence


def _number(text: str, unit: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise ValueError("not a finite number")
    return in_si(number, unit)


def _check_limits(row: Row, where: str) -> None:
    low, high = getattr(row, "low", None), getattr(row, "high", None)
    if low is not None and high is not None and low > high:
        raise TableError(f"{where}: low {low} lies above high {high}")


CONSTITUENTS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")


def composition_of(row: Row) -> dict[str, float]:
    """The mass fractions of a row that has them, by constituent."""
    return {name: getattr(row, name) for name in CONSTITUENTS}


def slug(text: str) -> str:
    """A name as an id: lower case, words joined by hyphens."""
    return re.sub(r"[^a-z0-9.]+", "-", text.lower()).strip("-")


def find(table: Mapping[str, R], wanted: str, field_name: str) -> R:
    """The row a maker means, by id or by name, however it is spelled in case and spaces.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    key = slug(wanted)
    if key in table:
        return table[key]
    for row in table.values():
        if slug(str(getattr(row, "name", ""))) == key:
            return row
    raise InputError(field_name, wanted, _offer(key, list(table)))


def _offer(key: str, known: list[str]) -> str:
    # difflib is only worth its import when there is something to put right.
    from difflib import get_close_matches

    near = get_close_matches(key, known, n=4, cutoff=0.5)
    near += [name for name in known if key and key in name and name not in near]
    if near:
        return f"a name from the shelf, such as {', '.join(near[:6])}"
    return f"one of: {', '.join(known[:20])}{' ...' if len(known) > 20 else ''}"
