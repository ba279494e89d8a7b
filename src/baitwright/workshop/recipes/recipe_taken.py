"""A recipe's last version taken back, and a recipe taken away."""

from __future__ import annotations

from datetime import datetime

from baitwright.notebook.page import ChangedMeanwhileError
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.recipes.recipe_changes import changes_between, text_of
from baitwright.workshop.recipes.recipe_shelf import KIND, Kept, unknown_recipe


def take_back(book: Notebook, name: str, *, now: datetime, seen: int | None = None) -> Kept:
    """Write the version before the newest once more, as the newest.

    ``seen`` is the version that was looked at; the newest where None.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no recipe of the name.
    """
    with book.writing() as page:
        name = as_kept(page, KIND, name)
        last = page.latest(KIND, name)
        if last is None:
            raise unknown_recipe(name, page.all(KIND))
        if seen not in (None, last.version):
            raise ChangedMeanwhileError(KIND, name, seen=seen or 0, there=last.version)
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
            raise unknown_recipe(name, page.all(KIND))
        made = page.write(KIND, name, None, seen=last.version, time=now, reason=reason)
    return Kept(made, is_new=True, changes=())
