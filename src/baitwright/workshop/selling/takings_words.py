"""What the shop took, in words, for programs and as a table."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from baitwright.ledger.price import Margin
from baitwright.ledger.sales import margins, month_of
from baitwright.workshop.selling.takings import Takings
from baitwright.workshop.told.csv_file import Cell, write_csv
from baitwright.workshop.told.worth_words import (
    as_json,
    how_known,
    in_percent,
    known,
    money,
    percent,
    worth,
)

_COLUMNS = ("by", "name", "taken_without_vat", "cost", "margin", "margin_percent", "cost_known")


def takings_text(told: Takings) -> str:
    """Each order and each month with what was taken, what it cost and what is left."""
    lines = []
    for by, found in grouped(told).items():
        lines += [f"{by} {name}: {_left(margin)}" for name, margin in found.items()]
    if not lines:
        lines.append("Nothing was sent yet: baitwright sell order")
    if told.without_order or not told.without_order_whole:
        stock = money(told.without_order, whole=told.without_order_whole)
        lines.append(f"sold without an order, what was asked is unknown: stock worth {stock}")
    stock = worth(told.stock, told.stock_unpriced)
    return "\n".join((*lines, f"stock on the shelf worth {stock}"))


def takings_json(told: Takings) -> str:
    """The same for programs; money as text, so that no digit is lost."""
    rows = [dict(zip(_COLUMNS, row, strict=True)) for row in _rows(told)]
    rest = {
        "sold_without_order_cost": known(told.without_order, whole=told.without_order_whole),
        "stock_value": known(told.stock, whole=not told.stock_unpriced),
        "stock_lots_without_price": told.stock_unpriced,
    }
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
        _row(by, name, one) for by, found in grouped(told).items() for name, one in found.items()
    ]


def _row(by: str, name: str, one: Margin) -> tuple[Cell, ...]:
    """One line of the table; without a cost, what is left is as unknown."""
    said, cost = how_known(one.cost, whole=one.whole), known(one.cost, whole=one.whole)
    if cost is None:
        return (by, name, one.taken, None, None, None, said)
    return (by, name, one.taken, cost, one.money, in_percent(one.share), said)


def grouped(told: Takings) -> Mapping[str, Mapping[str, Margin]]:
    """What is left by order, by month, and of all."""
    months = margins(told.sales, month_of)
    return {
        "order": margins(told.sales, lambda sale: sale.order),
        "month": months,
        "all": margins(told.sales, lambda _: "together") if len(months) > 1 else {},
    }


def _left(one: Margin) -> str:
    took = f"took {one.taken:.2f} without VAT"
    if known(one.cost, whole=one.whole) is None:
        return f"{took}, cost unknown"
    least, most = ("", "") if one.whole else (" at least", " at most")
    left = f"leaves {one.money:.2f}{most}, {percent(one.share)}{most}"
    return f"{took}, cost {one.cost:.2f}{least}, {left}"
