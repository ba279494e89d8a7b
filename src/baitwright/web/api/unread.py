"""What a request told and no reader took, as one of our own errors."""

from __future__ import annotations

from fastapi.exceptions import RequestValidationError

from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import REFUSED, as_typed

_LONGEST = 80


def first_wrong(error: RequestValidationError) -> InputError:
    """The first thing that is wrong; a key nobody knows goes before all others."""
    found = error.errors()
    first = min(found, key=lambda each: each["type"] != "extra_forbidden")
    field = _named(first["loc"])
    cause = first.get("ctx", {}).get("error")
    if first["type"] == REFUSED and isinstance(cause, InputError):
        return InputError(field, as_typed(cause.got), cause.accepted, hint=cause.hint)
    if first["type"] == "extra_forbidden":
        return InputError(field, "a key that is not known", "nothing of that name")
    if first["type"] == "missing":
        return InputError(field, None, "something there")
    return InputError(field, repr(first.get("input"))[:_LONGEST], first["msg"])


def _named(place: tuple[int | str, ...]) -> str:
    """A place as our errors tell it: ``recipe.liquid[2].level``."""
    name = ""
    for part in place[1:] if len(place) > 1 else place:
        if isinstance(part, int):
            name += f"[{part + 1}]"
        else:
            name += f".{part}" if name else part
    return name
