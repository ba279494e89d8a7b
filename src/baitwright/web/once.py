"""Deeds done once: a form sent twice, by two taps or by going back, does its deed one time."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field
from secrets import token_urlsafe
from threading import Lock

from baitwright.workshop.keys.door_marks import DoorMarks

FIELD = "once"
"""The hidden field of a form that says which filling-in of it this is."""
_MOST, _LONGEST = 2_000, 64


@dataclass(frozen=True, slots=True)
class Done:
    """What a deed led to.

    Parameters
    ----------
    to: the page to go to.
    said: what is told there, in words of the catalogue or as the workshop said it.
    of: names and numbers that stand in it.
    more: what the workshop said besides.
    """

    to: str
    said: str = ""
    of: Mapping[str, str | int] = field(default_factory=dict)
    more: str = ""


class Once:
    """Remembers the last deeds by the mark of their form.

    Parameters
    ----------
    marks: where they outlive a restart, and other workshops of this account find them, without
        what was told; unless told, they do not.
    """

    def __init__(self, marks: DoorMarks | None = None) -> None:
        self._marks = marks
        self._done: OrderedDict[str, Done] = OrderedDict()
        self._doing: dict[str, Lock] = {}
        self._looking = Lock()

    @staticmethod
    def mark() -> str:
        """A mark for a form that is handed out."""
        return token_urlsafe(12)

    def do(self, mark: str, deed: Callable[[], Done]) -> tuple[str, Done]:
        """Do a deed, unless a form of the mark did it already; the mark and what it led to.

        Raises
        ------
        Whatever the deed raises: then it is not done, and the form may be sent again.
        """
        mark = mark[:_LONGEST] or self.mark()
        with self._looking:
            doing = self._doing.setdefault(mark, Lock())
        with doing, self._turn(mark):
            with self._looking:
                before = self._before(mark)
            if before is not None:
                return mark, before
            try:
                made = self._keep(mark, deed())
            finally:
                with self._looking:
                    self._doing.pop(mark, None)
        return mark, made

    def _turn(self, mark: str) -> AbstractContextManager[None]:
        """Keeps other workshops of this account from the same deed."""
        return nullcontext() if self._marks is None else self._marks.turn(mark)

    def _before(self, mark: str) -> Done | None:
        kept = None if self._marks is None else self._marks.led_to(mark)
        return self._done.get(mark) or (None if kept is None else Done(kept))

    def _keep(self, mark: str, made: Done) -> Done:
        with self._looking:
            self._done[mark] = made
            if self._marks is not None:
                self._marks.keep(mark, made.to)
            while len(self._done) > _MOST:
                self._done.popitem(last=False)
        return made

    def done(self, mark: str) -> Done:
        """What a deed led to, by its mark; nothing where there was none."""
        with self._looking:
            return self._done.get(mark, Done(""))
