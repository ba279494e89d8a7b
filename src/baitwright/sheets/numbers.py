"""`docs/numbers.md` from the program itself: every declared number, default and factor.

``python -m baitwright.sheets.numbers`` writes it; with ``--check`` it only says whether the file
is up to date.
"""

from __future__ import annotations

import importlib
import math
import pkgutil
import sys
from collections.abc import Iterable
from dataclasses import dataclass, fields
from functools import cache
from itertools import groupby
from pathlib import Path

import baitwright.advice
import baitwright.batch
import baitwright.blending
import baitwright.recipe
from baitwright.materials.defaults import Default, defaults
from baitwright.materials.factors import FactorPrior, factor_priors
from baitwright.quantities import tidy
from baitwright.sheets.tables import lines_of
from baitwright.sheets.wording import in_unit, unit_word
from baitwright.sources import source
from baitwright.terms.quantity import Declared, declarations

DOCUMENT = Path(__file__).parents[3] / "docs" / "numbers.md"

_HEAD = """\
# Numbers

Written by `python -m baitwright.sheets.numbers`; a change by hand is lost. Each number of a plan is
made by one declared function. What stands here is that declaration and nothing else, so that the
document, the plan and the explanation of a number cannot differ. What is judged says so.

Each heading leads to the module that makes the numbers below it: look there for the function that
is declared under the number's name. A source leads to its line at the end.
"""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A check against practice that the program did not meet, and which default it suspects."""

    check: str
    trade_figure: str
    model: str
    suspect: str
    measurement: str


def doubts() -> tuple[Doubt, ...]:
    """Every check missed, as the table beside this module tells it.

    Raises
    ------
    ValueError: a column is missing or unknown, a cell is empty, or a suspect is no default or
        factor of the program.
    """
    known = {*defaults(), *factor_priors()}
    rows = tuple(Doubt(**line) for line in lines_of("doubts", _columns_of(Doubt)))
    for row in rows:
        unknown = [one for one in _suspects(row) if one not in known]
        if unknown:
            raise ValueError(f"doubts: no default or factor named {', '.join(unknown)}")
    return rows


def _columns_of(kind: type[Doubt]) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _suspects(doubt: Doubt) -> list[str]:
    return [name.strip() for name in doubt.suspect.split(";")]


@cache
def settling() -> dict[str, str]:
    """What to measure in place of each default, by its id."""
    lines = lines_of("settles", ("id", "measurement"))
    return {line["id"]: line["measurement"] for line in lines}


def numbers_document() -> str:
    """The whole document as Markdown."""
    declared = _declared()
    used = {one.source for one in declared}
    used |= {row.source for row in (*defaults().values(), *factor_priors().values())}
    parts = [
        _HEAD,
        "## How each number is made\n",
        *_by_module(declared),
        "## What is assumed until somebody says or measures\n",
        "The plan marks each of these. The band holds what is believed in 19 cases of 20.\n",
        _table(_DEFAULT_COLUMNS, map(_default_cells, defaults().values())),
        "## Where your kitchen differs\n",
        "Measured over predicted, starting at these beliefs and moved by your own readings. The "
        "spread is one standard width of the next batch either way.\n",
        _table(_FACTOR_COLUMNS, map(_factor_cells, factor_priors().values())),
        "## Where the defaults doubt themselves\n",
        _doubts(),
        "## Sources\n",
        "\n".join(f'- <a id="{key}"></a>`{key}`: {_citation(key)}' for key in sorted(used)) + "\n",
    ]
    return "\n".join(parts)


def _declared() -> list[Declared]:
    """Every declaration of recipe, mix bench, batch and desk, by module and name."""
    declaring = (baitwright.recipe, baitwright.blending, baitwright.batch, baitwright.advice)
    for room in declaring:
        for module in pkgutil.iter_modules(room.__path__, f"{room.__name__}."):
            importlib.import_module(module.name)
    rooms = tuple(f"{room.__name__}." for room in declaring)
    held = [one for one in declarations() if one.function.__module__.startswith(rooms)]
    return sorted(held, key=lambda one: (one.function.__module__, one.name))


_COLUMNS = ("name", "what", "equation", "unit", "source", "note")


def _by_module(declared: list[Declared]) -> list[str]:
    parts = []
    for name, held in groupby(declared, key=lambda one: one.function.__module__):
        about = (sys.modules[name].__doc__ or "").strip().splitlines()[0]
        code = f"../src/{name.replace('.', '/')}.py"
        parts += [f"### [{name.removeprefix('baitwright.')}]({code})\n", f"{about}\n"]
        parts.append(_table(_COLUMNS, map(_declared_cells, held)))
    return parts


def _declared_cells(one: Declared) -> tuple[str, ...]:
    si, shown = one.unit
    unit = shown if si in ("", shown) else f"{si}, shown in {unit_word(shown)}"
    return (
        f"`{one.name}`",
        one.label,
        f"`{one.equation}`",
        unit,
        _cited(one.source),
        one.note,
    )


_DEFAULT_COLUMNS = ("name", "what", "value", "band", "varies", "evidence", "settled by", "note")


def _default_cells(row: Default) -> tuple[str, ...]:
    low, value, high = (tidy(in_unit(one, row.unit)) for one in (row.low, row.value, row.high))
    unit = unit_word(row.unit)
    return (
        f"`{row.id}`",
        row.label,
        f"{value} {unit}".strip(),
        f"{low} to {high}",
        row.varies,
        f"{row.evidence}, {_cited(row.source)}",
        settling()[row.id],
        row.note,
    )


_FACTOR_COLUMNS = ("name", "what", "acts on", "median", "spread", "evidence", "settled by", "note")


def _factor_cells(row: FactorPrior) -> tuple[str, ...]:
    base = f"{tidy(in_unit(row.base_value, row.base_unit))} {unit_word(row.base_unit)}".strip()
    low, middle, high = (tidy(math.exp(row.log_median + step * row.log_sd)) for step in (-1, 0, 1))
    return (
        f"`{row.id}`",
        row.label,
        base,
        middle,
        f"{low} to {high}",
        f"{row.evidence}, {_cited(row.source)}",
        row.measurement,
        row.note,
    )


_DOUBT_COLUMNS = ("check", "the trade says", "the model says", "suspect", "settled by")


def _doubts() -> str:
    rows = doubts()
    if not rows:
        return "No check against practice has been missed so far.\n"
    lead = (
        "Where model and practice disagree, the model doubts itself first. The trade's figures are "
        "common practice without a source. No default was moved to meet one.\n"
    )
    cells = (
        (
            row.check,
            row.trade_figure,
            row.model,
            ", ".join(f"`{name}`" for name in _suspects(row)),
            row.measurement,
        )
        for row in rows
    )
    return f"{lead}\n{_table(_DOUBT_COLUMNS, cells)}"


def _cited(key: str) -> str:
    return f"[{key}](#{key})"


def _citation(key: str) -> str:
    found = source(key)
    seen = f" [{found.seen}]"
    return f"{found.citation}{seen}{f' {found.note}' if found.note else ''}"


def _table(columns: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    lines = [columns, ("---",) * len(columns), *rows]
    return "".join(f"| {' | '.join(map(_cell, line))} |\n" for line in lines)


def _cell(text: str) -> str:
    return " ".join(text.replace("|", "\\|").split())


def main(arguments: list[str]) -> int:
    """Write the document, or with ``--check`` say whether it is up to date."""
    text = numbers_document()
    if arguments == ["--check"]:
        fresh = DOCUMENT.exists() and DOCUMENT.read_text(encoding="utf-8") == text
        if not fresh:
            print(f"{DOCUMENT.name} is not up to date: python -m baitwright.sheets.numbers")
        return 0 if fresh else 1
    if arguments:
        print("usage: python -m baitwright.sheets.numbers [--check]")
        return 2
    DOCUMENT.write_text(text, encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
