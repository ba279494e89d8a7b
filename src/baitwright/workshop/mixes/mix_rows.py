"""A mix as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from baitwright.blending.bases import Basis
from baitwright.terms.quantity import Quantity
from baitwright.workshop.mixes.mix_analysis import Analysed
from baitwright.workshop.told.csv_file import Cell
from baitwright.workshop.told.plain import told

HEADER = (
    *("about", "name", "value", "unit", "8 in 10 from", "8 in 10 to"),
    *("19 in 20 from", "19 in 20 to", "source", "evidence"),
)


def mix_rows(found: Analysed) -> Iterator[tuple[Cell, ...]]:
    """Every number of a mix, one to a row; what nobody knows is an empty cell and never nothing."""
    made = found.made
    for part in made.mix.parts:
        yield _row("part", part.share, part.name)
    for basis in Basis:
        for name, figure in made.bases.figures[basis].items():
            yield _row(str(basis), figure, name)
    for name, lack in made.missing.items():
        yield (
            str(Basis.DRY_MIX),
            name,
            None,
            "",
            *(None,) * 4,
            f"not told of {'; '.join(lack)}",
            "",
        )
    for role, share in (made.classes or {}).items():
        yield _row("class", share, role)
    bound = made.binding
    others = () if bound is None else (bound.setting, bound.hydrating, bound.gelling)
    loose = (made.bulk_density, made.cost.per_kilogram, made.cost.per_egg)
    for one in (made.bowl.dry_mix, *made.bases.densities.values(), *others, *loose):
        if one is not None:
            yield _row("mix", one, one.label)
    for held in found.held:
        yield _row("must hold", held.chance, held.limit.text)


def _row(about: str, one: Quantity, name: str) -> tuple[Cell, ...]:
    data = told(one)
    ends = [exact(end) for band in ("band80", "band95") for end in data[band]]
    value = exact(data["median"])
    return (about, name, value, data["unit"], *ends, data["source"], data["evidence"])


def exact(number: float | None) -> Decimal | None:
    """A number in six digits, as a spreadsheet takes it."""
    return None if number is None else Decimal(f"{number:.6g}")
