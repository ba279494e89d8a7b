"""The maker's own factors as the notebook keeps them: a version each time some are accepted."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from baitwright.materials.factors import prior_factors
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.workshop.forms.newest import write_again

FACTORS, OWN = "factors", "own"


def kept_factors(book: Notebook) -> FactorSet:
    """The factors to plan with: those accepted last, or the table's where none were."""
    with book.reading() as page:
        return factors_on(page)


def factors_on(page: Page) -> FactorSet:
    """The same on a page."""
    found = page.latest(FACTORS, OWN)
    return prior_factors() if found is None or found.body is None else factors_from(found.body)


def factors_from(body: Mapping[str, Any]) -> FactorSet:
    """The factors that a version of the record holds; what it lacks is as the table has it."""
    kept = _sets().validate_python(body["set"])
    if kept.made_on is None:
        raise InputError("factors", kept.name, "a set with its day")
    own = {(one.key, one.about): one for one in kept.factors}
    missing = [one for one in prior_factors().factors if (one.key, one.about) not in own]
    return kept.with_factors(missing, name=kept.name, made_on=kept.made_on)


def keep_factors(book: Notebook, factors: FactorSet, *, now: datetime) -> None:
    """Plan with these factors from now on; those before stay as an earlier version."""
    body = {"day": now.date().isoformat(), "set": _sets().dump_python(factors, mode="json")}
    with book.writing() as page:
        write_again(page, FACTORS, OWN, body=body, now=now, reason=factors.name)


def factors_before(book: Notebook, *, now: datetime) -> FactorSet:
    """Take the last acceptance back, and plan with the factors before it, or with the table's.

    Raises
    ------
    InputError: none were accepted.
    """
    with book.writing() as page:
        if page.latest(FACTORS, OWN) is None:
            raise InputError("factors", "none", "factors that were accepted")
        page.undo(FACTORS, OWN, time=now)
        return factors_on(page)


@cache
def _sets() -> TypeAdapter[FactorSet]:
    return TypeAdapter(FactorSet)
