"""The steps of a batch in order of doing: what to weigh, draw or time, and room for the truth."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.cores import sizes
from baitwright.batch.prove import EARLY
from baitwright.materials.countries import ANYWHERE, is_known
from baitwright.materials.liquids import carrier
from baitwright.materials.sieves import sieve
from baitwright.quantities import show
from baitwright.recipe.eggs import EggKind
from baitwright.sheets.readings import actions
from baitwright.sheets.tables import lines_of
from baitwright.sheets.text_made import (
    cores_ready,
    dose_figure,
    from_the_cold,
    lot_known,
    tool_words,
)
from baitwright.sheets.text_rig import shot_words, signed
from baitwright.sheets.wording import Figure, clock, figure, to_the_mark
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of, median_of

_LONGEST_NAME = 72
"""Characters of a liquid's or mix's name in a step; its dose and tool are never cut."""


def shortened(name: str, longest: int = _LONGEST_NAME) -> str:
    """A name with its end left out where it is too long for the page."""
    if " " in name:
        return textwrap.shorten(name, longest, placeholder=" ...")
    return name[:longest]


_SHAKEN_AGAIN = 3600.0
"""Seconds after which glugged baits are shaken once more."""


@dataclass(frozen=True, slots=True)
class Wait:
    """A time that runs while a step is done: under a name, in s, so many one after the other.

    ``by_itself`` is one that begins when the step is done.
    """

    name: str
    seconds: float
    times: int = 1
    by_itself: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, a few words on how, and the number it is done by.

    Paper has room for one actual value of each; ``asks`` names, as a batch's file does, the entries
    that take what was really weighed, counted or timed there, and ``waits`` what is timed. ``of``
    is where the number comes from.
    """

    do: str
    how: str
    number: str
    unit: str
    band: str = ""
    of: Quantity | None = None
    asks: tuple[str, ...] = ()
    waits: tuple[Wait, ...] = ()


@dataclass(frozen=True, slots=True)
class Stage:
    """Steps that belong together, when they begin, and the cautions in short."""

    name: str
    begins: str
    caution: str
    steps: tuple[Step, ...]


def stages(plan: BatchPlan) -> tuple[Stage, ...]:
    """Every stage of the bench, empty ones left out."""
    starts = {step.name: step.start for step in plan.day.steps}
    bowl = "Bowl" if all(lot.parts for lot in plan.eggs.lots) else "Eggs"
    made = (
        _stage(plan, "Tub", _tub(plan), cautions=("mix",)),
        _stage(plan, bowl, _eggs(plan), cautions=("eggs",), at=starts.get("mix")),
        _stage(plan, "Dose", _doses(plan), cautions=("dose",)),
        _stage(plan, "Mix", _mix(plan)),
        _stage(plan, "Roll", _roll(plan), cautions=("roll",), at=starts.get("roll and boil")),
        _stage(plan, "Boil", _boil(plan), cautions=("boil",)),
        _stage(plan, "Coat", _coat(plan), cautions=("coat",)),
        _stage(plan, "Dry", _dry(plan), cautions=("dry",), at=starts.get("dry")),
        _stage(plan, "Glug", _glug(plan), cautions=("dose", "glug"), at=starts.get("glug")),
        _stage(plan, "Bag", _bag(plan), cautions=("pack", "keep"), at=starts.get("bag")),
        _stage(plan, "Rig", _rig(plan), cautions=("fish",)),
    )
    return tuple(stage for stage in made if stage.steps)


def _stage(
    plan: BatchPlan,
    name: str,
    steps: Iterator[Step],
    *,
    cautions: tuple[str, ...] = (),
    at: datetime | None = None,
) -> Stage:
    begins = "" if at is None else clock(at)
    return Stage(name, begins, _in_short(plan, cautions), tuple(steps))


@cache
def short_cautions() -> dict[str, str]:
    """Each caution in a few words, by its id."""
    return {line["id"]: line["text"] for line in lines_of("short_cautions", ("id", "text"))}


def _in_short(plan: BatchPlan, wanted: tuple[str, ...]) -> str:
    """The cautions of these stages that hold anywhere, or in the country named on the bench.

    A page on the wall has no room for those of every country, where none is named.
    """
    told = plan.request.bench.country
    country = told if told is not None and is_known(told) else ANYWHERE
    held = [one for one in plan.care.cautions if one.stage in wanted and one.holds_in(country)]
    words = dict.fromkeys(short_cautions().get(one.id, one.text) for one in held)
    return " ".join(words)


def _step(do: str, number: Figure | Quantity, how: str = "", **more: Any) -> Step:
    """A step; its band and where its number comes from are told where that is a quantity."""
    if isinstance(number, Quantity):
        shown = figure(number)
        return Step(do, how, shown.number, shown.unit, shown.band, number, **more)
    return Step(do, how, number.number, number.unit, **more)


def _tub(plan: BatchPlan) -> Iterator[Step]:
    recipe, bench, made = plan.request.recipe, plan.request.bench, plan.mix.preparation
    base = shortened(plan.mix.name)
    if bench.tub.mass is not None:
        yield _step("Weigh the tub", plan.mix.tub, f"prepared {base}", asks=_TUB)
        return
    if recipe.sieve is not None:
        yield _step(f"Weigh raw {base} base", made.raw, sieve(recipe.sieve).name)
        kept = f"what stays behind, about {figure(made.coarse).text}, is for the free bait"
        yield _step("Sieve and weigh again", made.sieved, kept)
    else:
        yield _step(f"Weigh {base} base", made.sieved, "not sieved")
    if recipe.hardener is not None:
        how = f"{figure(made.on_top).text} on top of the base's weight"
        name = recipe.hardener.ingredient.replace("-", " ")
        yield _step(f"Add hardener: {name}", made.hardener, how)
    yield _step("Stir, date and weigh the tub", plan.mix.tub, asks=_TUB)


def _eggs(plan: BatchPlan) -> Iterator[Step]:
    out = next((f"; out from {clock(s.start)}" for s in plan.day.steps if s.name == "eggs out"), "")
    alone = ("egg_in_bowl",) if len(plan.eggs.lots) == 1 else ()
    for lot in plan.eggs.lots:
        if lot.parts:
            for part in lot.parts:
                yield _step(f"Weigh {part.label}", part, "stir together in the bowl")
            continue
        counted = "" if lot.eggs.count is None else f"{lot.eggs.count} counted, "
        how = f"{counted}{lot_known(lot)}{out if from_the_cold(lot) else ''}"
        asks = (*alone, "eggs") if lot.form.id == EggKind.WHOLE else alone
        yield _step(f"Weigh in the bowl: {lot.form.name}", lot.mass, how, asks=asks)
    if len(plan.eggs.lots) > 1:
        yield _step("All egg together", plan.eggs.mass, asks=("egg_in_bowl",))


def _doses(plan: BatchPlan) -> Iterator[Step]:
    for one in plan.doses.doses:
        how = f"{tool_words(one)}, {one.liquid.level.text}"
        if one.blend is not None:
            parts, fill = one.blend.carrier_parts, one.blend.fill
            name = carrier(one.liquid.carrier).name
            blend = f"1 + {parts} in {name}: {show(fill.volume, 'ml')} in the {fill.tool.name}"
            how = f"{how}; or of a bottle let down {blend}"
        verb = "Weigh" if one.fill is None else "Draw"
        number, of = dose_figure(one), one.mass if one.fill is None else one.volume
        more = {"of": of, "band": figure(of).band, "asks": (f"drawn.{one.liquid.name}",)}
        yield _step(f"{verb} {shortened(one.liquid.name)}", number, how, **more)


def _mix(plan: BatchPlan) -> Iterator[Step]:
    taken, egg = figure(plan.mix.dry_mix), figure(plan.mix.per_egg)
    how = f"the last part by feel, {taken.band} {taken.unit}; {egg.text} an egg"
    stiffens = _rolls_for(plan)
    waits = () if stiffens is None or plan.rolled.fillers else (stiffens,)
    yield _step("Work in dry mix", plan.mix.dry_mix, how, waits=waits)
    last = len(plan.rolled.fillers)
    for at, one in enumerate(plan.rolled.fillers, start=1):
        waits = (stiffens,) if stiffens is not None and at == last else ()
        yield _step(one.label.capitalize(), one, "last, until they lie evenly", waits=waits)


def _rolls_for(plan: BatchPlan) -> Wait | None:
    """How long paste can be worked once it is mixed, where there is any to roll."""
    working = dict(plan.day.lots.inputs).get("working")
    return None if working is None else Wait("paste stiffens", median_of(working), by_itself=True)


def _roll(plan: BatchPlan) -> Iterator[Step]:
    rolled, bait = plan.rolled, plan.request.recipe.bait
    if bait.core is not None:
        ready = Figure(f"{cores_ready(plan)}", "")
        yield _step("Lay out cores", ready, f"{sizes(bait.core)}; some are left over")
    lots = int(band_of(plan.day.lots).median)
    in_lots = f"; {lots} portions, the rest covered" if lots > 1 else ""
    how = f"weigh the first two; roll twice to {show(bait.diameter, 'mm')}{in_lots}"
    yield _step("Pinch for one bait", rolled.pinch, how, asks=("baits_made",))
    yield from _readings(plan, "Roll")


def _boil(plan: BatchPlan) -> Iterator[Step]:
    loads = figure(plan.day.loads).number
    quench = plan.request.bench.pot.quench
    then = "" if quench is None else f"; then into {quench}"
    how = f"vigorous boil, {plan.request.recipe.bait.hardness}; {loads} loads{then}"
    seconds = plan.boil.seconds
    pans = Wait("pan", median_of(seconds), times=round(median_of(plan.day.loads)))
    asks = ("boiled", "diameter_fresh")
    yield _step("Boil each basket", seconds, how, asks=asks, waits=(pans,))
    if plan.coat is None:
        yield from _readings(plan, "Boil")


def _dry(plan: BatchPlan) -> Iterator[Step]:
    ends = next((step.end for step in plan.day.steps if step.name == "dry"), None)
    until = "" if ends is None else f"until {clock(ends)}; "
    if plan.day.dries:
        waits = [Wait("tray", median_of(plan.dry.time))]
        if any(one.name == "twenty_at_8h" for one in plan.prove):
            waits.append(Wait("twenty at 8 h", EARLY))
        how = f"{until}turn once"
        yield _step("Leave on the tray", plan.dry.time, how, waits=tuple(waits))
    else:
        how = "does not dry here: find drier or warmer air, or a dryer"
        yield _step("Leave on the tray", Figure("never", ""), how)
    yield from _readings(plan, "Dry")


def _coat(plan: BatchPlan) -> Iterator[Step]:
    if plan.coat is not None:
        how = f"wet from the pot; about {figure(plan.coat.stuck).text} stays on a bait"
        yield _step(f"Roll in {plan.coat.ingredient}", plan.coat.for_all, how)
        yield from _readings(plan, "Boil")


def _glug(plan: BatchPlan) -> Iterator[Step]:
    if plan.glug is not None:
        fill = plan.glug.fill
        tool = "" if fill is None else f"{fill.tool.name}; "
        of = plan.glug.for_all
        number = figure(of) if fill is None else to_the_mark(fill)
        how = f"{tool}{figure(plan.glug.per_bait).text} a bait; shake, again after an hour"
        name = shortened(plan.glug.name)
        more = {"of": of, "band": figure(of).band, "waits": (Wait("shake again", _SHAKEN_AGAIN),)}
        yield _step(f"Pour over all baits: {name}", number, how, **more)
        soaks = (Wait("glug", median_of(plan.glug.time)),)
        yield _step("Let them soak", plan.glug.time, "weigh ten before and after", waits=soaks)


def _bag(plan: BatchPlan) -> Iterator[Step]:
    baits = figure(plan.rolled.baits)
    recast = figure(plan.soak.recast)
    how = [f"8 in 10: {baits.band}"] if baits.band else []
    if recast.number != "never":
        how.append(f"in the lake recast after {recast.text}")
    asks = ("baits_made", "baits_good", "twenty_at_24h", "diameter_dried")
    yield _step("Count and bag by outing", plan.rolled.baits, "; ".join(how), asks=asks)


def _rig(plan: BatchPlan) -> Iterator[Step]:
    """Trim the rig at the water: what is left to balance, with what, and when it lies."""
    made, rig = plan.rig, plan.request.bench.rig
    if made is None or rig is None:
        return
    stage, held = made.stage, made.counterweight
    left = signed(stage.net)
    band = f"8 in 10: {left.band}; " if left.band else ""
    how = f"{band}trim in a glass of lake water"
    yield _step("Lift left on the rig", left, how, of=stage.net, band=left.band)
    if median_of(stage.putty) > 0.0:
        shot = "" if held is None else f"; or {shot_words(held)}"
        how = f"hangs with {figure(stage.balance_point).text}{shot}"
        yield _step("Putty to just take it down", stage.putty, how)
    settles = made.settles if held is None else held.settles
    if rig.depth > 0.0 and median_of(settles.speed) > 0.0:
        how = f"{figure(settles.sinks).text} sink{'' if held is None else ' with the shot on'}"
        yield _step(f"On the bottom at {show(rig.depth, 'm')} after", settles.time, how)


_TUB = ("tub_before",)
# Where each reading asked for is taken, and in few words; one not named here comes after drying.
_TAKEN = {
    "tub_used": ("Roll", "Weigh the tub again: what it lost"),
    "twenty_fresh": ("Boil", "Weigh twenty, boiled and cold"),
    "twenty_at_8h": ("Dry", "Weigh the same twenty after 8 h"),
    "cup_weight": ("Dry", "Weigh one dried bait"),
    "cup_rise": ("Dry", "Push it under in a tared cup: the rise"),
}


def _readings(plan: BatchPlan, stage: str) -> Iterator[Step]:
    marks = {one.name: mark for action in actions(plan) for mark, one in action.readings}
    for one in plan.prove:
        place, words = _TAKEN.get(one.name, ("Dry", one.how))
        if place == stage:
            how = f"prove {marks[one.name]}: within {figure(one.predicted).band}"
            asks = ("tub_after",) if one.name == "tub_used" else (one.name,)
            yield _step(words, one.predicted, how, asks=asks)
