"""A TOML file into a table of fields, and every way that can fail into one sentence."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any, TypeVar, get_args, get_origin

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic.fields import FieldInfo

from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import REFUSED, Reads, as_typed
from baitwright.workshop.typed.sized import sized
from baitwright.workshop.typed.toml_reading import in_toml


class Table(BaseModel):
    """A table of a file: its own keys and no others, never changed."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    @classmethod
    def spelled_out(cls, written: Any) -> Any:
        """What a file may write in short, key by key; a table has no short form unless it says."""
        return written


T = TypeVar("T", bound=Table)


def load(path: Path, *, what: str) -> dict[str, Any]:
    """The raw contents of a TOML file.

    Parameters
    ----------
    path: the file.
    what: the kind of file it should be, for the error.

    Raises
    ------
    InputError: the file cannot be read, or is not TOML.
    """
    where = str(path)
    try:
        text = sized(path, what=what).decode("utf-8-sig")  # some editors begin with a mark
    except OSError as error:
        accepted = f"a {what} file that can be read"
        raise InputError(what, where, accepted, hint=f"{error.strerror}.") from None
    except ValueError as error:
        raise InputError(what, where, "text in UTF-8", hint=f"{error}.") from None
    return in_toml(text, where=where)


def parse(data: Mapping[str, Any], model: type[T], *, where: str) -> T:
    """The fields of a file's raw contents.

    Parameters
    ----------
    data: the raw contents.
    model: which fields there are.
    where: the file, for the error.

    Raises
    ------
    InputError: the first thing that is wrong; a key nobody knows goes before all others, since
        what it was meant to be is often what is then missing.
    """
    try:
        return model.model_validate(data)
    except ValidationError as error:
        found = error.errors(include_url=False)
    first = min(found, key=lambda each: each["type"] != "extra_forbidden")
    spot = _spot(first["loc"], data, model)
    got, hint = spot.value, ""
    if first["type"] == REFUSED:
        cause: InputError = first["ctx"]["error"]
        got, accepted, hint = cause.got, cause.accepted, cause.hint
    elif first["type"] == "extra_forbidden":
        keys = list(spot.table.model_fields)
        accepted = f"a key known there: {', '.join(keys)}"
        near = get_close_matches(str(first["loc"][-1]), keys, n=1, cutoff=0.5)
        hint = f"Nearest: {near[0]!r}." if near else ""
    else:
        accepted = _accepted(spot)
    raise InputError(spot.name or "the file", as_typed(got), accepted, hint=hint, where=where)


@dataclass(frozen=True, slots=True)
class _Spot:
    """A place in a file: as the file writes it, what stands there, and which field that is."""

    name: str
    value: Any
    table: type[Table]
    field: FieldInfo | None


def _spot(place: tuple[int | str, ...], data: Any, model: type[Table]) -> _Spot:
    """Follow a place through file and model at once; lists count from 1: ``liquid[2].level``."""
    spot = _Spot("", data, model, None)
    below: type[Table] | None = model
    for part in place:
        if not isinstance(spot.value, list if isinstance(part, int) else Mapping):
            break  # the file is shorter here than the table it is read into
        if isinstance(part, int):
            spot = replace(spot, name=f"{spot.name}[{part + 1}]", value=spot.value[part])
            continue
        bare = re.fullmatch(r"[A-Za-z0-9_-]+", part)
        name = ".".join(filter(None, (spot.name, part if bare else f'"{part}"')))
        spot = replace(spot, name=name, value=spot.value.get(part))
        if below is not None:
            spot = replace(spot, table=below, field=below.model_fields.get(part))
            below = _table_in(spot.field.annotation) if spot.field else None
    return spot


def _table_in(annotation: Any) -> type[Table] | None:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    return next(filter(None, map(_table_in, get_args(annotation))), None)


def _accepted(spot: _Spot) -> str:
    """What belongs where nothing stands, or something of the wrong shape."""
    if spot.field is None:
        return "tables and keys"
    marks = [mark for mark in spot.field.metadata if isinstance(mark, Reads)]
    if marks:
        return marks[0].accepted
    if _table_in(spot.field.annotation) is None:
        described = spot.field.description or ""
        return described[:1].lower() + described[1:].rstrip(".")
    many = get_origin(spot.field.annotation) is tuple
    return f"tables headed [[{spot.name}]]" if many else f"a table headed [{spot.name}]"
