"""Recipes in the notebook: kept version after version, told, compared and taken back."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_file import read_recipe

KIND = "recipe"


@dataclass(frozen=True, slots=True)
class Change:
    """One entry of a recipe that differs: nothing before where it is new, nothing after if gone."""

    entry: str
    before: object
    after: object


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


def written_recipe(page: Page, path: Path, *, now: datetime, reason: str = "") -> Kept:
    """The same on a page that is open already."""
    recipe = read_recipe(path)
    written = path.read_bytes().decode("utf-8")
    latest = page.latest(KIND, recipe.name)
    before = "" if latest is None else text_of(latest)
    if latest is not None and before == written:
        return Kept(latest, is_new=False, changes=())
    body, seen = {"toml": written}, 0 if latest is None else latest.version
    made = page.write(KIND, recipe.name, body, seen=seen, time=now, reason=reason)
    return Kept(made, is_new=True, changes=changes_between(before, written))


def take_back(book: Notebook, name: str, *, now: datetime) -> Kept:
    """Write the version before the newest once more, as the newest.

    Raises
    ------
    InputError: no recipe of the name.
    """
    with book.writing() as page:
        last = page.latest(KIND, name)
        if last is None:
            raise _unknown(name, page.all(KIND))
        made = page.undo(KIND, name, time=now)
    return Kept(made, is_new=True, changes=changes_between(text_of(last), text_of(made)))


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
        found = page.history(KIND, name)
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


def changes_between(before: str, after: str) -> tuple[Change, ...]:
    """What differs between two recipe files, entry by entry, in the order of the later one."""
    old, new = (dict(_entries(tomllib.loads(text.lstrip("\ufeff")))) for text in (before, after))
    gone = [entry for entry in old if entry not in new]
    return tuple(
        Change(entry, old.get(entry), new.get(entry))
        for entry in (*new, *gone)
        if old.get(entry) != new.get(entry)
    )


def _entries(node: Any, place: str = "") -> Iterator[tuple[str, object]]:
    """Every value of a file by its name; lines of a list by the name they bear, or their number."""
    if isinstance(node, Mapping):
        for key, value in node.items():
            yield from _entries(value, f"{place}.{key}" if place else key)
    elif isinstance(node, list):
        names = [
            one.get("name", at) if isinstance(one, Mapping) else at
            for at, one in enumerate(node, start=1)
        ]
        for at, value in enumerate(node):
            before = names[:at].count(names[at])
            named = f"{names[at]} {before + 1}" if before else names[at]
            yield from _entries(value, f"{place}[{named}]")
    else:
        yield place, node


def _unknown(name: str, known: tuple[Revision, ...]) -> InputError:
    names = ", ".join(one.name for one in known) or "none yet: `baitwright keep` adds one"
    return InputError("recipe", name, f"one of the notebook: {names}")
