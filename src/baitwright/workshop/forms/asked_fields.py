"""What a page asks for: the fields of a table under names such as liquid[1].level.

A table of a file, of a form or of the bench is asked the same way. A list has one empty row more
than it has rows; words of a list stand in one field, parted by semicolons.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic.fields import FieldInfo

from baitwright.workshop.forms.form import fields_of, is_named, reads, table_in
from baitwright.workshop.forms.form_fields import LONGEST_NOTE
from baitwright.workshop.told.field_words import words_of
from baitwright.workshop.typed.fields import Reads, as_typed
from baitwright.workshop.typed.reading import Table

KEY, SHARE = "key", "share"
"""A row of a table that is open to any name, such as the parts of a base."""
_APART = "; "


@dataclass(frozen=True, slots=True)
class Asked:
    """One field.

    Parameters
    ----------
    name, label: under which its answer is sent, and as the page calls it.
    about: what it is, in a sentence.
    accepted, example: ends the sentence "it takes ...", and such an answer.
    choices, value: all answers there are, where they are few, and what stands there.
    """

    name: str
    label: str
    about: str = ""
    accepted: str = ""
    example: str = ""
    choices: tuple[str, ...] = ()
    value: str = ""
    is_required: bool = False
    is_long: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that belong together, and groups within; a row where there may be several alike."""

    name: str
    title: str
    about: str = ""
    fields: tuple[Asked, ...] = ()
    groups: tuple[Group, ...] = ()
    is_row: bool = False
    is_blank: bool = False

    def walk(self) -> Iterator[Asked]:
        """Every field, outer ones first."""
        yield from self.fields
        for group in self.groups:
            yield from group.walk()


def asked(table: type[Table], standing: Mapping[str, Any], *, name: str = "") -> Group:
    """The fields of a table, filled with what stands there.

    Parameters
    ----------
    table: which fields there are.
    standing: plain data as a file has it.
    name: of the table, in front of the names of its fields.
    """
    title = _words(name.rpartition(".")[2].partition("[")[0])
    fields: list[Asked] = []
    groups: list[Group] = []
    for key, one in fields_of(table).items():
        at = f"{name}.{key}" if name else key
        held, mark, stands = table_in(one), reads(one), standing.get(key)
        if held is not None and held[1]:
            groups += _rows(held[0], stands or (), at, about=one.description or "")
        elif held is not None:
            inner = asked(held[0], held[0].spelled_out(stands or {}), name=at)
            groups.append(Group(at, inner.title, one.description or "", inner.fields, inner.groups))
        elif is_named(one):
            groups += _named_rows(one, stands or {}, at)
        else:
            fields.append(_asked(one, mark, at, stands=stands))
    return Group(name, title, "", tuple(fields), tuple(groups))


def _rows(table: type[Table], standing: Sequence[Any], at: str, *, about: str) -> Iterator[Group]:
    for number, row in enumerate((*standing, None), start=1):
        inner = asked(table, row or {}, name=f"{at}[{number}]")
        title = f"{inner.title} {number}"
        yield Group(
            inner.name, title, about, inner.fields, inner.groups, is_row=True, is_blank=row is None
        )


def _named_rows(field: FieldInfo, standing: Mapping[str, Any], at: str) -> Iterator[Group]:
    mark = reads(field)
    about = (field.description or "") if mark is None else mark.about
    title = _words(at.rpartition(".")[2])
    for number, (key, told) in enumerate((*standing.items(), ("", "")), start=1):
        row = f"{at}[{number}]"
        name = Asked(f"{row}.{KEY}", "Name", value=key)
        label, example = ("Share", "10 %") if mark is None else ("Amount", "2.3 ml")
        share = Asked(f"{row}.{SHARE}", label, example=example, value=str(told))
        yield Group(row, f"{title} {number}", about, (name, share), is_row=True, is_blank=not key)


def _asked(field: FieldInfo, mark: Reads | None, at: str, *, stands: Any) -> Asked:
    label = _words(at.rpartition(".")[2])
    if mark is None:  # several words, each read on its own
        return Asked(at, label, field.description or "", value=written(stands))
    schema = mark.schema
    is_flag = schema.get("type") == "boolean"
    choices = ("yes", "no") if is_flag else tuple(map(str, schema.get("enum", ())))
    is_list = schema.get("type") == "array"
    examples = (schema["items"] if is_list else schema).get("examples") or [""]
    return Asked(
        name=at,
        label=label,
        about=f"{mark.about} Several are parted by semicolons." if is_list else mark.about,
        accepted=mark.accepted,
        example=str(examples[0]),
        choices=choices,
        value=written(stands),
        is_required=field.is_required(),
        is_long=str(LONGEST_NOTE) in mark.accepted,
    )


def written(told: Any) -> str:
    """What stands in a file, as one would type it on a page."""
    if told is None:
        return ""
    if isinstance(told, bool):
        return "yes" if told else "no"
    if isinstance(told, list | tuple):
        return _APART.join(map(written, told))
    return str(as_typed(told)).replace("T", " ") if hasattr(told, "isoformat") else str(told)


def _words(name: str) -> str:
    told = words_of(name)
    return told[:1].upper() + told[1:]
