"""The forms of the notebook, by kind."""

from __future__ import annotations

from collections.abc import Mapping

from baitwright.notebook.people import PERSON
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.bottle_file import bottle_test_of
from baitwright.workshop.forms.form import Form
from baitwright.workshop.forms.form_events import (
    BatchReadingsTable,
    ComplaintTable,
    NightTable,
    PersonTable,
    TestTable,
)
from baitwright.workshop.forms.form_made import BlendTable, TubTable
from baitwright.workshop.forms.form_questions import (
    QUESTION,
    TEMPLATE,
    QuestionTable,
    TemplateTable,
)
from baitwright.workshop.forms.form_things import CoreTable, HookTable, IngredientTable, LiquidTable
from baitwright.workshop.forms.form_water import WaterTable
from baitwright.workshop.forms.night_sums import night_adds_up
from baitwright.workshop.forms.readings_file import batch_record_of
from baitwright.workshop.typed.nearest import nearest

FORMS: Mapping[str, Form] = {
    one.kind: one
    for one in (
        Form("ingredient", IngredientTable, "supplier", is_named=True),
        Form("core", CoreTable, "supplier", is_named=True),
        Form("liquid", LiquidTable, "supplier", is_named=True),
        Form("hook", HookTable, "supplier", is_named=True),
        Form("tub", TubTable, "base", passing=("left", "weighed", "batch"), is_named=True),
        Form("blend", BlendTable, "lot", passing=("left",), is_named=True),
        Form("test", TestTable, "batch", check=lambda told: bottle_test_of(told, told.batch)),
        Form(
            "readings",
            BatchReadingsTable,
            "batch",
            check=lambda told: batch_record_of(told, told.batch),
        ),
        Form("night", NightTable, "water", check=night_adds_up),
        Form("water", WaterTable, "source", is_named=True),
        Form(QUESTION, QuestionTable, "customer"),
        Form(TEMPLATE, TemplateTable, is_named=True),
        Form("complaint", ComplaintTable, "bag"),
        Form(PERSON, PersonTable),
    )
}


def form_of(kind: str) -> Form:
    """The form of a kind of record.

    Raises
    ------
    InputError: there is none.
    """
    if kind.casefold() in FORMS:
        return FORMS[kind.casefold()]
    near = nearest(kind, FORMS, most=1)
    hint = f"Nearest: {near[0]!r}." if near else ""
    raise InputError("kind", kind, f"one of: {', '.join(FORMS)}", hint=hint)
