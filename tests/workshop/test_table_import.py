"""Tables of deliveries onto the shelf: columns shown, rows refused one by one, all or nothing."""

from __future__ import annotations

import tempfile
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.copies import FOLDER
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.shelf.stock import shelves, units_of
from baitwright.workshop.shelf.stock_words import moved_of
from baitwright.workshop.tables.table_columns import match_columns
from baitwright.workshop.tables.table_fields import Days
from baitwright.workshop.tables.table_file import Decimals, HowToRead
from baitwright.workshop.tables.table_headings import Ours
from baitwright.workshop.tables.table_import import TableImport, Wishes, import_table, wishes_from
from baitwright.workshop.tables.table_words import import_data, import_text

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
KG = 1_000_000
TABLE = """Ingredient,Qty (kg),Price,BBE,Supplier,Lot No.,Received,Contains,Hazards,Shelf
semolina,25,£32.50,2027-05-01,Reed Mill,S-881,2026-11-20,cereals-with-gluten,,A
soya flour,12.5,18.20,2026-11-01,Reed Mill,S-882,2026-11-20,soybeans,,B
clove oil,0.1,,,Weir Oils,9/4,,,H317; H319,C
"""


def imported(book: Notebook | None, text: str, **wishes: Any) -> TableImport:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "came.csv"
        path.write_text(text, encoding="utf-8")
        return import_table(book, path, Wishes(**wishes), now=NOW)


def errors(done: TableImport) -> list[tuple[int, str, str]]:
    return [(one.row, one.column, one.value) for one in done.wrong]


def only(text: str, **wishes: Any) -> Delivery:
    done = imported(None, text, only_look=True, **wishes)
    assert not done.wrong, done.wrong
    return done.rows[0].delivery


def refusal(text: str, **wishes: Any) -> str:
    done = imported(None, text, only_look=True, **wishes)
    assert not done.rows
    return "\n".join(f"{one.accepted} {one.hint}" for one in done.wrong)


def test_every_row_becomes_a_lot_of_one_entry_after_a_copy(book: Notebook) -> None:
    done = imported(book, TABLE)
    assert done.lots == ("2026-11-20/1", "2026-11-20/2", "2026-11-27/1")
    assert done.copied is not None
    assert "before-import" in done.copied.name
    with closing(open_notebook(done.copied, now=NOW)) as copy:
        assert copy.place == done.copied
    stands = {one.item: (one.account.amount, one.account.value) for one in shelves(book)}
    assert stands == {
        "semolina": (25 * KG, Decimal("32.5")),
        "soya flour": (12_500_000, Decimal("18.2")),
        "clove oil": (100_000, 0),
    }
    with book.reading() as page:
        lot = lot_of(page, "2026-11-20/1")
        oil = lot_of(page, "2026-11-27/1")
        assert len(page.links()) == len(done.lots)
    assert (lot.came, lot.best_before) == ("2026-11-20", "2027-05-01")
    assert (lot.supplier, lot.supplier_lot) == ("Reed Mill", "S-881")
    assert (lot.allergens, oil.hazards) == ("cereals-with-gluten", "H317; H319")
    back = undo_last(book, now=NOW)
    assert {one.lot for one in back} == set(done.lots)
    assert not any(one.account.amount for one in shelves(book))


def test_a_workbook_with_days_and_numbers_is_taken_in(book: Notebook, tmp_path: Path) -> None:
    from openpyxl import Workbook

    made = Workbook()
    made.active.append(["Item", "Amount (kg)", "Price", "Best before", "Came"])
    made.active.append(["semolina", 2.5, 32.5, date(2027, 5, 1), datetime(2026, 11, 20)])
    made.active.append(["=SUM(B2)", 1, 2, None, None])
    made.active["A3"].data_type = "s"
    made.save(tmp_path / "came.xlsx")
    done = import_table(book, tmp_path / "came.xlsx", Wishes(), now=NOW)
    assert done.lots == ("2026-11-20/1", "2026-11-27/1")
    first, second = (one.delivery for one in done.rows)
    assert (first.amount.units, first.value) == (2_500_000, Decimal("32.5"))
    assert (first.best_before, first.came) == (date(2027, 5, 1), date(2026, 11, 20))
    assert second.item == "=SUM(B2)"
    made.active["B3"] = "=1+1"
    made.save(tmp_path / "came.xlsx")
    wrong = import_table(book, tmp_path / "came.xlsx", Wishes(), now=NOW).wrong
    assert "save the file once in the spreadsheet program" in wrong[0].accepted


def test_an_import_of_weights_and_counts_is_told_when_it_is_undone(book: Notebook) -> None:
    imported(book, "item,amount\nsemolina,25 kg\neggs,30 pieces\n")
    told = moved_of(undo_last(book, now=NOW), units_of(book))
    assert "-25 kg of semolina" in told
    assert "-30 of eggs" in told


def test_columns_are_shown_with_how_they_were_found_and_what_is_not_used() -> None:
    done = imported(None, TABLE.replace("Supplier", "Suplier"), only_look=True)
    told = import_text(done)
    assert "  amount: 'Qty (kg)', in kg (by name)" in told
    assert "? supplier: 'Suplier' (spelled otherwise)" in told
    assert "not used: 'Shelf'" in told
    assert "row 3: 12.5 kg of soya flour, 18.20" in told
    assert "past its day already, 2026-11-01" in told
    assert "no price: it is unknown in the book" in told
    assert "3 rows to go onto the shelf; nothing imported yet" in told


def test_a_look_writes_nothing_and_copies_nothing(book: Notebook) -> None:
    done = imported(book, TABLE, only_look=True)
    assert len(done.rows) == 3
    assert not done.lots
    assert not shelves(book)
    assert not (book.place.parent / FOLDER).exists()


def test_one_wrong_row_and_nothing_is_imported(book: Notebook) -> None:
    done = imported(book, TABLE + "salt,x,,,,,,,,\n")
    assert errors(done) == [(5, "Qty (kg)", "x")]
    assert not done.lots
    assert not shelves(book)
    assert not (book.place.parent / FOLDER).exists()
    told = import_text(done)
    assert "! row 5, Qty (kg): got 'x', but it takes an amount such as 25 kg" in told
    assert "nothing imported: 1 of 4 rows to put right" in told


def test_every_error_of_a_row_is_listed_with_its_place_and_value() -> None:
    table = "item,amount,price,came,best before,allergens,hazards\n"
    wrong = "semolina,5,abc,2026-11-28,soon,tar,H31\n,,,,,,\nx,1 kg\ny,1 kg,,,,,,more\n"
    done = imported(None, table + wrong, only_look=True)
    assert errors(done) == [
        (2, "amount", "5"),
        (2, "price", "abc"),
        (2, "best before", "soon"),
        (2, "came", "2026-11-28"),
        (2, "allergens", "tar"),
        (2, "hazards", "H31"),
        (4, "the row", "2 cells"),
        (5, "the row", "8 cells"),
    ]
    data = import_data(done)
    assert data["errors"][0]["accepted"] == "an amount such as 25 kg, 500 ml or 200 pieces"
    assert data["imported"] is False


def test_what_must_be_there_is_asked_for() -> None:
    table = "item,amount,price\n,1 kg,2\nsemolina,,2\n"
    done = imported(None, table, only_look=True)
    assert errors(done) == [(2, "item", ""), (3, "amount", "")]
    assert "got nothing" in import_text(done)


@pytest.mark.parametrize(
    ("heading", "cell", "units", "counted"),
    [
        ("Amount (kg)", "25", 25 * KG, Counted.MILLIGRAMS),
        ("amount_g", "25", 25_000, Counted.MILLIGRAMS),
        ("Weight in g", "25 g", 25_000, Counted.MILLIGRAMS),
        ("Volume [ml]", "250", 250_000, Counted.MICROLITRES),
        ("Qty", "2 1/2 kg", 2_500_000, Counted.MILLIGRAMS),
        ("Qty (pcs)", "30", 30, Counted.PIECES),
        ("Qty", "30 pieces", 30, Counted.PIECES),
        ("Quantity, oz", "16", 453_592, Counted.MILLIGRAMS),
    ],
)
def test_an_amount_takes_its_unit_from_beside_it_or_from_its_heading(
    heading: str, cell: str, units: int, counted: Counted
) -> None:
    table = f'item;"{heading}"\nsemolina;{cell}\n'
    assert only(table).amount == Amount(units, counted)


def test_a_column_of_units_goes_before_the_heading() -> None:
    table = "item,amount,unit\nsemolina,25,kg\n"
    assert only(table).amount.units == 25 * KG
    assert "an amount in kg, as its column says" in refusal(table.replace("25", "25 g"))


@pytest.mark.parametrize(
    ("cell", "decimals", "units"),
    [
        ("2,5 kg", Decimals.EITHER, 2_500_000),
        ("2.5 kg", Decimals.EITHER, 2_500_000),
        ("1,250 kg", Decimals.COMMA, 1_250_000),
        ("1.250 kg", Decimals.POINT, 1_250_000),
        ("1,250 kg", Decimals.EITHER, None),
        ("1.250 kg", Decimals.EITHER, None),
        ("1.250,5 kg", Decimals.EITHER, None),
        ("1.250,5 kg", Decimals.COMMA, None),
        ("2,5 kg", Decimals.POINT, None),
        ("1,2,3 kg", Decimals.COMMA, None),
    ],
)
def test_a_comma_or_point_that_may_be_thousands_is_asked_about(
    cell: str, decimals: Decimals, units: int | None
) -> None:
    table, how = f"item;amount\nsemolina;{cell}\n", HowToRead(decimals=decimals)
    if units is None:
        assert "an amount such as" in refusal(table, file=how)
    else:
        assert only(table, file=how).amount.units == units


def test_in_a_table_parted_by_commas_a_comma_is_no_decimal_comma() -> None:
    for cell in ("1,234", "12,50", "1,234.50"):
        said = refusal(f'item,amount,price\nsemolina,1 kg,"{cell}"\n')
        assert "--decimals" in said
    comma = HowToRead(decimals=Decimals.COMMA)
    assert only('item,amount,price\na,1 kg,"12,50"\n', file=comma).value == Decimal("12.50")


@pytest.mark.parametrize(
    ("cell", "value"),
    [
        ("32.50", "32.5"),
        ("£32.50", "32.5"),
        ("32.50 €", "32.5"),
        ("GBP 32.50", "32.5"),
        ("32.50 GBP", "32.5"),
        ("0", "0"),
        ("(32.50)", None),
        ("-32.50", None),
        ("£32.50 GBP", None),
        ("1e999", None),
        ("NaN", None),
        ("32.5000001", None),
        ("gratis", None),
    ],
)
def test_money_is_read_with_its_sign_or_refused(cell: str, value: str | None) -> None:
    table = f"item,amount,price\nsemolina,1 kg,{cell}\n"
    if value is None:
        assert "money such as 32.50" in refusal(table)
    else:
        assert only(table).value == Decimal(value)


def test_a_table_in_two_currencies_is_refused() -> None:
    table = "item,amount,price\na,1 kg,£2\nb,1 kg,GBP 2\nc,1 kg,2\nd,1 kg,$2\n"
    done = imported(None, table, only_look=True)
    assert errors(done) == [(5, "price", "$2")]
    assert done.wrong[0].accepted == "money in GBP, as in the rows before"


def test_a_price_of_each_is_no_price_of_all() -> None:
    for heading in ("Price per kg", "price/kg", "Unit price", "Cost each"):
        done = imported(None, f"item,amount,{heading}\na,1 kg,2\n", only_look=True)
        assert done.columns.unmatched == (heading,)
        assert done.rows[0].delivery.value is None


@pytest.mark.parametrize("cell", ["03/04/2026", "3.4.2026", "03-04-2026"])
def test_a_day_that_reads_two_ways_is_asked_about(cell: str) -> None:
    table = f"item,amount,came\na,1 kg,{cell}\n"
    assert "--days day-first" in refusal(table)
    assert str(only(table, days=Days.DAY_FIRST).came) == "2026-04-03"
    assert str(only(table, days=Days.MONTH_FIRST).came) == "2026-03-04"


@pytest.mark.parametrize("cell", ["2026-02-30", "31/04/2026", "0/0/0000", "46000", "٠٣/٠٤/٢٠٢٦x"])
def test_what_is_no_day_is_refused(cell: str) -> None:
    assert "a day such as 2027-05-01" in refusal(
        f"item,amount,best before\na,1 kg,{cell}\n", days=Days.DAY_FIRST
    )


def test_a_day_yet_to_come_is_refused_for_what_came_and_a_day_past_is_a_note() -> None:
    table = "item,amount,came,best before\na,1 kg,{},{}\n"
    assert "a day up to today, 2026-11-27" in refusal(table.format("2026-11-28", "2027-01-01"))
    done = imported(None, table.format("2026-11-27", "2026-11-26"), only_look=True)
    assert done.rows[0].notes == ("past its day already, 2026-11-26",)


def test_a_lot_number_used_twice_is_refused_unless_it_came_again(book: Notebook) -> None:
    kilo = Amount(KG, Counted.MILLIGRAMS)
    bring_in(book, Delivery("semolina", kilo, Decimal(1), None, "Reed Mill", "S-1"), now=NOW)
    head = "item,amount,supplier,lot\n"
    for rows, wrong in (
        ("semolina,1 kg,Reed Mill,S-1\n", [2]),
        ("Semolina,1 kg,reed  mill,s-1\n", [2]),
        ("semolina,1 kg,Reed Mill,S-2\nsemolina,1 kg,Reed Mill,S-2\n", [3]),
        ("semolina,1 kg,Other Mill,S-1\nsoya,1 kg,Reed Mill,S-1\n", []),
        ("semolina,1 kg,Reed Mill,\nsemolina,1 kg,Reed Mill,\n", []),
    ):
        done = imported(book, head + rows, only_look=True)
        assert [one.row for one in done.wrong] == wrong
        assert not imported(book, head + rows, only_look=True, again=True).wrong
    done = imported(book, head + "semolina,1 kg,Reed Mill,S-1\n", again=True)
    assert done.lots == ("2026-11-27/2",)


def test_a_table_that_was_taken_back_may_be_imported_again(book: Notebook) -> None:
    done = imported(book, TABLE)
    assert "It is lot 2026-11-20/1 here" in imported(book, TABLE).wrong[0].hint
    undo_last(book, now=NOW)
    again = imported(book, TABLE)
    assert (len(done.lots), len(again.lots), again.wrong) == (3, 3, ())
    assert len(imported(book, TABLE).wrong) == 3
    undo_last(book, now=NOW)
    undo_last(book, now=NOW)  # the undoing undone: it stands
    assert len(imported(book, TABLE).wrong) == 3


def test_a_lot_that_was_used_up_came_all_the_same(book: Notebook) -> None:
    imported(book, TABLE)
    take_out(book, Taking("semolina", Amount(25 * KG, Counted.MILLIGRAMS)), now=NOW)
    assert [one.row for one in imported(book, TABLE).wrong] == [2, 3, 4]


def test_an_item_keeps_its_unit_and_its_spelling(book: Notebook) -> None:
    kilo = Amount(KG, Counted.MILLIGRAMS)
    bring_in(book, Delivery("soya flour", kilo, Decimal(1)), now=NOW)
    done = imported(book, "item,amount\nSoya-Flour,500 ml\n")
    assert done.wrong[0].accepted == "a weight, as on the shelf"
    done = imported(book, "item,amount\neggs,30 pieces\nEggs,1 kg\n")
    assert errors(done) == [(3, "amount", "1 kg")]
    done = imported(book, "item,amount\nSoya-Flour,500 g\nsoya flwour,1 kg\n")
    assert [one.notes for one in done.rows] == [
        ("'Soya-Flour' is 'soya flour' here",),
        ("new here, beside 'soya flour'",),
    ]
    assert {one.item for one in shelves(book)} == {"soya flour", "soya flwour"}


def test_text_that_a_spreadsheet_would_run_is_kept_as_text(book: Notebook) -> None:
    imported(book, "item,amount,supplier\n=SUM(A1),1 kg,@mill\n'-x,1 kg,+1\n")
    assert {one.item for one in shelves(book)} == {"=SUM(A1)", "-x"}


@pytest.mark.parametrize("cell", ["#REF!", "#N/A", '"two\nlines"', "x" * 81])
def test_a_name_that_is_none_is_refused(cell: str) -> None:
    assert refusal(f"item,amount\n{cell},1 kg\n")


def test_allergens_and_hazards_are_told_by_group_and_code() -> None:
    table = "item,amount,allergens,hazards\na,1 kg,{},{}\n"
    made = only(table.format('"Milk, Soybeans/milk"', "H302+H312 EUH208|P305 + P351+P338"))
    assert (made.allergens, made.hazards) == ("milk; soybeans", "H302+H312; EUH208; P305+P351+P338")
    for wrong in ("H999zz", "H999", "H302+", "P305+hot"):
        assert "codes of phrases such as H317" in refusal(table.format("", wrong))
    none = only(table.format("none", "-"))
    assert (none.allergens, none.hazards) == ("none", "")
    assert only(table.format("-", "none")).allergens == ""
    assert "soybeans" in refusal(table.format("soyabean", ""))


def test_columns_are_told_or_asked_for() -> None:
    headings = ("Was", "Wieviel (kg)", "Cost", "Price", "Lot")
    told = {"item": "was", "amount": "Wieviel (kg)", "price": "Cost", "supplier lot": ""}
    columns = match_columns(headings, told)
    assert {str(ours): one.heading for ours, one in columns.matched.items()} == {
        "item": "Was",
        "amount": "Wieviel (kg)",
        "price": "Cost",
    }
    assert columns.matched[Ours.AMOUNT].unit == "kg"
    assert columns.unmatched == ("Price", "Lot")


@pytest.mark.parametrize(
    ("headings", "told", "said"),
    [
        (("item",), {}, "'Amount (kg)'"),
        (("amount", "thing"), {}, "'Item'"),
        (("item", "amount", "cost", "paid"), {}, 'say --column "price=cost"'),
        (("item", "amount"), {"colour": "item"}, "one of ours: item, amount"),
        (("item", "amount"), {"suplier": "item"}, "Nearest: 'supplier'"),
        (("item", "amount"), {"price": "cost"}, "a heading of the table: item, amount"),
        (("items", "amount"), {"item": ""}, "'Item'"),
    ],
)
def test_a_column_that_is_missing_or_twice_is_asked_for(
    headings: tuple[str, ...], told: dict[str, str], said: str
) -> None:
    with pytest.raises(InputError) as refused:
        match_columns(headings, told)
    assert said in str(refused.value)


def test_our_own_word_goes_before_others_for_it() -> None:
    columns = match_columns(("item", "product", "amount", "qty"), {})
    assert columns.matched[Ours.ITEM].heading == "item"
    assert columns.unmatched == ("product", "qty")


def test_a_long_table_is_told_in_part_and_given_whole(book: Notebook) -> None:
    table = "item,amount\n" + "".join(f"thing {at},1 kg\n" for at in range(60))
    done = imported(book, table)
    assert "... and 10 more: --json tells all" in import_text(done)
    assert len(import_data(done)["rows"]) == 60
    wrong = imported(book, table.replace("1 kg", "1"))
    assert "60 of 60 rows" in import_text(wrong)


def test_more_than_any_shop_holds_is_refused_whole(book: Notebook) -> None:
    table = "item,amount,price\n" + "a,1000000 kg,999999999\n" * 1_100
    with pytest.raises(InputError, match="more than any shop holds"):
        imported(book, table)
    assert not shelves(book)


def test_wishes_are_read_as_they_are_typed() -> None:
    file = {"sheet": "Came", "encoding": "", "delimiter": None, "decimals": "comma"}
    made = wishes_from(columns={}, days="day-first", again=True, only_look=False, **file)
    assert made == Wishes(
        HowToRead(sheet="Came", decimals=Decimals.COMMA), {}, Days.DAY_FIRST, True
    )
    plain = wishes_from(columns={}, days=None, again=False, only_look=False, decimals=None)
    assert plain == replace(Wishes(), columns={})


CELL = st.one_of(
    st.sampled_from(
        ["semolina", "5 kg", "=1+1", "£3", "2027-01-01", "1,5", '"', "", "\x1b[31m", "S-1"]
    ),
    st.text(max_size=8),
)


@pytest.mark.fuzz
@given(st.lists(st.lists(CELL, max_size=4).map(",".join), max_size=5).map("\n".join))
def test_any_table_is_imported_whole_or_not_at_all(body: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        book = open_notebook(Path(folder) / "notebook.sqlite", now=NOW)
        try:
            done = imported(book, f"item,amount,price,best before\n{body}")
        except InputError:
            assert not shelves(book)
        else:
            held = sum(len(one.lots) for one in shelves(book))
            assert held == len(done.lots)
            assert (not done.lots) == bool(done.wrong)
        finally:
            book.close()
