"""A set of the maker's factors as a file to keep, read and, if need be, write by hand."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

from baitwright.materials.factors import prior_factors
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor, FactorSet, Learned
from baitwright.workshop.recipe_files.factors_tables import FactorsTable, FactorTable, LearnedTable
from baitwright.workshop.told.files import write_together
from baitwright.workshop.typed.reading import Table, load, parse
from baitwright.workshop.typed.toml_text import quoted, toml_value


def read_factors(path: Path) -> FactorSet:
    """The set in a file; what the file does not hold is believed as the priors have it.

    Raises
    ------
    InputError: the file cannot be read, holds an unknown key, or a number no factor can have.
    """
    where = str(path)
    table = parse(load(path, what="factors"), FactorsTable, where=where)
    try:
        return _factor_set(table)
    except InputError as error:
        raise error.located(where) from None


def _factor_set(table: FactorsTable) -> FactorSet:
    own = [_factor(row) for row in table.factors]
    if len({(one.key, one.about) for one in own}) < len(own):
        raise InputError("factors", "one factor twice", "each factor once")
    named = {(factor.key, factor.about): factor for factor in prior_factors().factors}
    named |= {(factor.key, factor.about): factor for factor in own}
    learned = tuple(Learned(row.plan, row.made, row.digest) for row in table.learned)
    return FactorSet(table.name, table.made_on, tuple(named.values()), learned)


def write_factors(path: Path, factors: FactorSet) -> Path:
    """Write a set to a new file. A set is never changed, so a file that is there stays.

    Raises
    ------
    InputError: there is such a file, or its folder cannot be written to.
    """
    if path.exists():
        hint = f"A set of factors is never changed: name a new file, such as {_free_name(path)}."
        raise InputError("accept", str(path), "the name of a file that is not there yet", hint=hint)
    content = _as_toml(factors).encode("utf-8")
    return write_together(path.parent, {path.name: content}, field="accept")[0]


def _free_name(path: Path) -> Path:
    """The next name that is not taken: mine.toml, mine-2.toml, mine-3.toml."""
    stem, _, number = path.stem.rpartition("-")
    first, start = (stem, int(number) + 1) if stem and number.isdecimal() else (path.stem, 2)
    names = (path.with_name(f"{first}-{at}{path.suffix}") for at in itertools.count(start))
    return next(name for name in names if not name.exists())


def _factor(row: FactorTable) -> Factor:
    values: dict[str, Any] = row.model_dump()
    return Factor(**values)


def _as_toml(factors: FactorSet) -> str:
    lines = [
        "# Where this kitchen differs from the tables: measured over predicted, held in logs.",
        f"name = {quoted(factors.name)}",
    ]
    if factors.made_on is not None:
        lines.append(f"made_on = {factors.made_on.isoformat()}")
    for batch in factors.learned:
        lines += ["", "[[learned]]", *_pairs(LearnedTable, batch)]
    for factor in factors.factors:
        lines += ["", "[[factors]]", f"# {factor.median:.3g} times the table's value"]
        lines += _pairs(FactorTable, factor)
    return "\n".join(lines) + "\n"


def _pairs(table: type[Table], record: Factor | Learned) -> list[str]:
    """A record's keys and values, without those that say nothing."""
    values = {name: getattr(record, name) for name in table.model_fields}
    return [f"{name} = {toml_value(one)}" for name, one in values.items() if one not in ("", None)]
