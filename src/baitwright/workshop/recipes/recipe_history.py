"""A recipe's versions, each with what it changed, and the text of the newest."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.forms.changes import Change
from baitwright.workshop.recipes.recipe_changes import changes_between, text_of
from baitwright.workshop.recipes.recipe_shelf import KIND, unknown_recipe, versions


@dataclass(frozen=True, slots=True)
class Version:
    """One version, and what it changed of the last one that stood; nothing for the first."""

    revision: Revision
    changes: tuple[Change, ...]

    @property
    def stands(self) -> bool:
        """Whether there is a text of it."""
        return self.revision.body is not None


def history(book: Notebook, name: str) -> tuple[Version, ...]:
    """Every version of a recipe, the newest first.

    Raises
    ------
    InputError: no recipe of the name.
    """
    told, before = [], ""
    for one in versions(book, name):
        text = text_of(one)
        changes = changes_between(before, text) if before and text else ()
        told.append(Version(one, changes))
        before = text or before
    return tuple(reversed(told))


def newest_text(book: Notebook, name: str) -> str:
    """The file of a recipe's newest version.

    Raises
    ------
    InputError: no such recipe, or one that was taken away.
    """
    with book.reading() as page:
        last = page.latest(KIND, name.strip())
        if last is None or last.body is None:
            raise unknown_recipe(name, page.all(KIND))
    return text_of(last)
