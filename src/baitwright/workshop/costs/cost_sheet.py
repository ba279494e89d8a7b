"""What something cost, on paper: part by part, each one, a bag, and what prices leave."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from baitwright.sheets.wording import count_of
from baitwright.workshop.costs.cost_words import share_of, worked_out
from baitwright.workshop.costs.costs import Told
from baitwright.workshop.costs.price_line import PriceLine
from baitwright.workshop.costs.price_words import PER
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.worth_words import NOT_KNOWN, in_short, percent, worth
from baitwright.workshop.typed.amounts import in_words

_PARTS = (
    Column("what went into it", 4),
    Column("amount", 1.6, numbers=True),
    Column("cost", 1.4, numbers=True),
    Column("of it", 1.2, numbers=True),
)
_PRICES = (
    Column("item", 2.8),
    Column("for", 0.9),
    Column("cost", 1.4, numbers=True),
    Column("asked", 1.3, numbers=True),
    Column("VAT in it", 1.3, numbers=True),
    Column("leaves", 1.4, numbers=True),
    Column("margin", 1.5, numbers=True),
    Column("margin wanted", 1.4, numbers=True),
    Column("price for that", 1.3, numbers=True),
)


def write_cost(
    path: Path, told: Told, prices: Sequence[PriceLine], *, paper: str, now: datetime
) -> Path:
    """Write what something cost, and the price list, as a PDF on `a4` or `a5`.

    Raises
    ------
    InputError: the file cannot be written.
    """
    pages = list_pages(cost_sheet(told, prices, now=now), Paper(paper))
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def cost_sheet(told: Told, prices: Sequence[PriceLine], *, now: datetime) -> ListSheet:
    """What a lot cost part by part, each one of it, and what the prices of the list leave."""
    each = "bait" if told.rolled is not None or told.bag is not None else "piece"
    count = count_of(told.cost.baits, each)
    cost = worth(told.cost.total, sum(told.unpriced.values()))
    about = f"{told.item}, lot {told.name}, {count}: {cost}"
    parts = sorted(told.cost.parts, key=lambda part: -part.value)
    rows = tuple(
        (
            part.item,
            in_words(part.amount, told.units[part.item]),
            in_short(part.value, whole=part.item not in told.unpriced),
            percent(share_of(part, told)),
        )
        for part in parts
    )
    whole = Group(("all together", "", in_short(told.cost.total, whole=told.whole), ""))
    remarks = [f"{line[:1].upper()}{line[1:]}." for line in worked_out(told, each=each)]
    remarks += [] if told.whole else [NOT_KNOWN]
    went = Listed("What it cost", _PARTS, (Group(rows=rows), whole), tuple(remarks))
    return ListSheet("Cost", about, now, (went, _listed(prices)))


def _listed(prices: Sequence[PriceLine]) -> Listed:
    heading = "Prices and what they leave"
    if not prices:
        return Listed(heading, (), (), ("No price yet.",))
    below = any(one.is_below_cost for one in prices)
    remarks = ["Cost at the moving average; margin as a share of the price without VAT."]
    remarks += [NOT_KNOWN] if any(one.unpriced for one in prices) else []
    remarks += ["! Below cost: each one sold is a loss."] if below else []
    return Listed(heading, _PRICES, (Group(rows=tuple(map(_row, prices))),), tuple(remarks))


def _row(one: PriceLine) -> tuple[str, ...]:
    least, most = ("≥ ", "≤ ") if one.at_least else ("", "")
    unknown = "?" if one.unpriced else "-"
    return (
        f"! {one.item}" if one.is_below_cost else one.item,
        PER[one.counted],
        unknown if one.cost is None else f"{least}{one.cost:.4f}",
        _money(one.asked),
        "none" if one.vat is None else percent(one.vat),
        _money(one.left, most),
        percent(one.left_share) if one.left_share is None else most + percent(one.left_share),
        percent(one.wanted),
        _money(one.price_wanted, least),
    )


def _money(value: Decimal | None, sign: str = "") -> str:
    return "-" if value is None else f"{sign}{value:.2f}"
