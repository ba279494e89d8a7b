"""An answer as a page shows it: the version that is looked at, and all there are."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.advice.answers import Advice
from baitwright.notebook.store import Notebook
from baitwright.sheets.advice_message import advice_message
from baitwright.sheets.advice_parts import Group, Row, assumed, cares, groups, made_with
from baitwright.workshop.questions.answers_found import Given, advice_of, given


@dataclass(frozen=True, slots=True)
class AnswerView:
    """An answer thing by thing, what it rests on, what to mind, its message, and every version."""

    advice: Advice
    groups: tuple[Group, ...]
    assumed: tuple[Row, ...]
    cares: tuple[str, ...]
    made: str
    message: str
    every: tuple[Given, ...]


def answer_view(book: Notebook, name: str, version: int | None = None) -> AnswerView:
    """The newest version of an answer, or another; every version, the newest first.

    Raises
    ------
    InputError: no such answer or version, or one that was purged.
    """
    advice = advice_of(book, name, version)
    return AnswerView(
        advice,
        groups(advice),
        assumed(advice),
        cares(advice),
        made_with(advice),
        advice_message(advice),
        given(book, name)[::-1],
    )
