"""Recipes in the notebook: kept version after version, told, compared and taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.page import ChangedMeanwhileError, Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.changes import Change
from baitwright.workshop.forms.names import as_kept, fair_name
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.recipes.recipe_changes import RECIPE, changes_between, text_of
from baitwright.workshop.recipes.recipe_texts import recipe_of

KIND = RECIPE


@dataclass(frozen=True, slots=True)
class Kept:
    """A recipe's newest version, whether it is new, and what it changes."""

    revision: Revision
    is_new: bool
    changes: tuple[Change, ...]


def keep_recipe(
    book: Notebook,
    source: Path | str,
    *,
    now: datetime,
    reason: str = "",
    seen: int | None = None,
) -> Kept:
    """Keep a recipe file, or the text of one, as the next version of the recipe of its name.

    The file's text is kept to the letter, comments and all. A file like the newest version makes no
    new one. ``seen`` is the version that was looked at; the newest where None.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: the file is no recipe, or the notebook cannot be written to.
    """
    with book.writing() as page:
        return written_recipe(page, source, now=now, reason=reason, seen=seen)


def written_recipe(
    page: Page,
    source: Path | str,
    *,
    now: datetime,
    reason: str = "",
    seen: int | None = None,
) -> Kept:
    """The same on a page that is open already, of a file or of the text of one."""
    if isinstance(source, Path):
        recipe, written = read_recipe(source), source.read_bytes().decode("utf-8")
    else:
        recipe, written = recipe_of(source), source
    name = fair_name(page, KIND, recipe.name)
    latest = page.latest(KIND, name)
    there = 0 if latest is None else latest.version
    if seen not in (None, there):
        raise ChangedMeanwhileError(KIND, name, seen=seen or 0, there=there)
    before = "" if latest is None else text_of(latest)
    if latest is not None and before == written:
        return Kept(latest, is_new=False, changes=())
    body = {"toml": written}
    made = page.write(KIND, name, body, seen=there, time=now, reason=reason)
    return Kept(made, is_new=True, changes=changes_between(before, written))


def recipes(book: Notebook) -> tuple[Revision, ...]:
    """The newest version of every recipe, by name."""
    with book.reading() as page:
        return page.all(KIND)


def versions(book: Notebook, name: str) -> tuple[Revision, ...]:
    """Every version of a recipe, the first one first.

    Raises
    ------
    InputError: no recipe of the name.
    """
    with book.reading() as page:
        found = page.history(KIND, as_kept(page, KIND, name))
        if not found:
            raise unknown_recipe(name, page.all(KIND))
    return found


def newest_of(book: Notebook, name: str) -> str:
    """The file of a recipe's newest version, to the letter.

    Raises
    ------
    InputError: no such recipe, or one that was taken away.
    """
    last = versions(book, name)[-1]
    if last.body is None:
        raise unknown_recipe(name, recipes(book))
    return text_of(last)


def version_of(book: Notebook, name: str, version: int) -> str:
    """The file of one version, to the letter.

    Raises
    ------
    InputError: no such recipe or version, or one that was taken away or emptied.
    """
    found = {one.version: text_of(one) for one in versions(book, name)}
    if not found.get(version):
        there = ", ".join(str(number) for number, text in found.items() if text)
        raise InputError("version", version, f"one of {name}: {there or 'none is left'}")
    return found[version]


def unknown_recipe(name: str, known: tuple[Revision, ...]) -> InputError:
    """What is said where there is no recipe of a name."""
    names = ", ".join(one.name for one in known) or "none yet: `baitwright keep` adds one"
    return InputError("recipe", name, f"one of the notebook: {names}")
