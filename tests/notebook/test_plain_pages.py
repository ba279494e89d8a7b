"""Plain pages repeat the notebook to the letter, follow it, and make an equal one."""

from __future__ import annotations

import contextlib
import json
import tempfile
from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook import plain_pages
from baitwright.notebook.plain_pages import follow, page_name, pages_beside
from baitwright.notebook.plain_reading import CONTENTS, FIRST_LINE, pages_of, rows_on
from baitwright.notebook.plain_text import entries_of, lines_of
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.rebuild import Rebuilt, rebuild
from baitwright.workshop.opening.notebook_care import Use, open_at
from tests.notebook.kitchen import DAY, HOUR, NOW, opened
from tests.notebook.random_book import BODIES, STEPS, Step, blank, everything, write_all


def pages(book: Notebook) -> Path:
    return pages_beside(book.place)


def followed(book: Notebook, *, now: timedelta = HOUR) -> int:
    return follow(book, pages(book), now=NOW + now)


def texts(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): path.read_text("utf-8") for path in folder.rglob("*.txt")
    }


def rebuilt(folder: Path, into: Path, *, partly: bool = False) -> tuple[Rebuilt, dict[str, object]]:
    into.write_bytes(blank())
    made = open_notebook(into, now=NOW)
    try:
        done = rebuild(made, folder, now=NOW, partly=partly)
        return done, dict(everything(made))
    finally:
        made.close()


def full(number: int) -> None:
    raise OSError(28, "No space left on device")


def put(book: Notebook, name: str, notes: str, *, kind: str = "night") -> None:
    with book.writing() as page:
        latest = page.latest(kind, name)
        seen = 0 if latest is None else latest.version
        page.write(kind, name, {"notes": notes}, seen=seen, time=NOW, reason="a reason")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = opened(tmp_path)
    yield made
    made.close()


# --- plain text ------------------------------------------------------------------------------


@given(BODIES)
def test_what_is_told_in_lines_reads_back_as_it_was(body: dict[str, object]) -> None:
    lines = [line for told in lines_of(body) for line in told.split("\n")]
    assert json.dumps(entries_of(lines)) == json.dumps(body)


def test_what_is_too_deep_to_read_is_exact_all_the_same() -> None:
    body: dict[str, object] = {"a": 1}
    for _ in range(300):
        body = {"a": body, "b": ["x\ny", body]} if len(str(body)) < 500 else {"a": body}
    assert entries_of(list(lines_of(body))) == body


def test_a_page_can_be_read_at_the_kitchen_table() -> None:
    body = {"eggs": 3, "weights": {"at_0h": 33.1}, "toml": "x = 1\n\n[bait]\n", "rods": [{"at": 2}]}
    assert list(lines_of(body)) == [
        "eggs = 3",
        "weights:",
        "  at_0h = 33.1",
        "toml:",
        "  | x = 1",
        "  |",
        "  | [bait]",
        "  |",
        "rods:",
        "  -",
        "    at = 2",
    ]


@pytest.mark.parametrize(
    "lines",
    [
        ["x"], ["x = "], ["x = 1", "x = 2"], [" x = 1"], ["x:"], ["x:", "  |y"],
        ["x:", "    y = 1"], ["x = 1", "  y = 2"], ["3 = 4"], ["x:", "  -"], ["x: 3"], ["x = 1 2"],
    ],
)  # fmt: skip
def test_lines_that_tell_nothing_are_refused(lines: list[str]) -> None:
    with pytest.raises(ValueError, match=r"line [12]:"):
        entries_of(lines)


# --- an equal notebook -----------------------------------------------------------------------


@given(STEPS, st.integers(0, 12))
def test_an_equal_notebook_is_made_of_its_pages(steps: list[Step], half: int) -> None:
    with tempfile.TemporaryDirectory() as place:
        (Path(place) / "notebook.sqlite").write_bytes(blank())
        book = opened(Path(place))
        try:
            for some in (steps[:half], steps[half:]):  # once as new pages, once as they follow
                write_all(book, some)
                followed(book)
            if not any(everything(book).values()):
                assert not pages(book).exists()
                return
            done, rows = rebuilt(pages(book), Path(place) / "anew.sqlite")
            assert rows == everything(book)
            assert done.lost == ()
            assert followed(book) == 0
            fresh = Path(place) / "fresh"
            follow(book, fresh, now=NOW)
            assert texts(fresh) == texts(pages(book))
        finally:
            book.close()


def test_long_books_fill_several_pages(book: Notebook, tmp_path: Path) -> None:
    for amount in range(1, 1203):
        with book.writing() as page:
            one = Movement("malt", f"lot {amount}", NOW, amount, Decimal(1), Reason.BOUGHT)
            page.post([one])
        if amount in (1, 498, 499, 500, 501, 1202):
            followed(book)
    names = [path.name for path in pages_of(pages(book)) if path.parent.name == "movements"]
    assert names == ["movements-00001.txt", "movements-00002.txt", "movements-00003.txt"]
    assert rebuilt(pages(book), tmp_path / "anew.sqlite")[1] == everything(book)


def test_the_text_of_a_recipe_stands_there_to_the_letter(book: Notebook) -> None:
    with book.writing() as page:
        page.write("recipe", "Copper", {"toml": "# malt\nx = 1\n"}, seen=0, time=NOW, reason="new")
    followed(book)
    text = (pages(book) / page_name("recipe", "Copper")).read_text("utf-8")
    assert text.startswith('baitwright page 1\nkind = "recipe"\nname = "Copper"\n\n--- version 1\n')
    assert "    | # malt\n    | x = 1\n    |\n" in text


# --- following -------------------------------------------------------------------------------


def test_only_what_changed_is_written_anew(book: Notebook) -> None:
    for name in ("1", "2", "3"):
        put(book, name, "first")
    followed(book)
    untouched = pages(book) / page_name("night", "1")
    before = untouched.stat().st_mtime_ns
    put(book, "2", "second")
    assert followed(book) == 2  # the page, and how far they go
    assert followed(book) == 0
    assert untouched.stat().st_mtime_ns == before
    assert "second" in (pages(book) / page_name("night", "2")).read_text("utf-8")


def test_links_that_were_taken_back_are_on_no_page(book: Notebook, tmp_path: Path) -> None:
    def link(first: int, last: int) -> None:
        with book.writing() as page:
            for at in range(first, last):
                page.link(Link(Place(Stop.MIX, str(at)), Place(Stop.BATCH, str(at))))

    def unlink(*names: int) -> None:
        with book.writing() as page:
            for name in names:
                page.unlink(Place(Stop.BATCH, str(name)))

    link(0, 1400)
    changes = (
        lambda: unlink(1399),
        lambda: (unlink(1398), link(2000, 2001)),  # its number is given again
        lambda: (unlink(1390), link(2001, 2002)),
        lambda: unlink(*range(450, 1100)),
        lambda: link(3000, 3700),
        lambda: unlink(*range(4000)),
    )
    for change in (lambda: None, *changes):
        change()
        followed(book)
        assert rebuilt(pages(book), tmp_path / "anew.sqlite")[1] == everything(book)
        assert followed(book) == 0
    assert not list(tmp_path.glob("notebook-pages-until-*"))


def test_a_purge_reaches_the_pages_and_those_set_aside(book: Notebook, tmp_path: Path) -> None:
    put(book, "Ash", "pays late", kind="question")
    with book.writing() as page:
        page.add_person({"name": "Ash of Elm"}, time=NOW)
    followed(book)
    (pages(book) / CONTENTS).unlink()
    followed(book)
    (aside,) = tmp_path.glob("notebook-pages-until-*")
    assert "pays late" in "".join(texts(aside).values())
    with book.writing() as page:
        page.purge("question", "Ash", time=NOW)
        page.erase_person("person 1", time=NOW)
    followed(book)
    for folder in (pages(book), aside):
        told = "".join(texts(folder).values())
        assert "pays late" not in told
        assert "a reason" not in told
        assert "Ash of Elm" not in told
    assert "taken away, or purged" in (pages(book) / page_name("question", "Ash")).read_text(
        "utf-8"
    )
    assert rebuilt(pages(book), tmp_path / "anew.sqlite")[1] == everything(book)


@pytest.mark.parametrize("at", [0, 3, 20])
def test_two_windows_begin_the_pages_at_once(
    book: Notebook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    for number in range(20):
        put(book, str(number), "kept")
    put(book, "Ash", "pays late", kind="question")
    all_pages = plain_pages._all

    def slowly(connection: Connection) -> Iterator[tuple[str, str]]:
        for number, one in enumerate(all_pages(connection)):
            if number == at:
                monkeypatch.setattr(plain_pages, "_all", all_pages)
                other = opened(tmp_path)
                put(other, "20", "kept")
                with other.writing() as page:
                    page.purge("question", "Ash", time=NOW)
                followed(other)
                other.close()
            yield one

    monkeypatch.setattr(plain_pages, "_all", slowly)
    followed(book)
    assert len([name for name in texts(pages(book)) if name.startswith("night/")]) == 21
    assert "pays late" not in "".join(texts(pages(book)).values())
    assert rebuilt(pages(book), tmp_path / "anew.sqlite")[1] == everything(book)
    assert [path.name for path in tmp_path.glob("notebook-pages*")] == ["notebook-pages"]


def test_a_purge_before_pages_are_begun_anew_reaches_the_old_ones(
    book: Notebook, tmp_path: Path
) -> None:
    put(book, "Ash", "pays late", kind="question")
    with book.writing() as page:
        page.add_person({"name": "Ash of Elm"}, time=NOW)
    followed(book)
    (pages(book) / CONTENTS).unlink()
    with book.writing() as page:
        page.purge("question", "Ash", time=NOW)
        page.erase_person("person 1", time=NOW)
    followed(book)
    (aside,) = tmp_path.glob("notebook-pages-until-*")
    for folder in (pages(book), aside):
        told = "".join(texts(folder).values())
        assert "pays late" not in told
        assert "Ash of Elm" not in told


def test_personal_fields_stand_on_one_page_alone(book: Notebook) -> None:
    put(book, "1", "asked by person 1")
    with book.writing() as page:
        page.add_person({"name": "Ash of Elm"}, time=NOW)
    followed(book)
    assert [name for name, text in texts(pages(book)).items() if "Elm" in text] == ["people.txt"]


def test_pages_of_another_notebook_are_never_written_over(book: Notebook, tmp_path: Path) -> None:
    put(book, "1", "of old")
    followed(book)
    old, told = everything(book), texts(pages(book))
    book.close()
    for path in tmp_path.glob("notebook.sqlite*"):
        path.unlink()
    other = opened(tmp_path)
    put(other, "2", "anew")
    followed(other, now=DAY)
    other.close()
    (aside,) = tmp_path.glob("notebook-pages-until-*")
    assert texts(aside) == told
    assert rebuilt(aside, tmp_path / "anew.sqlite")[1] == old


def test_names_that_no_file_can_have(book: Notebook, tmp_path: Path) -> None:
    names = ["CON", "con", "../../up", "a" * 200, "Müsli", "Пшено", ".", "a\nb", "a/b", "A/B"]
    for name in names:
        put(book, name, "x")
    followed(book)
    found = [path for path in pages_of(pages(book)) if path.parent.name == "night"]
    assert len(found) == len(names)
    assert len({path.name.lower() for path in found}) == len(names)
    assert all(len(path.name) <= 60 and path.name.isascii() for path in found)
    assert rebuilt(pages(book), tmp_path / "anew.sqlite")[1] == everything(book)


# --- with the notebook -----------------------------------------------------------------------


def test_pages_follow_when_the_notebook_is_closed(tmp_path: Path) -> None:
    place = tmp_path / "notebook.sqlite"
    with open_at(place, Use.BEGIN, clock=lambda: NOW) as book:
        put(book, "1", "written")
    assert "written" in (tmp_path / "notebook-pages" / page_name("night", "1")).read_text("utf-8")
    with open_at(place, Use.LOOK, clock=lambda: NOW):
        (tmp_path / "notebook-pages" / CONTENTS).unlink()
    assert not (tmp_path / "notebook-pages" / CONTENTS).exists()


def test_pages_that_cannot_be_written_are_told_and_no_more(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "notebook.sqlite"
    with monkeypatch.context() as no_room, open_at(place, Use.BEGIN, clock=lambda: NOW) as book:
        put(book, "1", "written")
        no_room.setattr(plain_pages.os, "fsync", full)
    assert not list(tmp_path.glob("notebook-pages*"))
    said = capsys.readouterr().err
    assert "plain pages" in said and "The notebook itself is written." in said
    with open_at(place, Use.LOOK, clock=lambda: NOW) as book, book.reading() as page:
        assert len(page.all("night")) == 1


def test_a_full_disk_leaves_whole_pages(book: Notebook, monkeypatch: pytest.MonkeyPatch) -> None:
    put(book, "1", "first")
    followed(book)
    before = texts(pages(book))
    put(book, "1", "second")
    with monkeypatch.context() as no_room:
        no_room.setattr(plain_pages.os, "fsync", full)
        with pytest.raises(InputError, match=r"No space left on device\. The notebook itself"):
            followed(book)
    assert texts(pages(book)) == before
    assert followed(book) == 2


# --- pages that are not what they were -------------------------------------------------------


def test_a_page_that_was_changed_is_refused_or_left_out(book: Notebook, tmp_path: Path) -> None:
    put(book, "1", "as it was")
    put(book, "2", "stays")
    followed(book)
    path = pages(book) / page_name("night", "1")
    for text in (path.read_text("utf-8").replace("as it was", "otherwise"), "", "x" * 100):
        path.write_text(text, "utf-8")
        with pytest.raises(InputError, match="it was changed, or is not whole"):
            rebuilt(pages(book), tmp_path / "anew.sqlite")
    done, rows = rebuilt(pages(book), tmp_path / "anew.sqlite", partly=True)
    assert [row["name"] for row in rows["revisions"]] == ["2"]  # type: ignore[attr-defined]
    assert done.lost == (
        f"{path.name}: it was changed, or is not whole.",
        "revisions: 1 of 2",
    )


@pytest.mark.parametrize("partly", [False, True])
def test_rows_with_what_nobody_can_see_are_all_named(
    book: Notebook, tmp_path: Path, *, partly: bool
) -> None:
    """Under an honest checksum; versions of a record that are left out would be a gap."""
    for name in ("1", "2", "3"):
        put(book, name, "as it was")
    followed(book)
    for name in ("1", "3"):
        path = pages(book) / page_name("night", name)
        told, _, _ = path.read_text("utf-8").replace("as it was", "a\\u0007s").rpartition("sum = ")
        path.write_text(f'{told}sum = "{sha256(told.encode()).hexdigest()}"\n', "utf-8")
    with pytest.raises(InputError, match="2 rows with others") as error:
        rebuilt(pages(book), tmp_path / "anew.sqlite", partly=partly)
    said = {f"revisions {at}, body: Character 2 is U+0007, which nobody can see." for at in (1, 3)}
    assert set(str(error.value).splitlines()[1:]) == said


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1 | 2 | 3", "a row of 3 in place of 2 columns"),
        ("1", "a row of 1 in place of 2 columns"),
    ],
)
def test_a_row_of_more_or_fewer_columns_is_no_row(tmp_path: Path, line: str, said: str) -> None:
    path = tmp_path / "movements.txt"
    _sealed(path, f'table = "movements"\ncolumns = ["id", "amount"]\n--- rows\n{line}\n')
    with pytest.raises(InputError, match=said):
        list(rows_on(path))


def test_columns_are_names(tmp_path: Path) -> None:
    path = tmp_path / "movements.txt"
    for columns in ('[["id"], "amount"]', "7", '"id"'):
        _sealed(path, f'table = "movements"\ncolumns = {columns}\n--- rows\n1 | 2\n')
        with pytest.raises(InputError, match="its columns are no names"):
            list(rows_on(path))
    _sealed(path, 'table = "movements"\ncolumns = ["id", "amount"]\n--- rows\n1 | 2\n')
    assert list(rows_on(path)) == [("movements", {"id": 1, "amount": 2})]


def _sealed(path: Path, told: str) -> None:
    """A page under an honest checksum."""
    told = f"{FIRST_LINE}\n{told}"
    path.write_text(f'{told}sum = "{sha256(told.encode()).hexdigest()}"\n', "utf-8")


def test_a_missing_page_is_noticed(book: Notebook, tmp_path: Path) -> None:
    for name in ("1", "2"):
        put(book, name, "x")
    followed(book)
    (pages(book) / page_name("night", "1")).unlink()
    with pytest.raises(InputError, match=r"revisions: 1 of 2.*Pages are missing"):
        rebuilt(pages(book), tmp_path / "anew.sqlite")
    with pytest.raises(InputError, match="a page as the program wrote it"):
        rebuilt(tmp_path / "nowhere", tmp_path / "anew.sqlite")


def test_a_notebook_with_something_in_it_is_not_rebuilt(book: Notebook) -> None:
    put(book, "1", "x")
    followed(book)
    before = everything(book)
    with pytest.raises(InputError, match="rebuild writes over none"):
        rebuild(book, pages(book), now=NOW)
    assert everything(book) == before


@pytest.mark.fuzz
@given(st.data())
@settings(max_examples=60)
def test_damage_by_chance_is_refused(data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as place:
        (Path(place) / "notebook.sqlite").write_bytes(blank())
        book = opened(Path(place))
        put(book, "1", "x\ny")
        with book.writing() as page:
            page.post([Movement("malt", "lot", NOW, 1, Decimal(1), Reason.BOUGHT)])
        followed(book)
        rows = everything(book)
        book.close()
        path = data.draw(st.sampled_from(sorted(pages(book).rglob("*.txt"))))
        told = bytearray(path.read_bytes())
        at = data.draw(st.integers(0, len(told) - 1))
        told[at : at + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=3))
        path.write_bytes(told)
        with contextlib.suppress(InputError):
            assert rebuilt(pages(book), Path(place) / "anew.sqlite")[1] == rows
