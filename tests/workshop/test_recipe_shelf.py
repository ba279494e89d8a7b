"""Recipes in the notebook: to the letter, version after version, and what each changed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.notebook.copies import backups
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.changes import Change
from baitwright.workshop.opening.notebook_care import Use, copy_now, last_copy, open_at, put_back
from baitwright.workshop.recipes.recipe_shelf import (
    Kept,
    changes_between,
    keep_recipe,
    recipes,
    text_of,
    version_of,
    versions,
)
from baitwright.workshop.recipes.recipe_taken import take_back
from baitwright.workshop.records.shelf_words import history_text, kept_text, shelf_text
from tests.architecture.tree import ROOT

COPPER = (ROOT / "examples" / "copper-wafter.toml").read_text(encoding="utf-8")
NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
STRONGER = COPPER.replace("0.8 ml per egg", "0.9 ml per egg")


def kept(book: Notebook, folder: Path, text: str, *, reason: str = "") -> Kept:
    path = folder / "recipe.toml"
    path.write_text(text, encoding="utf-8")
    return keep_recipe(book, path, now=NOW, reason=reason)


def test_a_recipe_is_kept_to_the_letter(book: Notebook, tmp_path: Path) -> None:
    made = kept(book, tmp_path, COPPER)
    assert (made.is_new, made.revision.version) == (True, 1)
    assert version_of(book, "Copper wafter", 1) == COPPER
    assert kept_text(made) == "Copper wafter: kept as version 1"


def test_the_same_file_again_is_nothing_new(book: Notebook, tmp_path: Path) -> None:
    kept(book, tmp_path, COPPER)
    again = kept(book, tmp_path, COPPER)
    assert (again.is_new, again.revision.version) == (False, 1)
    assert kept_text(again) == "Copper wafter: as version 1, nothing new to keep"


def test_a_change_is_told_entry_by_entry(book: Notebook, tmp_path: Path) -> None:
    kept(book, tmp_path, COPPER)
    changed = STRONGER.replace('sieve = "kitchen"\n', "").replace(
        "[free_bait]", '[glug]\nname = "Sweet"\namount = "6 ml"\ntime = "12 h"\n\n[free_bait]'
    )
    made = kept(book, tmp_path, changed, reason="malt was faint")
    assert made.changes == (
        Change("liquid[Malt].level", "0.8 ml per egg of 50 ml", "0.9 ml per egg of 50 ml"),
        Change("glug.name", None, "Sweet"),
        Change("glug.amount", None, "6 ml"),
        Change("glug.time", None, "12 h"),
        Change("base.sieve", "kitchen", None),
    )
    said = kept_text(made)
    assert "liquid[Malt].level: 0.8 ml per egg of 50 ml becomes 0.9 ml per egg of 50 ml" in said
    assert "+ glug.name: Sweet" in said
    assert "- base.sieve: kitchen" in said
    assert "malt was faint" in history_text(versions(book, "Copper wafter"))


def test_a_comment_alone_is_a_version_and_no_change(book: Notebook, tmp_path: Path) -> None:
    kept(book, tmp_path, COPPER)
    made = kept(book, tmp_path, f"{COPPER}# try it warm\n")
    assert (made.is_new, made.changes) == (True, ())
    assert "comments or spacing only" in kept_text(made)


def test_two_liquids_of_one_name_are_told_apart() -> None:
    one = '[[liquid]]\nname = "Malt"\nlevel = "1 ml"\n'
    other = one.replace("1 ml", "2 ml")
    (change,) = changes_between(one + one, one + other)
    assert change == Change("liquid[Malt 2].level", "1 ml", "2 ml")
    (first,) = changes_between(one + one, other + one)
    assert first.entry == "liquid[Malt].level"


def test_line_ends_are_kept_too(book: Notebook, tmp_path: Path) -> None:
    path = tmp_path / "recipe.toml"
    path.write_bytes(COPPER.replace("\n", "\r\n").encode("utf-8-sig"))
    keep_recipe(book, path, now=NOW)
    assert version_of(book, "Copper wafter", 1).encode() == path.read_bytes()


def test_taking_back_and_back_again(book: Notebook, tmp_path: Path) -> None:
    kept(book, tmp_path, COPPER)
    kept(book, tmp_path, STRONGER)
    back = take_back(book, "Copper wafter", now=NOW)
    assert (back.revision.version, text_of(back.revision)) == (3, COPPER)
    assert text_of(take_back(book, "Copper wafter", now=NOW).revision) == STRONGER
    assert [one.version for one in versions(book, "Copper wafter")] == [1, 2, 3, 4]


def test_taking_back_the_first_takes_it_off_the_shelf_and_keeps_it(
    book: Notebook, tmp_path: Path
) -> None:
    kept(book, tmp_path, COPPER)
    gone = take_back(book, "Copper wafter", now=NOW)
    assert "taken away; its versions stay" in kept_text(gone)
    assert recipes(book) == ()
    assert "taken away" in history_text(versions(book, "Copper wafter"))
    assert kept(book, tmp_path, COPPER).revision.version == 3


def test_what_is_no_recipe_is_not_kept(book: Notebook, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"recipe\.toml"):
        kept(book, tmp_path, COPPER.replace('diameter = "15 mm"', 'diameter = "15 m"'))
    assert recipes(book) == ()


def test_an_unknown_name_or_version_names_those_there_are(book: Notebook, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="none yet: `baitwright keep` adds one"):
        versions(book, "Copper wafter")
    kept(book, tmp_path, COPPER)
    for ask in (versions, lambda book, name: take_back(book, name, now=NOW)):
        with pytest.raises(InputError, match="one of the notebook: Copper wafter"):
            ask(book, "Chalk")
    with pytest.raises(InputError, match="one of Copper wafter: 1"):
        version_of(book, "Copper wafter", 2)


VALUES = st.one_of(st.integers(), st.booleans(), st.text("abc µé", max_size=5))
FILES = st.dictionaries(st.sampled_from("abcd"), VALUES, max_size=4)


@given(FILES, FILES)
def test_changes_lead_from_one_file_to_the_other(
    before: dict[str, object], after: dict[str, object]
) -> None:
    made = dict(before)
    for one in changes_between(_toml(before), _toml(after)):
        assert one.before == before.get(one.entry)
        if one.after is None:
            del made[one.entry]
        else:
            made[one.entry] = one.after
    assert made == after


def _toml(values: dict[str, object]) -> str:
    told = {True: "true", False: "false"}
    return "\n".join(
        f"{key} = {told[value] if isinstance(value, bool) else repr(value)}"
        for key, value in values.items()
    )


# --- care ------------------------------------------------------------------------------------


def test_a_notebook_is_copied_once_a_day_before_it_is_written_in(tmp_path: Path) -> None:
    place = tmp_path / "notebook.sqlite"
    hours = [0, 1, 5, 26, 27, 51]
    counts = []
    for hour in hours:
        now = NOW + timedelta(hours=hour)
        with open_at(place, Use.BEGIN, clock=lambda now=now: now):  # type: ignore[misc]
            counts.append(len(backups(place)))
    assert counts == [0, 1, 1, 2, 2, 3]


def test_the_newest_copy_is_put_back_where_none_is_named(tmp_path: Path) -> None:
    place = tmp_path / "notebook.sqlite"
    with open_at(place, Use.BEGIN, clock=lambda: NOW) as book:
        assert last_copy(place) == "no backup yet: baitwright backup"
        kept(book, tmp_path, COPPER)
    copy = copy_now(place, clock=lambda: NOW + timedelta(minutes=1))
    assert f"baitwright restore {copy}" in last_copy(place)
    with open_at(place, Use.BEGIN, clock=lambda: NOW + timedelta(minutes=2)) as book:
        kept(book, tmp_path, STRONGER)
    done = put_back(place, None, clock=lambda: NOW + timedelta(minutes=3))
    assert done.backup == copy
    with open_at(place, Use.BEGIN, clock=lambda: NOW + timedelta(minutes=4)) as book:
        assert [one.version for one in versions(book, "Copper wafter")] == [1]
        assert "version 1" in shelf_text(recipes(book), where=place, copied="")


def test_without_a_copy_there_is_nothing_to_put_back(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="There is none yet"):
        put_back(tmp_path / "notebook.sqlite", None, clock=lambda: NOW)
