"""What the shop took, in words, for programs and as a table."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from baitwright.ledger.price import Margin
from baitwright.ledger.sales import margins, month_of
from baitwright.workshop.cost_words import as_json, in_percent, percent
from baitwright.workshop.csv_file import Cell, write_csv
from baitwright.workshop.takings import Takings

_COLUMNS = ("by", "name", "taken_without_vat", "cost", "margin", "margin_percent")


def takings_text(told: Takings) -> str:
    """Each order and each month with what was taken, what it cost and what is left."""
    lines = []
    for by, found in grouped(told).items():
        lines += [f"{by} {name}: {_left(margin)}" for name, margin in found.items()]
    if not lines:
        lines.append("Nothing was sent yet: baitwright sell order")
    if told.without_order:
        lines.append(f"sold without an order: stock worth {told.without_order:.2f}, price unknown")
    return "\n".join((*lines, f"stock on the shelf worth {told.stock:.2f}"))


def takings_json(told: Takings) -> str:
    """The same for programs; money as text, so that no digit is lost."""
    rows = [dict(zip(_COLUMNS, row, strict=True)) for row in _rows(told)]
    rest = {"sold_without_order_cost": told.without_order, "stock_value": told.stock}
    return as_json({"margins": rows, **rest})


def takings_table(path: Path, told: Takings) -> Path:
    """The same as a CSV file.

    Raises
    ------
    InputError: it cannot be written.
    """
    return write_csv(path, _COLUMNS, _rows(told))


def _rows(told: Takings) -> list[tuple[Cell, ...]]:
    return [
        (by, name, one.taken, one.cost, one.money, in_percent(one.share))
        for by, found in grouped(told).items()
        for name, one in found.items()
    ]


def grouped(told: Takings) -> Mapping[str, Mapping[str, Margin]]:
    """What is left by order, by month, and of all."""
    months = margins(told.sales, month_of)
    return {
        "order": margins(told.sales, lambda sale: sale.order),
        "month": months,
        "all": margins(told.sales, lambda _: "together") if len(months) > 1 else {},
    }


def _left(one: Margin) -> str:
    return (
        f"took {one.taken:.2f} without VAT, cost {one.cost:.2f}, "
        f"leaves {one.money:.2f}, {percent(one.share)}"
    )
