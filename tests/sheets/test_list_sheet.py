"""Lists on A4 and A5: every cell on the page, readable in grey, the same bytes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from tests.sheets.on_paper import MM, assert_legible, needs_poppler
from tests.sheets.test_bench_sheet import printed, read_back, words

NOW = datetime(2026, 11, 27, 9, 5, 7, 123456, tzinfo=UTC)
COLUMNS = (
    Column("item", 3.0),
    Column("holds", 1.5, numbers=True),
    Column("best before", 2.6),
    Column("counted", 1.4, to_write=True),
)
GROUPS = tuple(
    Group(
        (f"thing {at}", f"{at}.5 kg", "", ""),
        ((f"2026-11-27/{at}", "1.5 kg", "! 1 May 2027, soon", ""), ("B", f"{at} kg", "", "")),
    )
    for at in range(1, 41)
)
LONG = Group(
    ("Copperwafterbaits" * 4 + " of the Longest Reedpool", "123456789.123456 kg", "", ""),
    (("supplier-lot-" * 6, "-98765432.1 kg", "! 31 Dec 2026, past, in quarantine", ""),),
)
SHEET = ListSheet(
    "Stock",
    "41 items",
    NOW,
    (
        Listed("On the shelf", COLUMNS, (LONG, *GROUPS), ("All of it.", "! Look at this.")),
        Listed("Empty", (), (), ("Nothing.",)),
    ),
)
SIZES = {Paper.A4: (210, 297, 14), Paper.A5: (148, 210, 9)}


@pytest.fixture(params=list(Paper))
def paper(request: pytest.FixtureRequest) -> Paper:
    return Paper(request.param)


def test_every_cell_stands_on_it(paper: Paper) -> None:
    text = "".join(words(list_pages(SHEET, paper)).split())
    for table in SHEET.tables:
        cells = [
            cell for group in table.groups for row in (group.head, *group.rows) for cell in row
        ]
        said = (table.heading, *cells, *table.remarks, *(one.title for one in table.columns))
        for one in said:
            assert "".join(one.split()) in text, one


def test_its_pages_have_the_size_and_their_number(paper: Paper) -> None:
    pages = read_back(list_pages(SHEET, paper)).pages
    assert len(pages) > 1
    for at, page in enumerate(pages, 1):
        wide, high, _ = SIZES[paper]
        box = (float(page.mediabox.width), float(page.mediabox.height))
        assert box == pytest.approx((wide * MM, high * MM), abs=0.5)
        text = page.extract_text()
        assert f"{at} of {len(pages)}" in text
        assert "Fri 27 Nov 2026, 09:05" in text
        assert ("kg" in text) is ("best before" in text)


def test_no_head_stands_alone_at_the_foot_of_a_page(paper: Paper) -> None:
    """Each item with its first lot, whatever stands before it."""
    for shorter in range(4):
        table = replace(SHEET.tables[0], groups=GROUPS[shorter:])
        pages = read_back(list_pages(replace(SHEET, tables=(table,)), paper)).pages
        for page in pages:
            text = page.extract_text()
            for at in range(1 + shorter, 41):
                if f"thing {at}\n" in text or f"thing {at} " in text:
                    assert f"2026-11-27/{at}" in text


@needs_poppler
def test_it_is_legible_without_colour_and_nothing_runs_over(paper: Paper) -> None:
    pdf = list_pages(SHEET, paper)
    assert_legible(pdf, edge_mm=SIZES[paper][2])
    _, heights = printed(pdf)
    assert min(heights) >= 4.99


def test_a_usual_list_is_in_print_for_the_wall(paper: Paper) -> None:
    table = replace(SHEET.tables[0], groups=GROUPS[:3])
    _, heights = printed(list_pages(replace(SHEET, tables=(table,)), paper))
    assert min(heights) >= 6.7


def test_it_is_tagged_dated_and_the_same_each_time(paper: Paper) -> None:
    pdf = list_pages(SHEET, paper)
    assert pdf == list_pages(SHEET, paper)
    reader = read_back(pdf)
    assert reader.root_object["/MarkInfo"]["/Marked"]
    assert b"pdfuaid" in reader.root_object["/Metadata"].get_object().get_data()
    assert reader.metadata is not None
    assert reader.metadata.title == "Stock, 41 items"
    assert reader.metadata.creation_date is not None
    assert reader.metadata.creation_date.replace(tzinfo=UTC) == NOW.replace(microsecond=0)


@pytest.mark.parametrize("name", ["鯉の餌", '#set page(height: 1mm) "x" \\ $', "*_`<a>@b"])
def test_a_name_is_text_whatever_it_holds(name: str) -> None:
    table = replace(SHEET.tables[0], groups=(Group((name, "1", "", "")),))
    pdf = list_pages(replace(SHEET, tables=(table,)), Paper.A5)
    assert len(read_back(pdf).pages) == 1
    if name.isascii():
        assert name in words(pdf)
