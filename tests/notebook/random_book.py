"""Notebooks that nobody would write, for the tests: any text, any order, undone and purged."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from baitwright.ledger.movements import STEP, Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.rows import Row, rows_of
from baitwright.notebook.store import Notebook
from baitwright.notebook.tables import metadata
from tests.notebook.kitchen import NOW, opened

Step = Callable[[Page, datetime], None]

VISIBLE = st.characters(exclude_categories=("Cs", "Cc"), include_characters="\t\n\r\x85\x9b")
TEXTS = st.text(VISIBLE, max_size=12) | st.sampled_from(
    ["=1+1", "@x", "a\nb\n", "\r\n", "  ", "| x", "true", "1", "# no", '"', "\\", "--- 1", "\x85"]
)
NAMES = st.sampled_from(["Copper", "copper", "a/b", "..", "CON", "Müsli\n", "=1"]) | TEXTS.filter(
    str.strip
)
KINDS = st.sampled_from(["night", "tub", "question", "any kind/.."])
VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats(allow_nan=False, allow_infinity=False)
    | TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=8,
)
BODIES = st.dictionaries(TEXTS | st.sampled_from(["about", "day", "toml"]), VALUES, max_size=4)
AMOUNTS = st.integers(1, 10**9)


@st.composite
def records(draw: st.DrawFn) -> Step:
    kind, name, reason = draw(KINDS), draw(NAMES), draw(TEXTS)
    body = draw(st.none() | BODIES)

    def write(page: Page, time: datetime) -> None:
        latest = page.latest(kind, name)
        seen = 0 if latest is None else latest.version
        page.write(kind, name, body, seen=seen, time=time, reason=reason)

    return write


@st.composite
def changes(draw: st.DrawFn) -> Step:
    which, at = draw(st.sampled_from(["undo", "purge"])), draw(st.integers(0, 20))

    def change(page: Page, time: datetime) -> None:
        there = [one for kind in ("night", "tub", "question") for one in page.all(kind)]
        if there:
            one = there[at % len(there)]
            getattr(page, which)(one.kind, one.name, time=time)

    return change


@st.composite
def lines(draw: st.DrawFn) -> Step:
    item, lots = draw(NAMES), draw(st.lists(NAMES, min_size=1, max_size=3))
    amounts = [(lot, draw(AMOUNTS), draw(AMOUNTS) * STEP) for lot in lots]
    why = draw(TEXTS)

    def post(page: Page, time: datetime) -> None:
        page.post([Movement(item, lot, time, n, v, Reason.BOUGHT, why) for lot, n, v in amounts])
        lot, n, _ = amounts[0]
        page.post([Movement(item, lot, time, -n, Decimal(0), Reason.USED)])
        page.reserve("batch 1", item, {lot: n}, time=time)

    return post


@st.composite
def ways(draw: st.DrawFn) -> Step:
    at, far = draw(st.integers(0, 5)), draw(st.integers(1, 6))
    stops, names = list(Stop), (draw(NAMES), draw(NAMES))
    ends = Place(stops[at], names[0]), Place(stops[min(at + far, 6)], names[1])
    return lambda page, time: page.link(Link(*ends))


@st.composite
def persons(draw: st.DrawFn) -> Step:
    body, is_erased = draw(BODIES), draw(st.booleans())

    def add(page: Page, time: datetime) -> None:
        code = page.add_person(body, time=time)
        if is_erased:
            page.erase_person(code, time=time)

    return add


STEPS = st.lists(records() | records() | changes() | lines() | ways() | persons(), max_size=12)


@cache
def blank() -> bytes:
    """The file of a notebook in which nothing is written yet."""
    with tempfile.TemporaryDirectory() as folder:
        opened(Path(folder)).close()
        return (Path(folder) / "notebook.sqlite").read_bytes()


def write_all(book: Notebook, steps: list[Step], *, start: datetime = NOW) -> None:
    """Write one after the other, each a second later."""
    with book.writing() as page:
        for at, step in enumerate(steps):
            step(page, start + timedelta(seconds=at))


def everything(book: Notebook) -> Mapping[str, list[Row]]:
    """Every row of every table."""
    with book.reading() as page:
        return {
            table.name: [dict(row) for row in rows_of(page.connection, table)]
            for table in metadata.sorted_tables
        }
