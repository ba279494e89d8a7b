"""The shelf and costs on paper: what the lists in words say, in tables."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.cost_sheet import cost_sheet, write_cost
from baitwright.workshop.costs.cost_words import cost_text
from baitwright.workshop.costs.costs import BagPlan, cost_of_batch, cost_of_lot
from baitwright.workshop.costs.prices import Asking, ask, price_lines
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.shelf.stock_sheet import stock_sheet, write_stock
from baitwright.workshop.told.worth_words import NOT_KNOWN
from baitwright.workshop.traces.quarantine import quarantine
from tests.sheets.on_paper import assert_legible, needs_poppler
from tests.sheets.test_bench_sheet import words
from tests.workshop.batching import make_one
from tests.workshop.counter import MAY, NOW, TODAY, pieces, stocked

EDGES = {"a4": 14, "a5": 9}  # mm


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    yield made
    made.close()


@pytest.fixture
def lots(book: Notebook) -> dict[str, str]:
    return stocked(book)


def test_the_shelf_by_item_and_lot(book: Notebook, lots: dict[str, str]) -> None:
    """300 wafters of 18.00; lots bear it by what they hold, 200 of 300 is 12.00."""
    take_order(book, "", (Wanted("wafters", pieces(30), Decimal(1)),), now=NOW, day=TODAY)
    quarantine(book, lots["later"], "musty", now=NOW)
    sheet = stock_sheet(shelves(book), now=NOW)
    (table,) = sheet.tables
    assert [group.head[0] for group in table.groups] == [
        *("bags", "hooks", "labels", "semolina", "wafters"),
    ]
    wafters = table.groups[-1]
    assert wafters.head == ("wafters", "300", "30", "", "18.00", "")
    assert wafters.rows == (
        (lots["baits"], "200", "30", "1 May 2027", "12.00", ""),
        (lots["later"], "100", "", "! 1 Jun 2027, in quarantine", "6.00", ""),
    )
    assert table.groups[3].head[:2] == ("semolina", "25 kg")
    assert table.remarks == ("All together worth 71.00, at the moving average.",)


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (MAY - timedelta(days=31), "1 May 2027"),
        (MAY - timedelta(days=30), "! 1 May 2027, soon"),
        (MAY, "! 1 May 2027, soon"),
        (MAY + timedelta(days=1), "! 1 May 2027, past"),
    ],
)
def test_a_day_that_is_near_or_over_stands_out(
    book: Notebook, lots: dict[str, str], day: object, said: str
) -> None:
    now = NOW + (day - TODAY)  # type: ignore[operator]
    rows = stock_sheet(shelves(book), now=now).tables[0].groups[-1].rows
    assert rows[0][3] == said


def test_an_empty_shelf_says_so(book: Notebook) -> None:
    assert stock_sheet(shelves(book), now=NOW).tables[0].remarks == ("The shelf is empty.",)
    assert cost_price_remarks(book) == ("No price yet.",)


def cost_price_remarks(book: Notebook) -> tuple[str, ...]:
    stocked(book)
    return cost_sheet(cost_of_lot(book, packed(book)), (), now=NOW).tables[1].remarks


def packed(book: Notebook) -> str:
    """Five packs of twelve, two baits lost, a bag for each."""
    baits = next(one for one in shelves(book) if one.item == "wafters").lots[0].lot
    run = Packing(baits, "wafter pack", 5, 12, 2, (("bags", pieces(5)),))
    return pack(book, run, now=NOW).lot


def test_what_packs_cost_and_prices_leave(book: Notebook, lots: dict[str, str]) -> None:
    """62 wafters at 0.06 and 5 bags at 0.05 are 3.97, 0.794 a pack."""
    lot = packed(book)
    told = Asking(Decimal("2.40"), Decimal("0.2"), Decimal("0.7"), Decimal("0.05"))
    ask(book, "wafter pack", told, now=NOW)
    ask(book, "semolina", Asking(Decimal("1.00")), now=NOW)
    sheet = cost_sheet(cost_of_lot(book, lot), price_lines(book), now=NOW)
    went, prices = sheet.tables
    assert sheet.about == f"wafter pack, lot {lot}, 5 pieces: 3.97"
    assert went.groups[0].rows == (
        ("wafters", "62", "3.72", "93.7 %"),
        ("bags", "5", "0.25", "6.3 %"),
    )
    assert went.groups[1].head == ("all together", "", "3.97", "")
    assert went.remarks == ("Each piece: 0.7940.", "2 lost; the rest bear it.")
    assert prices.groups[0].rows == (
        ("! semolina", "a kg", "1.3000", "1.00", "none", "-0.30", "-30.0 %", "-", "-"),
        ("wafter pack", "each", "0.7940", "2.40", "20.0 %", "1.21", "60.3 %", "70.0 %", "3.20"),
    )
    assert prices.remarks[-1] == "! Below cost: each one sold is a loss."


def test_a_batch_is_told_as_in_words(book: Notebook, lots: dict[str, str]) -> None:
    name = make_one(book, baits_good=258).name
    told = cost_of_batch(book, name, BagPlan(5, 50, 3, Decimal("0.11")))
    went = cost_sheet(told, (), now=NOW).tables[0]
    said = cost_text(told, of="batch", each="bait").splitlines()
    assert (
        tuple(f"{line[:1].upper()}{line[1:]}." for line in said if line[0] != " ")[1:]
        == went.remarks
    )


def test_a_price_that_nobody_told_is_unknown_and_not_nothing(
    book: Notebook, lots: dict[str, str]
) -> None:
    bring_in(book, Delivery("ribbon", pieces(10), None), now=NOW)
    bought = shelves(book)
    stock = stock_sheet(bought, now=NOW).tables[0]
    ribbon = next(group for group in stock.groups if group.head[0] == "ribbon")
    assert (ribbon.head[4], ribbon.rows[0][4]) == ("?", "?")
    assert "worth 71.00 at least: 1 lot without a full price" in stock.remarks[0]
    assert stock.remarks[1] == NOT_KNOWN
    run = Packing(lots["baits"], "box", 5, 12, 0, (("ribbon", pieces(5)),))
    told = cost_of_lot(book, pack(book, run, now=NOW).lot)
    ask(book, "box", Asking(Decimal("2.00")), now=NOW)
    went, prices = cost_sheet(told, price_lines(book), now=NOW).tables
    assert ("ribbon", "5", "?", "-") in went.groups[0].rows
    assert went.groups[1].head[2] == "≥ 3.60"
    assert NOT_KNOWN in went.remarks
    assert prices.groups[0].rows == (
        ("box", "each", "≥ 0.7200", "2.00", "none", "≤ 1.28", "≤ 64.0 %", "-", "-"),
    )


@needs_poppler
@pytest.mark.parametrize("paper", list(EDGES))
def test_both_are_written_as_pages_to_read(
    book: Notebook, lots: dict[str, str], tmp_path: Path, paper: str
) -> None:
    lot = packed(book)
    ask(book, "semolina", Asking(Decimal("1234567.00"), Decimal("0.2"), Decimal("0.7")), now=NOW)
    stock = write_stock(tmp_path / "s.pdf", shelves(book), paper=paper, now=NOW).read_bytes()
    told, prices = cost_of_lot(book, lot), price_lines(book)
    cost = write_cost(tmp_path / "c.pdf", told, prices, paper=paper, now=NOW).read_bytes()
    for pdf, said in ((stock, lots["semolina"]), (cost, "1234567.00")):
        assert_legible(pdf, edge_mm=EDGES[paper])
        assert said in words(pdf)
    again = write_stock(tmp_path / "t.pdf", shelves(book), paper=paper, now=NOW)
    assert again.read_bytes() == stock


def test_a_file_that_cannot_be_written_is_told(book: Notebook, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="pdf"):
        write_stock(tmp_path, shelves(book), paper="a4", now=NOW)
