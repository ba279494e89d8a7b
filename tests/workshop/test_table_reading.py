"""Tables from elsewhere: read to the letter, or refused with the place and what would do."""

from __future__ import annotations

import builtins
import csv
import io
import zipfile
from collections.abc import Iterable
from datetime import date, datetime
from importlib import util
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_file import MOST_ROWS, NOT_STORED, Decimals, HowToRead
from baitwright.workshop.tables.table_reading import read_table, table_of

PLAIN = "item,amount\nsemolina,25 kg\nsoya,5 kg\n"
AS_IT_IS = HowToRead()


def rows(data: bytes | str, how: HowToRead = AS_IT_IS) -> list[tuple[str, ...]]:
    table = table_of(data.encode() if isinstance(data, str) else data, how)
    return [table.headings, *(row.cells for row in table.rows)]


def workbook(lines: Iterable[Iterable[Any]], *, more: tuple[str, ...] = ()) -> bytes:
    from openpyxl import Workbook

    book = Workbook()
    for line in lines:
        book.active.append(list(line))
    for name in more:
        book.create_sheet(name).append(["other"])
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def changed(data: bytes, name: str, content: bytes) -> bytes:
    """A workbook with one of its parts written anew, or one more."""
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(file, "w") as new:
        for member in old.infolist():
            if member.filename != name:
                new.writestr(member, old.read(member))
        new.writestr(name, content, zipfile.ZIP_DEFLATED)
    return file.getvalue()


EXPECTED = [("item", "amount"), ("semolina", "25 kg"), ("soya", "5 kg")]


@pytest.mark.parametrize(
    "data",
    [
        PLAIN.encode(),
        PLAIN.encode("utf-8-sig"),
        PLAIN.encode("utf-16"),
        PLAIN.encode("utf-16-be").join([b"\xfe\xff", b""]),
        PLAIN.replace(",", ";").encode(),
        PLAIN.replace(",", "\t").encode(),
        PLAIN.replace("\n", "\r\n").encode(),
        PLAIN.replace("\n", "\r").encode(),
        PLAIN.replace("\n", "\n\n,\n").encode(),
        workbook([["item", "amount"], ["semolina", "25 kg"], [], ["soya", "5 kg"]]),
    ],
    ids=["utf-8", "bom", "utf-16", "utf-16-be", ";", "tab", "crlf", "cr", "blank rows", "xlsx"],
)
def test_one_table_however_it_was_saved(data: bytes) -> None:
    assert rows(data) == EXPECTED


def test_a_row_is_numbered_by_the_line_it_begins_on() -> None:
    table = table_of(b'item,note\nsemolina,"two\nlines"\n\nsoya,one\n', AS_IT_IS)
    assert [(row.number, row.cells) for row in table.rows] == [
        (2, ("semolina", "two\nlines")),
        (5, ("soya", "one")),
    ]


def test_what_we_shielded_for_a_spreadsheet_comes_back() -> None:
    assert rows("item,amount\n'=SUM(A1),25 kg\n=SUM(A1),5 kg\n")[1:] == [
        ("=SUM(A1)", "25 kg"),
        ("=SUM(A1)", "5 kg"),
    ]


def test_another_encoding_is_said_and_never_guessed() -> None:
    data = "item,amount\ncrème,25 kg\n".encode("cp1252")
    with pytest.raises(InputError) as refused:
        rows(data)
    assert refused.value.got == "byte 15 in line 2"
    assert "--encoding cp1252" in str(refused.value)
    assert rows(data, HowToRead(encoding="CP1252"))[1] == ("crème", "25 kg")


@pytest.mark.parametrize(
    ("data", "how", "said"),
    [
        (b"", {}, "got 'nothing'"),
        (b"item,amount\n", {}, "headings alone"),
        (PLAIN.encode("utf-16-le"), {}, "--encoding utf-16"),
        (PLAIN.encode("utf-16")[:-1], {}, "in line 3"),
        (PLAIN.encode("utf-32"), {}, "UTF-32"),
        (PLAIN.encode("utf-8-sig"), {"encoding": "cp1252"}, "byte order mark of UTF-8"),
        (PLAIN.encode(), {"encoding": "klingon"}, "one of: utf-8"),
        (PLAIN.encode(), {"delimiter": "pipe"}, "one of: comma"),
        (PLAIN.encode(), {"sheet": "One"}, "no workbook"),
        (b"item,amount\nsemo\0lina,25 kg\n", {}, "line 2: got 'a NUL'"),
        (b"item,Amount,amount\na,b,c\n", {}, "'Amount' twice"),
        (b"item,,amount\na,b,c\n", {}, "a heading over each column"),
        (b'item,amount\n"semolina,25 kg\n', {}, "quotes that do not match"),
        (b'item,amount\n"semo"lina,25 kg\n', {}, "written twice"),
        (b"item,amount\n" + b"x" * 10_000_000 + b",1 kg\n", {}, "a cell without an end"),
        (b"item,amount\n" + b"x" * 10_001 + b",1 kg\n", {}, "(10001 characters)"),
        (b"item,amount\n" + b"a,1 kg\n" * (MOST_ROWS + 1), {}, "10000 rows at most"),
        (b",".join(b"h%d" % at for at in range(101)) + b"\n1,2\n", {}, "101 columns"),
        (b"item;a,amount\n1;2,3\n", {}, "say --delimiter"),
        (b"\xd0\xcf\x11\xe0 whatever", {}, "older kind of workbook"),
        (b"PK\x03\x04 and no zip after it", {}, "a damaged workbook"),
    ],
)
def test_what_is_no_table_is_refused(data: bytes, how: dict[str, str], said: str) -> None:
    with pytest.raises(InputError) as refused:
        rows(data, HowToRead(**how))
    assert said in str(refused.value)
    assert len(str(refused.value)) < 500


def test_delimiters_in_a_heading_are_asked_about_or_settled_by_the_rows() -> None:
    assert rows("item;price, all;amount\na;1;2\n")[0] == ("item", "price, all", "amount")
    both = "item;a,amount\n1;2,3\n"
    assert rows(both, HowToRead(delimiter="comma"))[1] == ("1;2", "3")


@pytest.mark.parametrize(
    ("data", "how", "decimals"),
    [
        (PLAIN, {}, Decimals.POINT),
        (PLAIN.replace(",", ";"), {}, Decimals.EITHER),
        (PLAIN, {"decimals": Decimals.COMMA}, Decimals.COMMA),
    ],
)
def test_what_a_comma_means_is_told(data: str, how: Any, decimals: Decimals) -> None:
    table = table_of(data.encode(), HowToRead(**how))
    assert table.decimals is decimals
    assert ("comma before decimals" in table.told) is (decimals is not Decimals.POINT)


def test_a_sheet_gives_stored_values() -> None:
    lines = [
        ["item", "amount", "number", "day", "formula"],
        ["semolina", 25, 0.1 + 0.2, date(2027, 5, 1), "=1+1"],
        ["soya", 2.0, True, datetime(2027, 5, 1, 9, 30), None],
    ]
    assert rows(workbook(lines))[1:] == [
        ("semolina", "25", "0.3", "2027-05-01", NOT_STORED),
        ("soya", "2", "True", "2027-05-01 09:30:00", ""),
    ]


def test_a_sheet_is_named_or_the_first() -> None:
    data = workbook(EXPECTED, more=("Other", "Third"))
    assert table_of(data, AS_IT_IS).told == "sheet 'Sheet' of 3"
    with pytest.raises(InputError, match="one of: Sheet, Other, Third"):
        rows(data, HowToRead(sheet="Fourth"))
    with pytest.raises(InputError, match="headings alone"):
        rows(data, HowToRead(sheet="Other"))


def test_a_far_cell_is_refused_and_not_walked_to() -> None:
    from openpyxl import Workbook

    for row, column in ((1_048_576, 1), (3, 16_384)):
        book = Workbook()
        book.active.append(["item", "amount"])
        book.active.cell(row, column, "far")
        file = io.BytesIO()
        book.save(file)
        with pytest.raises(InputError, match="at most"):
            rows(file.getvalue())


def test_a_large_even_workbook_is_no_bomb() -> None:
    same = ["semolina", "25 kg", "Reed Mill", "cereals-with-gluten"]
    table = table_of(workbook([["a", "b", "c", "d"], *[same] * MOST_ROWS]), AS_IT_IS)
    assert len(table.rows) == MOST_ROWS


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("xl/worksheets/sheet1.xml", b" " * 30_000_000, "packed 200:1 at most"),
        ("xl/media/a.bin", b"\0" * 101_000_000, "100 MB unpacked"),
        ("xl/workbook.xml", b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>', "entities"),
        ("xl/workbook.xml", '<!DOCTYPE a SYSTEM "x"><a/>'.encode("utf-16"), "entities"),
        ("xl/workbook.xml", b"<workbook", "a damaged workbook"),
        ("xl/workbook.xml", b"<workbook/>", "damaged workbook|none is there"),
        ("[Content_Types].xml", b"", "a damaged workbook"),
    ],
    ids=["ratio", "size", "entity", "external", "cut", "empty", "types"],
)
def test_a_workbook_that_is_a_trap_is_refused(name: str, content: bytes, said: str) -> None:
    with pytest.raises(InputError, match=said):
        rows(changed(workbook(EXPECTED), name, content))


def test_too_many_parts_and_a_locked_part_are_refused() -> None:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        for at in range(1_001):
            packed.writestr(f"part{at}", b"")
    with pytest.raises(InputError, match="1001 parts"):
        rows(file.getvalue())
    locked = bytearray(workbook(EXPECTED))
    locked[locked.index(b"PK\x01\x02") + 8] |= 1
    with pytest.raises(InputError, match="password"):
        rows(bytes(locked))


def test_without_openpyxl_a_workbook_is_refused_and_a_csv_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    data = workbook(EXPECTED)
    monkeypatch.setattr(util, "find_spec", lambda name: None)
    monkeypatch.setattr("baitwright.workshop.tables.table_sheet.find_spec", lambda name: None)
    with pytest.raises(InputError, match=r"baitwright\[tables\]"):
        rows(data)
    assert rows(PLAIN) == EXPECTED


def test_a_csv_does_not_load_openpyxl(monkeypatch: pytest.MonkeyPatch) -> None:
    loaded = []
    real = builtins.__import__

    def watched(name: str, *rest: Any, **more: Any) -> Any:
        loaded.append(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", watched)
    rows(PLAIN)
    assert "openpyxl" not in loaded


def test_the_file_is_named_in_its_error(tmp_path: Path) -> None:
    place = tmp_path / "came.csv"
    with pytest.raises(InputError, match="a file that is there"):
        read_table(place, AS_IT_IS)
    with pytest.raises(InputError, match="a file that is there"):
        read_table(tmp_path, AS_IT_IS)
    place.write_bytes(b"item\n\xff\n")
    with pytest.raises(InputError) as refused:
        read_table(place, AS_IT_IS)
    assert str(refused.value).startswith(str(place))
    with place.open("wb") as file:
        file.truncate(20_000_001)
    with pytest.raises(InputError, match="20 MB at most"):
        read_table(place, AS_IT_IS)


WHOLE = workbook(EXPECTED)


@st.composite
def damaged(draw: st.DrawFn) -> bytes:
    data = bytearray(WHOLE)
    for _ in range(draw(st.integers(1, 8))):
        data[draw(st.integers(0, len(data) - 1))] = draw(st.integers(0, 255))
    return bytes(data[: draw(st.integers(1, len(data)))])


@pytest.mark.fuzz
@given(st.one_of(st.binary(), st.text().map(str.encode), damaged()), st.sampled_from(["", "x"]))
@example(b'"', "")
@example(b"a\r\r\nb", "")
def test_any_bytes_are_a_table_or_one_clear_refusal(data: bytes, sheet: str) -> None:
    try:
        table = table_of(data, HowToRead(sheet=sheet))
    except InputError as error:
        assert len(str(error)) < 1000
    else:
        assert table.rows
        assert len(set(table.headings)) == len(table.headings)


CELLS = st.text(st.characters(exclude_categories=["C"]), max_size=12).map(str.strip)
NAMES = st.lists(st.text("abcdefgh", min_size=1, max_size=8), min_size=2, max_size=6, unique=True)


@given(
    NAMES, st.lists(st.lists(CELLS, min_size=6, max_size=6), min_size=1), st.sampled_from(",;\t")
)
def test_a_table_that_was_written_is_read(
    names: list[str], cells: list[list[str]], delimiter: str
) -> None:
    body = [["x", *line[1 : len(names)]] for line in cells]
    file = io.StringIO(newline="")
    csv.writer(file, delimiter=delimiter).writerows([names, *body])
    word = {",": "comma", ";": "semicolon", "\t": "tab"}[delimiter]
    read = rows(file.getvalue(), HowToRead(delimiter=word))
    plain = [tuple(cell for cell in line) for line in body]
    assert read[0] == tuple(names)
    shielded = [[cell for cell in line if cell.startswith("'")] for line in plain]
    assert [line for line, odd in zip(read[1:], shielded, strict=True) if not odd] == [
        line for line, odd in zip(plain, shielded, strict=True) if not odd
    ]
