"""Results kept in hand: the last few, each worked out once however many ask at the same time."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import lru_cache, wraps
from threading import Lock
from typing import Generic, TypeVar

A = TypeVar("A", bound=Hashable)
T = TypeVar("T")


def in_hand(most: int) -> Callable[[Callable[[A], T]], Callable[[A], T]]:
    """Keep so many results of a function of one argument.

    Who asks while another has it worked out waits for that; an error is told to the one it met, and
    the next tries again.
    """

    def kept(work: Callable[[A], T]) -> Callable[[A], T]:
        looking = Lock()

        @lru_cache(most)
        def place(asked: A) -> _Place[T]:
            return _Place()

        @wraps(work)
        def found(asked: A) -> T:
            with looking:
                there = place(asked)
            return there.filled(lambda: work(asked))

        return found

    return kept


class _Place(Generic[T]):
    """Where one result is put."""

    def __init__(self) -> None:
        self._filling = Lock()
        self._found: list[T] = []

    def filled(self, work: Callable[[], T]) -> T:
        """The result; worked out by the first who asks."""
        with self._filling:
            if not self._found:
                self._found.append(work())
            return self._found[0]
