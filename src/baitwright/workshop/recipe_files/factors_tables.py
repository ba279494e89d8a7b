"""What a factors file holds."""

from __future__ import annotations

import re
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import Field

from baitwright.materials.factors import LEARNED_DEFAULTS, factor_priors
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text


def _typed(example: str) -> dict[str, Any]:
    return {"type": "string", "examples": [example]}


def _moment(value: object) -> datetime:
    if not isinstance(value, datetime):
        raise InputError("", value, _MOMENT)
    return value


_MOMENT = "a date with its time, such as 2026-11-27T09:00:00"


class FactorTable(Table):
    """One factor: where the kitchen lies beside the tables, and how sure that is."""

    key: Annotated[
        str, one_of((*factor_priors(), *LEARNED_DEFAULTS), about="What the factor multiplies.")
    ]
    about: Annotated[
        str, text(about="What it speaks of, such as one base mix.", example="Copper")
    ] = ""
    mu: Annotated[float, number(-5, 5, whole=False, example=0.08, about="Middle of the log ratio.")]
    kappa: Annotated[
        float, number(0.01, 1e6, whole=False, example=2, about="Batches the middle is worth.")
    ]
    nu: Annotated[
        float, number(0.5, 1e6, whole=False, example=5, about="Batches the spread is worth.")
    ]
    sigma2: Annotated[
        float, number(1e-9, 25, whole=False, example=0.01, about="Variance between batches.")
    ]
    batches: Annotated[int, number(0, 1e6, example=1, about="The maker's own batches in it.")] = 0
    source: Annotated[str, text(about="A key of the bibliography, or maker.", example="maker")] = (
        "maker"
    )


def _date(value: object) -> date:
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    raise InputError("", value, _DATE)


_DATE = "a date such as 2026-11-26"


def _hex(value: object) -> str:
    if isinstance(value, str) and re.fullmatch("[0-9a-f]{16}", value):
        return value
    raise InputError("", value, _DIGEST)


_DIGEST = "16 characters of 0-9 and a-f, as record writes them"


class LearnedTable(Table):
    """A batch that the set learned from."""

    plan: Annotated[str, text(about="The plan's name.", example="Copper wafter")]
    made: Annotated[
        date | None, Reads(_date, _DATE, "The day it was made.", _typed("2026-11-26"))
    ] = None
    digest: Annotated[
        str,
        Reads(_hex, _DIGEST, "Tells the batch from others.", _typed("0f3c6a9b2d5e8147")),
    ]


class FactorsTable(Table):
    """A factors file."""

    name: Annotated[str, text(about="The set's name.", example="after two batches")]
    made_on: Annotated[
        datetime | None,
        Reads(_moment, _MOMENT, "When the set was made.", _typed("2026-11-27T09:00:00")),
    ] = None
    learned: tuple[LearnedTable, ...] = Field(
        default=(), description="The batches in it: none is learned from twice."
    )
    factors: tuple[FactorTable, ...] = Field(
        default=(), description="Where the kitchen differs; the rest is as the tables have it."
    )
