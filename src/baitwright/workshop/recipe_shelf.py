"""Recipes in the notebook: kept version after version, told, compared and taken back."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.changes import Change, entries_changed
from baitwright.workshop.names import as_kept, fair_name
from baitwright.workshop.recipe_file import read_recipe, recipe_from

KIND = "recipe"


@dataclass(frozen=True, slots=True)
class Kept:
    """A recipe's newest version, whether it is new, and what it changes."""

    revision: Revision
    is_new: bool
    changes: tuple[Change, ...]


def keep_recipe(book: Notebook, path: Path, *, now: datetime, reason: str = "") -> Kept:
    """Keep a recipe file as the next version of the recipe of its name.

    The file's text is kept to the letter, comments and all. A file like the newest version makes no
    new one.

    Raises
    ------
    InputError: the file is no recipe, or the notebook cannot be written to.
    """
    with book.writing() as page:
        return written_recipe(page, path, now=now, reason=reason)


def written_recipe(page: Page, source: Path | str, *, now: datetime, reason: str = "") -> Kept:
    """The same on a page that is open already, of a file or of the text of one."""
    recipe = recipe_of(source) if isinstance(source, str) else read_recipe(source)
    written = source if isinstance(source, str) else source.read_bytes().decode("utf-8")
    name = fair_name(page, KIND, recipe.name)
    latest = page.latest(KIND, name)
    before = "" if latest is None else text_of(latest)
    if latest is not None and before == written:
        return Kept(latest, is_new=False, changes=())
    body, seen = {"toml": written}, 0 if latest is None else latest.version
    made = page.write(KIND, name, body, seen=seen, time=now, reason=reason)
    return Kept(made, is_new=True, changes=changes_between(before, written))


def take_back(book: Notebook, name: str, *, now: datetime) -> Kept:
    """Write the version before the newest once more, as the newest.

    Raises
    ------
    InputError: no recipe of the name.
    """
    with book.writing() as page:
        name = as_kept(page, KIND, name)
        last = page.latest(KIND, name)
        if last is None:
            raise _unknown(name, page.all(KIND))
        made = page.undo(KIND, name, time=now)
    return Kept(made, is_new=True, changes=changes_between(text_of(last), text_of(made)))


def take_away(book: Notebook, name: str, *, now: datetime, reason: str) -> Kept:
    """Take a recipe away; its versions stay.

    Raises
    ------
    InputError: no such recipe, or no reason.
    """
    if not reason.strip():
        raise InputError("reason", None, "why it is taken away, such as a better one")
    with book.writing() as page:
        name = as_kept(page, KIND, name)
        last = page.latest(KIND, name)
        if last is None or last.body is None:
            raise _unknown(name, page.all(KIND))
        made = page.write(KIND, name, None, seen=last.version, time=now, reason=reason)
    return Kept(made, is_new=True, changes=())


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
            raise _unknown(name, page.all(KIND))
    return found


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


def text_of(revision: Revision) -> str:
    """The recipe file as it was kept; nothing where it was taken away."""
    return "" if revision.body is None else str(revision.body["toml"])


def recipe_of(text: str) -> Recipe:
    """The recipe that a kept file tells.

    Raises
    ------
    InputError: it is no recipe any more.
    """
    return recipe_from(tomllib.loads(text.lstrip("\ufeff")), where="")


def changes_between(before: str, after: str) -> tuple[Change, ...]:
    """What differs between two recipe files, entry by entry, in the order of the later one."""
    old, new = (tomllib.loads(text.lstrip("\ufeff")) for text in (before, after))
    return entries_changed(old, new)


def _unknown(name: str, known: tuple[Revision, ...]) -> InputError:
    names = ", ".join(one.name for one in known) or "none yet: `baitwright keep` adds one"
    return InputError("recipe", name, f"one of the notebook: {names}")
