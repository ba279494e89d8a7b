"""A question begun with a template: what its usual question tells."""

from __future__ import annotations

from typing import Any

from baitwright.notebook.store import Notebook
from baitwright.workshop.forms.form_questions import TEMPLATE
from baitwright.workshop.questions.question_with import template_of


def begun_with(book: Notebook, template: str) -> dict[str, Any]:
    """The entries of a question that a template begins.

    Raises
    ------
    InputError: no such template.
    """
    with book.reading() as page:
        found = template_of(page, template)
    usual = {key: getattr(found, key) for key in ("question", "about", "use")}
    told = {key: one for key, one in usual.items() if one}
    told |= {"levels": list(found.levels)} if found.levels else {}
    return {**told, TEMPLATE: template}


def templates(book: Notebook) -> tuple[str, ...]:
    """The names of all templates."""
    with book.reading() as page:
        return tuple(one.name for one in page.all(TEMPLATE))
