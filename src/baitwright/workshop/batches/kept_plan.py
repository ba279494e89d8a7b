"""The plan that is kept with a batch, to ask more of; and a kept bottle test with its plan."""

from __future__ import annotations

from datetime import datetime

from baitwright.batch.plan import PlanRequest
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.terms.records import BatchRecord, BottleTest
from baitwright.workshop.batches.batch_hours import PLAN, State
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.forms.bottle_file import bottle_test_of
from baitwright.workshop.forms.form_events import TestTable
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.forms.read_records import history_on, written_in
from baitwright.workshop.forms.readings_file import ReadingsTable, batch_record_of
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.typed.reading import parse

TEST = "test"


def kept_plan(book: Notebook, batch: str) -> PlanRequest:
    """What the plan of a batch was asked.

    Raises
    ------
    InputError: no such batch, or one whose plan was purged.
    """
    with book.reading() as page:
        batch_of(page, batch)
        found = page.latest(PLAN, batch)
    if found is None or found.body is None:
        raise InputError("batch", batch, "one whose plan is kept")
    return request_from_json(found.body)


def kept_readings(book: Notebook, batch: str) -> tuple[PlanRequest, BatchRecord]:
    """What was weighed and counted of a batch, and its plan.

    Raises
    ------
    InputError: no such batch, one that was not made, or nothing that its plan predicts.
    """
    with book.reading() as page:
        told = dict((batch_of(page, batch, state=State.MADE).body or {})["actual"])
    if "made" in told:
        told["made"] = datetime.fromisoformat(told["made"])
    known = {name: told[name] for name in ReadingsTable.model_fields if name in told}
    table = ReadingsTable.model_construct(**known)
    request = kept_plan(book, batch)
    return request, batch_record_of(table, request.recipe.name)


def kept_test(book: Notebook, name: str) -> tuple[PlanRequest, BottleTest]:
    """A bottle test of the notebook, and the plan of its batch.

    Raises
    ------
    InputError: no such test, one of no batch, or one whose batch has no plan.
    """
    with book.reading() as page:
        last = history_on(page, form_of(TEST), name)[-1]
    told = parse(written_in(last), TestTable, where="")
    if not told.batch:
        raise InputError("test", name, "one that says of which batch it is")
    batch = told.batch.rsplit("/", 1)[0] if told.batch.count("/") > 1 else told.batch
    return kept_plan(book, batch), bottle_test_of(told, told.batch)


def kept_tests(book: Notebook) -> tuple[str, ...]:
    """The names of the last bottle tests."""
    with book.reading() as page:
        return tuple(one.name for one in page.last(TEST, 50))


def planned_batches(book: Notebook) -> tuple[tuple[str, str], ...]:
    """The last batches whose plans are kept, with what each is of."""
    with book.reading() as page:
        return tuple((one.name, str((one.body or {})["about"])) for one in page.last(PLAN, 50))
