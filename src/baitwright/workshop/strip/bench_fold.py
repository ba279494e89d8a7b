"""How a batch at the bench stands after what was tapped: a pure fold over the taps.

A tap that is sent twice counts once, and the order in which taps arrive changes nothing: they are
put in the order of their times. The page folds by the same rules in its own script, so that it goes
on while the workshop is away; `tests/web` holds both to one answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from baitwright.workshop.strip.bench_strip import Strip
from baitwright.workshop.strip.bench_tap import Tap, Tapped


@dataclass(frozen=True, slots=True)
class Running:
    """A timer that was started and not stopped; it may have run out."""

    name: str
    step: str
    started: datetime
    ends: datetime


@dataclass(frozen=True, slots=True)
class BenchState:
    """How a batch stands: what is done, what was told, what runs, what is next.

    ``started`` are timers that ever ran; ``live`` is empty when all is done; ``last`` is the tap
    that the next undoing takes back.
    """

    done: Mapping[str, datetime]
    told: Mapping[str, Tap]
    running: Mapping[str, Running]
    started: frozenset[str]
    live: str
    last: Tap | None

    def seconds_to_next(self, now: datetime) -> int | None:
        """Whole seconds until the next timer has run out; none where none runs."""
        left = [one.ends - now for one in self.running.values() if one.ends > now]
        return int(min(left).total_seconds()) + 1 if left else None


def folded(strip: Strip, taps: Iterable[Tap]) -> BenchState:
    """How a batch stands after some taps, in whatever order they came and however often."""
    once = {one.id: one for one in taps}
    ordered = sorted(once.values(), key=lambda one: (one.at, one.id))
    undone = {one.name for one in ordered if one.kind is Tapped.UNDO}
    stand = [one for one in ordered if one.kind is not Tapped.UNDO and one.id not in undone]
    fold = _Fold(strip)
    for one in stand:
        fold.take(one)
    last = stand[-1] if stand else None
    return BenchState(
        fold.done, fold.told, fold.running, frozenset(fold.started), fold.live(), last
    )


@dataclass(slots=True)
class _Fold:
    """What taps have come to so far."""

    strip: Strip
    done: dict[str, datetime] = field(default_factory=dict)
    told: dict[str, Tap] = field(default_factory=dict)
    running: dict[str, Running] = field(default_factory=dict)
    started: set[str] = field(default_factory=set)
    newest: str = ""

    def take(self, tap: Tap) -> None:
        """One tap more."""
        if tap.kind is Tapped.VALUE:
            self.told[tap.name] = tap
        elif tap.kind is Tapped.START and tap.ends is not None:
            self._run(Running(tap.name, tap.step, tap.at, tap.ends))
        elif tap.kind is Tapped.STOP:
            self.running.pop(tap.name, None)
        elif tap.kind is Tapped.DONE and tap.step in {one.key for one in self.strip}:
            self.done[tap.step], self.newest = tap.at, tap.step
            for one in next(each for each in self.strip if each.key == tap.step).timings:
                if one.by_itself:
                    ends = tap.at + timedelta(seconds=one.seconds)
                    self._run(Running(one.name, tap.step, tap.at, ends))

    def _run(self, timer: Running) -> None:
        self.running[timer.name] = timer
        self.started.add(timer.name)

    def live(self) -> str:
        """The first step still to do after the one done last; else the first of all."""
        keys = [one.key for one in self.strip]
        after = keys.index(self.newest) + 1 if self.newest else 0
        return next((key for key in keys[after:] + keys[:after] if key not in self.done), "")
