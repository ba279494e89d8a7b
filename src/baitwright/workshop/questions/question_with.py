"""A question with the words of the maker's own that it is answered with."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form_questions import LEVELS, TEMPLATE, QuestionTable, TemplateTable
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.forms.read_records import written_in
from baitwright.workshop.typed.reading import parse

_OWN = (
    *("question", "answer", "asker", "customer", "template"),
    *("files", "remark", "day"),
)
"""Entries of a question that are no measurement of theirs."""


@dataclass(frozen=True, slots=True)
class AskedWith:
    """A question as it stands, with the template it names."""

    told: QuestionTable
    template: TemplateTable


def asked_with(page: Page, told: QuestionTable) -> AskedWith:
    """A question with the template it names; what it does not tell the template does.

    Raises
    ------
    InputError: no such template.
    """
    template = template_of(page, told.template) if told.template else TemplateTable()
    levels = told.levels or template.levels
    about = told.about or template.about or (LEVELS if levels else "")
    use = told.use or template.use
    filled = told.model_copy(update={"levels": levels, "about": about, "use": use})
    return AskedWith(filled, template)


def template_of(page: Page, name: str) -> TemplateTable:
    """A template by its name.

    Raises
    ------
    InputError: there is none; the message tells those there are.
    """
    found = page.latest(TEMPLATE, as_kept(page, TEMPLATE, name))
    if found is None or found.body is None:
        known = ", ".join(one.name for one in page.all(TEMPLATE)) or "none yet"
        raise InputError(TEMPLATE, name, f"one of the notebook: {known}")
    return parse(written_in(found), TemplateTable, where="")


def entries_told(revision: Revision, told: QuestionTable) -> tuple[tuple[str, str], ...]:
    """What they have and want, entry by entry as they said it."""
    written = {**written_in(revision), "about": told.about}
    if told.levels:
        written.setdefault("levels", list(told.levels))
    pairs = ((key, _text(written[key])) for key in QuestionTable.model_fields if key in written)
    return tuple((key.replace("_", " "), text) for key, text in pairs if key not in _OWN and text)


def _text(value: object) -> str:
    return "; ".join(map(str, value)) if isinstance(value, list) else str(value)
