"""A plan as data for other programs, and the request in it to plan the same again."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.recipe.model import Recipe
from baitwright.sources import source
from baitwright.terms.errors import InputError
from baitwright.workshop.plans.rig_json import rig_as_json
from baitwright.workshop.told.plain import plain

MAKER = "maker"
"""The source key of what the maker states, which is in no bibliography."""
_STAGES = (
    *("eggs", "mix", "doses", "rolled", "tub_used", "tub_left"),
    *("boil", "coat", "dry", "glug", "keep", "water", "soak", "free_bait"),
)


def plan_as_json(plan: BatchPlan) -> dict[str, Any]:
    """The whole plan as data that any JSON writer takes."""
    care = plan.care
    return {
        "program": {"name": "baitwright", "version": plan.version},
        "request": request_as_json(plan.request),
        "stages": {
            **{name: plain(getattr(plan, name)) for name in _STAGES},
            "rig": None if plan.rig is None else rig_as_json(plan.rig),
        },
        "day": {**plain(plan.day), "late": plan.day.late},
        "cautions": [
            {**plain(caution), "liquids": list(care.raised_by(caution))}
            for caution in care.cautions
        ],
        "cautions_country": care.country,
        "allergens": {
            "contains": [group.name for group in care.contains],
            "may_contain": [group.name for group in care.may_contain],
            "known": care.known,
        },
        "prove": plain(plan.prove),
        "notes": plain(plan.notes),
        "sources": [{"key": key, "citation": _citation(key)} for key in plan.sources],
    }


def request_as_json(request: PlanRequest) -> dict[str, Any]:
    """What a plan was asked, exactly, as plain data."""
    data: dict[str, Any] = _requests().dump_python(request, mode="json")
    return data


def request_from_json(data: Mapping[str, Any]) -> PlanRequest:
    """What a plan was asked, from the plan's data; planning it again gives the same data.

    Raises
    ------
    InputError: there is no request in the data, or not a whole one.
    """
    asked = data.get("request")
    if not isinstance(asked, Mapping):
        raise InputError("request", asked, "the request of a plan that was written as JSON")
    try:
        return _requests().validate_python(asked)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
    place = ".".join(str(part) for part in ("request", *first["loc"]))
    raise InputError(place, first["input"], "what a plan wrote there", hint=f"{first['msg']}.")


def recipe_from_json(data: Mapping[str, Any]) -> Recipe:
    """The recipe of a request that was written as plain data."""
    return _recipes().validate_python(data)


@cache
def _recipes() -> TypeAdapter[Recipe]:
    return TypeAdapter(Recipe)


@cache
def _requests() -> TypeAdapter[PlanRequest]:
    return TypeAdapter(PlanRequest)


def _citation(key: str) -> str:
    return "What the maker states." if key == MAKER else source(key).citation
