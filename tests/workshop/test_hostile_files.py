"""Files that were made to do harm: each is refused at once, in one clear message."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

import pytest

from baitwright.notebook.attachments import Attached, checksum, shelf_beside
from baitwright.notebook.store import Notebook
from baitwright.quantities import read_number
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.forms.form_words import from_file, with_words
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.plans import plan_file
from baitwright.workshop.plans.plan_file import read_plan_file
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.typed.eggs_text import parse_eggs
from baitwright.workshop.typed.sized import LARGEST
from tests.notebook.kitchen import NOW

PATIENCE = 5.0
"""Seconds of one core's time: without its guard each of these takes minutes, or never ends."""


def refused(deed: Callable[[], object]) -> InputError:
    """What is told, before the patience of who waits is over."""
    begun = time.process_time()
    with pytest.raises(InputError) as error:
        deed()
    assert time.process_time() - begun < PATIENCE
    assert len(str(error.value)) < 2000
    return error.value


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a" + ".a" * 400_000 + " = 1", "points at most"),
        ("[" + "a." * 400_000 + "a]\nx = 1", "points at most"),
        ("\n".join(f"{'a.' * 150}b{at} = 1" for at in range(2)), "in each other at most"),
        ("x = " + "[" * 90_000, "TOML such as"),
        ("x = " + "9" * 5000, "TOML such as"),
        ("x = 1\n" * 100_000, "TOML such as"),
        ("# " + "x" * LARGEST, "1 MB at most"),
    ],
    ids=["dotted key", "dotted table", "deep", "lists", "digits", "twice", "large"],
)
def test_a_toml_file_that_would_take_for_ever(text: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "recipe.toml"
    path.write_text(text, encoding="utf-8")
    assert said in str(refused(lambda: read_recipe(path)))


@pytest.mark.parametrize("depth", [60, 900, 100_000])
def test_a_json_file_of_lists_in_lists(depth: int, tmp_path: Path) -> None:
    path = tmp_path / "night.json"
    path.write_text('{"water": ' + "[" * depth + "]" * depth + "}", encoding="utf-8")
    refused(lambda: from_file(path, kind="night"))
    path.write_text('{"request": ' + '{"a":' * depth + "1" + "}" * depth + "}", encoding="utf-8")
    refused(lambda: read_plan_file(path))


def test_a_plan_larger_than_any_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(plan_file, "LARGEST_PLAN", 1_000_000)
    path = tmp_path / "plan.json"
    path.write_bytes(b" " * 1_000_001)
    assert "1 MB at most" in str(refused(lambda: read_plan_file(path)))


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no endless file")
def test_a_file_without_an_end() -> None:
    assert "1 MB at most" in str(refused(lambda: read_recipe(Path("/dev/zero"))))


@pytest.mark.parametrize(
    "text", [" " * 100_000 + "x", "1" * 100_000, "9" * 5000 + "/2", "1 " * 9999]
)
def test_a_number_longer_than_any(text: str) -> None:
    refused(lambda: read_number(text, "field", "a number"))
    refused(lambda: parse_eggs(f"3 x {text}", "eggs"))


def test_a_key_of_a_record_deeper_than_any() -> None:
    word = "rod[1]." * 2000 + "bites=1"
    refused(lambda: with_words({}, [word], form=FORMS["night"]))


def test_an_error_repeats_no_more_than_its_beginning_and_steers_no_terminal() -> None:
    error = InputError("f\x1b[2J", "g\x1b[2J", "a\u202eb", hint="h" * 10_000 + "\x07", where="w\r")
    said = str(error)
    assert len(said) < 2000
    assert not [letter for letter in said if not letter.isprintable()]
    assert "\\x1b[2J" in said
    deep: list[object] = []
    for _ in range(100_000):
        deep = [deep]
    assert "lie without an end" in str(InputError("field", deep, "less"))


def test_a_path_in_a_record_hands_out_nothing(book: Notebook, tmp_path: Path) -> None:
    """A record from elsewhere may name any path; a file goes on only where its sum is known."""
    elsewhere = tmp_path.parent / f"{tmp_path.name}-secret.txt"
    elsewhere.write_text("of another's")
    files = [{"path": f"../{elsewhere.name}", "sha256": "0" * 64}]
    files += [{"path": str(elsewhere), "sha256": "1" * 64}]
    files += [{"path": one, "sha256": "2" * 64} for one in ("/dev/zero", "x" * 5000)]
    with book.writing() as page:
        page.write("night", "n", {"files": files}, seen=0, time=NOW)
    shelf = shelf_beside(book.place)
    for one in files:
        assert shelf.find(Attached(one["path"], one["sha256"])) is None
    made = export_all(book, tmp_path / "out.zip", files=shelf, now=NOW)
    with ZipFile(made.path) as zipped:
        assert not [name for name in zipped.namelist() if name.startswith("files/")]
        assert b"of another's" not in b"".join(map(zipped.read, zipped.namelist()))
        assert len(json.loads(zipped.read("manifest.json"))["missing"]) == len(files)
    assert checksum(elsewhere)


@pytest.mark.skipif(os.name == "nt", reason="links to files need rights there that few have")
def test_an_export_into_a_link_replaces_the_link_alone(book: Notebook, tmp_path: Path) -> None:
    target = tmp_path / "precious.txt"
    target.write_text("stays")
    link = tmp_path / "out.zip"
    link.symlink_to(target)
    with pytest.raises(InputError, match="not there yet"):
        export_all(book, link, files=shelf_beside(book.place), now=NOW)
    assert target.read_text() == "stays"
