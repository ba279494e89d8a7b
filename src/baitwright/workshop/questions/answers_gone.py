"""What goes with a question that is purged: its answers, and the files they were written into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baitwright.notebook.page import Page
from baitwright.workshop.forms.form_questions import ANSWER, QUESTION
from baitwright.workshop.questions.answer_copies import COPY, Copied, copies_of


@dataclass(frozen=True, slots=True)
class WithAnswers:
    """Questions of a person that go, answers that go, and copies of these in files."""

    questions: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    copies: tuple[Copied, ...] = ()

    def gone(self) -> Iterator[tuple[str, str]]:
        """Kind and name of every record that goes."""
        yield from ((QUESTION, name) for name in self.questions)
        yield from ((ANSWER, name) for name in self.answers)
        yield from ((COPY, one.name) for one in self.copies)


def with_answers(page: Page, questions: Iterable[str], *, whose: bool) -> WithAnswers:
    """What goes with these questions; they are told only where it goes by ``whose`` they are."""
    asked = tuple(questions)
    answers = tuple(name for name in asked if page.latest(ANSWER, name) is not None)
    return WithAnswers(asked if whose else (), answers, tuple(copies_of(page, answers)))
