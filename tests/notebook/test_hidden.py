"""Control characters are refused in every text that is written, on every store, in plain words."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Server
from baitwright.terms.errors import InputError
from tests.notebook.kitchen import NOW
from tests.notebook.random_book import everything

HIDDEN = ["\0", "\x1b", "\x08", "\x0c", "\x7f", "\ud800"]


def post(page: Page, item: str, lot: str, why: str) -> None:
    page.post([Movement(item, lot, NOW, 1, Decimal(0), Reason.BOUGHT, why)])


def note(page: Page, name: str, reason: str, **body: object) -> None:
    page.write("night", name, body, seen=0, time=NOW, reason=reason)


WRITES: list[Callable[[Page, str], object]] = [
    lambda page, told: note(page, told, ""),
    lambda page, told: note(page, "1", told),
    lambda page, told: note(page, "1", "", water=told),
    lambda page, told: note(page, "1", "", rods=[{"bait": ["", told]}]),
    lambda page, told: note(page, "1", "", **{told: 1}),
    lambda page, told: page.add_person({"name": told}, time=NOW),
    lambda page, told: page.change_person("person 1", {"name": told}, time=NOW),
    lambda page, told: post(page, told, "1", ""),
    lambda page, told: post(page, "salt", told, ""),
    lambda page, told: post(page, "salt", "1", told),
    lambda page, told: page.reserve(told, "salt", {"1": 1}, time=NOW),
    lambda page, told: page.reserve("batch 1", "salt", {told: 1}, time=NOW),
    lambda page, told: page.link(Link(Place(Stop.SUPPLIED, told), Place(Stop.MIX, "1"))),
]


@pytest.mark.parametrize("write", WRITES)
def test_what_nobody_can_see_is_not_written(
    book: Notebook, write: Callable[[Page, str], object]
) -> None:
    with book.writing() as page:
        page.add_person({"name": "A. Example"}, time=NOW)
    before = everything(book)
    for one in HIDDEN:
        told = pytest.raises(InputError, match="text without control characters")
        with told as error, book.writing() as page:
            write(page, f"Reed{one}pool")
        assert f"Character 5 is U+{ord(one):04X}" in str(error.value)
    assert everything(book) == before


def test_ends_of_lines_tabs_and_typed_codes_are_kept(book: Notebook) -> None:
    told = "malt\tfaint\r\n\\u0000 \\x1b \x85 Müsli \U0001f41f"
    with book.writing() as page:
        note(page, "1", told, remark=told)
        post(page, "salt", "1", told)
    with book.reading() as page:
        found = page.latest("night", "1")
        assert found is not None
        assert (found.body, found.reason) == ({"remark": told}, told)
        assert page.book_lines()[0].override == told


def test_a_server_that_is_asked_for_what_it_cannot_have_says_so_plainly(book: Notebook) -> None:
    if isinstance(book.place, Server):
        with pytest.raises(InputError, match=r"has the character U\+0000"), book.reading() as page:
            page.lots("Reed\0pool")
    else:
        with book.reading() as page:
            assert page.lots("Reed\0pool") == {}
