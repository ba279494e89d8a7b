"""One batch worked back from leaving: when to take the eggs out, and each step up to the bag."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

import numpy as np

from baitwright.batch.boil import BoilStage
from baitwright.batch.dry import DryStage
from baitwright.batch.glug import GlugStage
from baitwright.batch.roll import RollStage
from baitwright.batch.tray_air import HORIZON
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.bench import Bench
from baitwright.recipe.eggs import EggKind
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, declared, unwrap
from baitwright.terms.units import MINUTES, SECONDS
from baitwright.uncertainty.bands import quantile_of


@declared(
    "baits_to_plan",
    label="baits to plan hands and pot for",
    equation="the count in the middle of the band, whole",
    source="definition",
)
def baits_to_plan(baits: Any) -> float:
    """How many baits the day is planned for."""
    return float(max(1.0, np.floor(np.median(baits))))


@declared(
    "boil_loads",
    label="loads in the pot",
    equation="loads = baits / basket, up",
    source="definition",
)
def boil_loads(baits: Any, basket: Any) -> float:
    """How many baskets the tray fills."""
    return float(math.ceil(baits / basket - 1e-9))


@declared(
    "load_time",
    label="one load, in and out",
    unit=SECONDS,
    equation="boil + swap",
    source="definition",
)
def load_time(boil: Any, swap: Any) -> Any:
    """Time one basket holds the pot."""
    return boil + swap


@declared(
    "rolling_time",
    label="rolling",
    unit=MINUTES,
    equation="baits / pace",
    source="common-practice",
)
def rolling_time(baits: Any, pace: Any) -> Any:
    """Time the hands need, both rollings included."""
    return baits / pace


@declared(
    "rolling_in_lots",
    label="rolling, with each further portion kneaded",
    unit=MINUTES,
    equation="rolling + (portions - 1) x kneading a portion again",
    source="common-practice",
)
def rolling_in_lots(rolling: Any, lots: Any, again: Any) -> Any:
    """Time the hands need where the paste is worked in portions."""
    return rolling + (lots - 1.0) * again


@declared(
    "roll_and_boil",
    label="rolling and boiling together",
    unit=MINUTES,
    equation="the longer of (all rolled, last load boiled) and (first load rolled, all boiled)",
    source="johnson-1954",
    note="baskets are boiled while the next is rolled",
)
def roll_and_boil(rolling: Any, baits: Any, basket: Any, loads: Any, load: Any) -> Any:
    """Time from the first bait rolled to the last one out of the pot."""
    first = rolling * min(basket, baits) / baits
    return max(rolling + load, first + loads * load)


@declared(
    "paste_lots",
    label="portions of paste, each rolled before it stiffens",
    equation="portions = rolling / working time, up",
    source="common-practice",
)
def paste_lots(rolling: Any, working: Any) -> float:
    """Into how many portions to part the work so that no paste stiffens."""
    return float(max(1, math.ceil(rolling / working - 1e-9)))


class Doing(StrEnum):
    """What a step asks of its maker: hands, or only patience."""

    HANDS = "hands"
    WAITING = "waiting"
    DRYING = "drying"


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, from when to when."""

    name: str
    text: str
    start: datetime
    end: datetime
    doing: Doing


@dataclass(frozen=True, slots=True)
class DayPlan:
    """The steps in order, whether there is time, and the numbers behind them.

    Steps end at leaving, unless it is too late for that or no leaving is set: then they run from
    now. ``slack`` is the time left before the first of them must begin; below nothing it is late.
    ``dries`` is false in air in which the baits are not ready within four days.
    """

    baits: Quantity
    loads: Quantity
    rolling: Quantity
    together: Quantity
    lots: Quantity
    eggs_out: Quantity
    mixing: Quantity
    knead_again: Quantity
    bagging: Quantity
    steps: tuple[Step, ...]
    worked_back: bool
    slack: timedelta
    dries: bool
    notes: tuple[Note, ...]

    @property
    def late(self) -> bool:
        """Whether the first step should have begun before now."""
        return self.worked_back and self.slack < timedelta(0)


@dataclass(frozen=True, slots=True)
class Made:
    """The stages that take time."""

    rolled: RollStage
    boil: BoilStage
    dry: DryStage
    glug: GlugStage | None = None


def plan_day(made: Made, bench: Bench, *, unknowns: Unknowns) -> DayPlan:
    """Work back from leaving, or forward from now where that is too late or no leaving is set."""
    counted = baits_to_plan(baits=made.rolled.baits)
    basket = unknowns.stated(
        "basket", None if bench.pot.basket is None else float(bench.pot.basket)
    )
    loads = boil_loads(baits=counted, basket=basket)
    load = load_time(boil=made.boil.seconds, swap=unknowns.default("swap_time"))
    pace = rolling_time(baits=counted, pace=unknowns.default("rolling_pace"))
    lots = paste_lots(rolling=pace, working=unknowns.default("paste_working_time"))
    again = unknowns.default("knead_again")
    rolling = rolling_in_lots(rolling=pace, lots=lots, again=again)
    together = roll_and_boil(rolling=rolling, baits=counted, basket=basket, loads=loads, load=load)
    eggs_out = unknowns.default("eggs_out")
    mixing = unknowns.default("mixing_time")
    bagging = unknowns.default("bagging_time")
    dries = float(unwrap(made.dry.time.value)) < HORIZON
    spans = _Spans(
        eggs_out=_seconds(eggs_out) if _come_from_the_cold(bench) else timedelta(0),
        mixing=_seconds(mixing),
        together=_seconds(together),
        tray=_seconds(made.dry.time),
        glug=_seconds(made.glug.time) if made.glug and dries else timedelta(0),
        bagging=_seconds(bagging),
    )
    worked_back = bench.leaving is not None and dries
    leaving = bench.leaving or bench.now + spans.total
    slack = leaving - spans.total - bench.now if dries else timedelta(0)
    start = bench.now + max(slack, timedelta(0))
    return DayPlan(
        baits=counted,
        loads=loads,
        rolling=rolling,
        together=together,
        lots=lots,
        eggs_out=eggs_out,
        mixing=mixing,
        knead_again=again,
        bagging=bagging,
        steps=_steps(start, spans, dries=dries),
        worked_back=worked_back,
        slack=slack,
        dries=dries,
        notes=tuple(_notes(made, lots, spans=spans, slack=slack, bench=bench)),
    )


def _come_from_the_cold(bench: Bench) -> bool:
    """Whether there are eggs still in their shells to be taken out of the fridge."""
    return any(
        eggs.kind in (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)
        and eggs.contents_mass is None
        and eggs.contents_volume is None
        for eggs in bench.eggs
    )


@dataclass(frozen=True, slots=True)
class _Spans:
    eggs_out: timedelta
    mixing: timedelta
    together: timedelta
    tray: timedelta
    glug: timedelta
    bagging: timedelta

    @property
    def total(self) -> timedelta:
        before = self.eggs_out + self.mixing + self.together
        return before + self.tray + self.glug + self.bagging


def _seconds(quantity: Quantity) -> timedelta:
    """A span of the day, in whole minutes."""
    return timedelta(minutes=math.ceil(float(unwrap(quantity.value)) / 60.0 - 1e-9))


def _steps(start: datetime, spans: _Spans, *, dries: bool) -> tuple[Step, ...]:
    """Every step that takes time, one after the other; none after a tray that never dries."""
    drying = "On the tray, turned once." if dries else "On the tray; in this air they never dry."
    bagging = spans.bagging if dries else timedelta(0)
    eggs = "Take the eggs out so that they come to room temperature."
    together = "Roll, and boil each basket while the next is rolled."
    named = (
        ("eggs out", eggs, spans.eggs_out, Doing.WAITING),
        ("mix", "Weigh, dose and work the paste.", spans.mixing, Doing.HANDS),
        ("roll and boil", together, spans.together, Doing.HANDS),
        ("dry", drying, spans.tray, Doing.DRYING),
        ("glug", "Pour the glug over; shake now and then.", spans.glug, Doing.WAITING),
        ("bag", "Bag by outing, with lot and date.", bagging, Doing.HANDS),
    )
    steps = []
    for name, text, span, doing in named:
        if span:
            steps.append(Step(name, text, start, start + span, doing))
        start += span
    return tuple(steps)


def _notes(
    made: Made, lots: Quantity, *, spans: _Spans, slack: timedelta, bench: Bench
) -> list[Note]:
    notes = []
    if slack < timedelta(0):
        notes.append(
            Note("day", _late(made, spans, slack=slack, bench=bench), "definition", Weight.DOUBT)
        )
    if float(unwrap(made.dry.time.value)) >= HORIZON:
        text = (
            "In this air they will not be ready within four days: dry the air, warm it or move it."
        )
        notes.append(Note("day", text, "crank-1975", Weight.DOUBT))
    count = int(unwrap(lots.value))
    if count > 1:
        text = (
            f"Work the paste in {count} portions: it stiffens while it waits. Keep the rest "
            "covered and knead each portion once more before rolling."
        )
        notes.append(Note("day", text, "common-practice"))
    return notes


def _late(made: Made, spans: _Spans, *, slack: timedelta, bench: Bench) -> str:
    """How late it is, when they would be bagged all the same, and what each way out would save."""
    done = bench.now + spans.total
    ready = quantile_of(made.dry.ready, 0.9)
    floor = float(unwrap(made.dry.time.value))
    tray = (
        f"the model has 9 in 10 ready {_words(timedelta(seconds=floor - ready))} before the night "
        "is over: take them then"
        if ready <= floor - 1800.0
        else "a fan or warmer air shortens the tray"
    )
    return (
        f"Late by {_words(-slack)}: begun now they are bagged {done:%a %d %b %H:%M}. Ways out: "
        f"{tray}; half the batch saves about {_words(spans.together / 2)} of rolling and boiling; "
        "leave with them half dried and finish at the water, or freeze them moist."
    )


def _words(span: timedelta) -> str:
    minutes = round(span.total_seconds() / 60.0)
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"
