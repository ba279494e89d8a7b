"""One batch worked back from leaving: when to take the eggs out, and each step up to the bag."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from baitwright.batch.bench_time import (
    baits_to_plan,
    boil_loads,
    hands_on,
    load_time,
    mixer_lots,
    mixing_in_lots,
    paste_lots,
    roll_and_boil,
    rolling_in_lots,
    rolling_time,
)
from baitwright.batch.boil import BoilStage
from baitwright.batch.dry import DryStage
from baitwright.batch.eggs import EggsStage
from baitwright.batch.glug import GlugStage
from baitwright.batch.roll import RollStage
from baitwright.batch.thaw import FIRST, Thaw, thaw
from baitwright.batch.tray_air import HORIZON
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.bench import Bench, Frozen, ThawsIn
from baitwright.recipe.eggs import EggKind
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import quantile_of


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
    ``dries`` is false in air in which the baits are not ready within four days. ``thaws`` are the
    packs that come out of the freezer; ``beside`` those that are baits already and thaw by
    themselves, each in a step of its own.
    """

    baits: Quantity
    loads: Quantity
    rolling: Quantity
    together: Quantity
    lots: Quantity
    eggs_out: Quantity
    mixing: Quantity
    hands_on: Quantity
    knead_again: Quantity
    bagging: Quantity
    thaws: tuple[Thaw, ...]
    steps: tuple[Step, ...]
    beside: tuple[Step, ...]
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
    """The stages that take time, and the egg."""

    eggs: EggsStage
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
    pace = rolling_time(baits=counted, pace=_pace(bench, unknowns))
    lots = paste_lots(rolling=pace, working=unknowns.default("paste_working_time"))
    again = unknowns.default("knead_again")
    rolling = rolling_in_lots(rolling=pace, lots=lots, again=again)
    together = roll_and_boil(rolling=rolling, baits=counted, basket=basket, loads=loads, load=load)
    eggs_out = unknowns.default("eggs_out")
    mixing = _mixing(made.rolled, bench, again, unknowns=unknowns)
    bagging = unknowns.default("bagging_time")
    dries = float(unwrap(made.dry.time.value)) < HORIZON
    thaws = tuple(thaw(one, made, bench=bench, unknowns=unknowns) for one in bench.frozen)
    spans = _Spans(
        thaw=max((_seconds(one.planned) for one in thaws if one.is_first), default=timedelta(0)),
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
    steps = _steps(start, spans, bench, dries=dries)
    beside = tuple(_beside(thaws, bench, ends=bench.leaving or steps[-1].end))
    return DayPlan(
        baits=counted,
        loads=loads,
        rolling=rolling,
        together=together,
        lots=lots,
        eggs_out=eggs_out,
        mixing=mixing,
        hands_on=hands_on(mixing=mixing, together=together),
        knead_again=again,
        bagging=bagging,
        thaws=thaws,
        steps=steps,
        beside=beside,
        worked_back=worked_back,
        slack=slack,
        dries=dries,
        notes=tuple(_notes(made, lots, spans=spans, slack=slack, bench=bench)),
    )


def _pace(bench: Bench, unknowns: Unknowns) -> Quantity:
    """How fast baits are rolled: as told, by hand, or on a table."""
    if bench.pace is not None:
        return unknowns.stated("rolling_pace", bench.pace)
    return unknowns.default("roller_pace" if bench.roller else "rolling_pace")


def _mixing(rolled: RollStage, bench: Bench, again: Quantity, *, unknowns: Unknowns) -> Quantity:
    """Weighing and kneading of each lot in the mixer; paste from the freezer is only kneaded."""
    mixer = unknowns.default("mixer")
    is_paste = any(one.what is Frozen.PASTE for one in bench.frozen)
    once = again if is_paste else unknowns.default("mixing_time")
    return mixing_in_lots(lots=mixer_lots(paste=rolled.paste, mixer=mixer), mixing=once)


def _beside(thaws: Sequence[Thaw], bench: Bench, *, ends: datetime) -> Iterator[Step]:
    """Baits that thaw for the outing, each begun so long before it that they are ready."""
    for one in thaws:
        if not one.is_first:
            start = max(ends - _seconds(one.planned), bench.now)
            name = f"thaw {one.frozen.what}"
            text = f"{_OUT[one.frozen.place]} The {one.frozen.what}, in one flat layer."
            yield Step(name, text, start, start + _seconds(one.planned), Doing.WAITING)


_OUT = {
    ThawsIn.FRIDGE: "Out of the freezer into the fridge, wrapped.",
    ThawsIn.ROOM: "Out of the freezer into the room, wrapped, and into the fridge once thawed.",
    ThawsIn.COLD_WATER: "Out of the freezer into cold water in a tight bag; change the water.",
}


def _come_from_the_cold(bench: Bench) -> bool:
    """Whether there are eggs still in their shells to be taken out of the fridge."""
    if any(one.what in FIRST for one in bench.frozen):
        return False
    return any(
        eggs.kind in (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)
        and eggs.contents_mass is None
        and eggs.contents_volume is None
        for eggs in bench.eggs
    )


@dataclass(frozen=True, slots=True)
class _Spans:
    thaw: timedelta
    eggs_out: timedelta
    mixing: timedelta
    together: timedelta
    tray: timedelta
    glug: timedelta
    bagging: timedelta

    @property
    def total(self) -> timedelta:
        before = self.thaw + self.eggs_out + self.mixing + self.together
        return before + self.tray + self.glug + self.bagging


def _seconds(quantity: Quantity) -> timedelta:
    """A span of the day, in whole minutes."""
    return timedelta(minutes=math.ceil(float(unwrap(quantity.value)) / 60.0 - 1e-9))


def _steps(start: datetime, spans: _Spans, bench: Bench, *, dries: bool) -> tuple[Step, ...]:
    """Every step that takes time, one after the other; none after a tray that never dries."""
    drying = "On the tray, turned once." if dries else "On the tray; in this air they never dry."
    bagging = spans.bagging if dries else timedelta(0)
    eggs = "Take the eggs out so that they come to room temperature."
    together = "Roll, and boil each basket while the next is rolled."
    is_paste = any(one.what is Frozen.PASTE for one in bench.frozen)
    mix = "Knead the thawed paste once more." if is_paste else "Weigh, dose and work the paste."
    out = " ".join(dict.fromkeys(_OUT[one.place] for one in bench.frozen if one.what in FIRST))
    named = (
        ("thaw", out, spans.thaw, Doing.WAITING),
        ("eggs out", eggs, spans.eggs_out, Doing.WAITING),
        ("mix", mix, spans.mixing, Doing.HANDS),
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
            f"Work the paste in {count} lots: it stiffens while it waits. Keep the rest covered "
            "and knead each lot once more before rolling."
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
        else "a fan or warmer air shortens the tray and hardens the skin"
    )
    if spans.thaw and any(one.place is not ThawsIn.COLD_WATER for one in bench.frozen):
        tray = f"a pack in cold water, in a tight bag, thaws several times as fast; {tray}"
    half = int(unwrap(baits_to_plan(baits=made.rolled.baits).value)) // 2
    return (
        f"Late by {_words(-slack)}: begun now they are bagged {done:%a %d %b %H:%M}. Ways out: "
        f"{tray}; half the batch saves about {_words(spans.together / 2)} of rolling and boiling "
        f"and costs {half} baits; leaving with them wet saves the tray, {_words(spans.tray)}: dry "
        "them at the water, where damp air may take longer, or freeze them wet, and they are "
        "softer until they have dried. `baitwright day` works each of them out."
    )


def _words(span: timedelta) -> str:
    minutes = round(span.total_seconds() / 60.0)
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"
