"""A form asked question by question: what each is, what stands there, and what an answer is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import Form, fields_of, reads, table_in
from baitwright.workshop.forms.form_words import as_written
from baitwright.workshop.typed.fields import Reads
from baitwright.workshop.typed.reading import Table

Ask = Callable[[str, str], str]
"""Puts a question, with what stands there; an empty answer leaves it."""
More = Callable[[str], bool]
"""Whether there is one of these, or one more."""
Tell = Callable[[str], None]


def ask(
    form: Form, standing: Mapping[str, Any], *, put: Ask, more: More, tell: Tell
) -> dict[str, Any]:
    """What a maker answers, field by field, over what stands.

    Parameters
    ----------
    form: what is asked for.
    standing: what is written already; it is offered, and an empty answer keeps it.
    put: asks one question.
    more: asks whether there is one more row.
    tell: says why an answer will not do; the question is put again.
    """
    kept = {key: value for key, value in standing.items() if key not in form.passing}
    return _table(form.table, kept, (put, more, tell))


_Ways = tuple[Ask, More, Tell]


def _table(table: type[Table], standing: Mapping[str, Any], ways: _Ways) -> dict[str, Any]:
    answers = dict(standing)
    for name, field in fields_of(table).items():
        held, mark = table_in(field), reads(field)
        label = name.replace("_", " ")
        if held is None and mark is not None:
            told = _one(label, mark, standing.get(name), ways=ways, is_required=field.is_required())
            if told is not None:
                answers[name] = told
        elif held is not None and held[1]:
            rows = list(standing.get(name, ()))
            while ways[1](f"{'another' if rows else 'a'} {label}"):
                rows.append(_table(held[0], {}, ways))
            answers[name] = rows
        elif held is not None and name not in standing and ways[1](f"{label}: several together"):
            answers[name] = _table(held[0], {}, ways)
    return answers


def _one(label: str, mark: Reads, standing: object, *, ways: _Ways, is_required: bool) -> Any:
    """One answer that will do; nothing where it was left out."""
    put, _, tell = ways
    example = _example(mark)
    while True:
        told = put(f"{label}{example}", "" if standing is None else str(standing)).strip()
        if not told and (standing is not None or not is_required):
            return standing
        try:
            if not told:
                raise InputError(label, None, mark.accepted)
            value = as_written(mark, told)
            mark.read(value)
        except InputError as error:
            tell(f"it takes {error.accepted}.{' ' * bool(error.hint)}{error.hint}")
        except (ArithmeticError, ValueError):
            tell(f"it takes {mark.accepted}")
        else:
            return value


def _example(mark: Reads) -> str:
    if mark.schema.get("type") == "boolean":
        return " (yes or no)"
    if "enum" in mark.schema:
        return f" ({', '.join(mark.schema['enum'])})"
    examples = mark.schema.get("examples", ())
    return f" (such as {examples[0]})" if examples else ""
