"""A plan as `plan --out` wrote it, read back to be worked out again."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import PlanRequest
from baitwright.terms.errors import InputError
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.typed.sized import LARGEST_PLAN, sized

_ACCEPTED = "a plan as JSON, as plan --out writes it"


@dataclass(frozen=True, slots=True)
class PlanFile:
    """What a plan was asked, and the version of the program that answered."""

    request: PlanRequest
    version: str


def read_plan_file(path: Path) -> PlanFile:
    """The request of a written plan.

    Raises
    ------
    InputError: the file cannot be read, or is no plan.
    """
    where = str(path)
    try:
        data: Any = json.loads(sized(path, what="plan", most=LARGEST_PLAN))
    except OSError as error:
        hint = f"{error.strerror}."
        raise InputError("plan", where, "a plan.json that can be read", hint=hint) from None
    except (ValueError, RecursionError) as error:
        raise InputError("plan", where, _ACCEPTED, hint=f"The parser says: {error}.") from None
    if not isinstance(data, dict):
        raise InputError("plan", where, _ACCEPTED)
    try:
        request = request_from_json(data)
    except InputError as error:
        raise error.located(where) from None
    program = data.get("program")
    version = program.get("version") if isinstance(program, dict) else None
    return PlanFile(request, str(version or "unknown"))
