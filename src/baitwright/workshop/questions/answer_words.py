"""Answers and lists of them as text for the screen, and for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from baitwright.advice.answers import Advice, Changed
from baitwright.sheets.advice_parts import (
    CARES,
    RESTS_ON,
    TO_NARROW,
    Row,
    assumed,
    cares,
    groups,
    made_with,
    mark,
)
from baitwright.sheets.layout import bullet, heading, paragraph
from baitwright.workshop.questions.answer_book import Answered
from baitwright.workshop.questions.answers_found import Given, Listed

_HEAD = 12


def advice_text(advice: Advice) -> str:
    """A whole answer, the maker's own words first."""
    lines = [mark(advice)]
    lines += paragraph(advice.question)
    for entry, words in advice.told:
        lines += paragraph(f"{entry}: {words}")
    for words in filter(None, (advice.opening, advice.words)):
        lines += ["", *(line for one in words.splitlines() for line in paragraph(one))]
    for group in groups(advice):
        lines += heading(group.about or "The answer") + list(_rows(group.rows))
    lines += _points(TO_NARROW, advice.found.asks) + _points(CARES, cares(advice))
    if rows := assumed(advice):
        lines += heading(RESTS_ON) + list(_rows(rows))
    if advice.closing:
        lines += ["", *(line for one in advice.closing.splitlines() for line in paragraph(one))]
    return "\n".join([*lines, "", f"  {made_with(advice)}"])


def _rows(rows: Iterable[Row]) -> Iterator[str]:
    for one in rows:
        on = f": {one.rests_on}" if one.rests_on else ""
        told = f"{one.head:{_HEAD}}{one.text} [{one.grade}{on}]"
        yield from paragraph(told, then=" " * (_HEAD + 2))


def _points(head: str, told: Sequence[str]) -> list[str]:
    return [*heading(head), *(line for one in told for line in bullet(one))] if told else []


def answered_text(done: Answered) -> str:
    """An answer that was computed just now, and what it says otherwise than the one before."""
    if not done.is_new:
        return (
            f"{advice_text(done.advice)}\n\nNothing changed: version {done.advice.version} stands."
        )
    if done.advice.version == 1:
        return advice_text(done.advice)
    before = done.advice.version - 1
    return "\n".join(
        [
            advice_text(done.advice),
            *heading(f"Changed since version {before}"),
            *_changed(done.changes),
        ]
    )


def given_text(found: Sequence[Given], version: int | None) -> str:
    """One version as it was given, and all there are with what each changed."""
    shown = next((one for one in found if one.advice.version == version), found[-1])
    lines = [advice_text(shown.advice), *heading("Versions")]
    for one in found:
        lines += bullet(f"version {one.advice.version}: {made_with(one.advice)}")
        lines += _changed(one.changes)
    return "\n".join(lines)


def _changed(changes: Sequence[Changed]) -> Iterator[str]:
    for one in changes:
        told = f"{one.entry}: {one.before or 'nothing'} becomes {one.after or 'nothing'}"
        yield from paragraph(told, first="    ", then="      ")


def found_text(rows: Sequence[Listed]) -> str:
    """Questions in a list."""
    if not rows:
        return "no question has all of those words"
    return "\n".join(line for one in rows for line in _listed(one))


def _listed(one: Listed) -> Iterator[str]:
    label = f" ({one.label})" if one.label else ""
    stands = f"answer {one.version}" if one.version else "not answered"
    yield f"{one.name}  {one.day}{label}: {one.question} [{stands}]"
    if one.found:
        yield from paragraph(one.found, first="    ", then="    ")


def advice_json(advice: Advice, changes: Sequence[Changed] = ()) -> dict[str, Any]:
    """An answer as data, with what it says otherwise than the one before."""
    return {**asdict(advice), "changed": [asdict(one) for one in changes]}


def found_json(rows: Sequence[Listed]) -> dict[str, Any]:
    """Questions in a list, as data."""
    return {"questions": [asdict(one) for one in rows]}
