"""The making of the batch as text: eggs, mix, doses, rolling, boiling, drying."""

from __future__ import annotations

from dataclasses import fields, replace

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.boil import BoilStage, HardnessOption
from baitwright.batch.carry_over import CoreSet
from baitwright.batch.cores import sizes
from baitwright.batch.dose import LiquidDose
from baitwright.batch.dry import DryingPoint
from baitwright.batch.egg_lots import Lot
from baitwright.materials.cores import core
from baitwright.materials.fillers import filler
from baitwright.materials.sieves import sieve
from baitwright.quantities import show
from baitwright.recipe.eggs import EggKind
from baitwright.recipe.model import Core, HardenerBasis, Hardness, Recipe
from baitwright.sheets.layout import paragraph, row, table
from baitwright.sheets.wording import MARK, Figure, count_of, figure, to_the_mark
from baitwright.terms.quantity import Origin, PerBait, PerBatch, Quantity
from baitwright.uncertainty.bands import band_of, median_of


def wanted(recipe: Recipe) -> str:
    """The bait wanted, in one line."""
    bait = recipe.bait
    size = f"{show(bait.diameter, 'mm')} {bait.kind}"
    light = [f"{show(one.share, '%')} {filler(one.material).name}" for one in bait.fillers]
    within = f" with {' and '.join(light)}" if light else ""
    return f"{size} {_on_core(bait.core)}{within}, {bait.hardness}"


def _on_core(wanted: Core | None) -> str:
    row_of_core = None if wanted is None else core(wanted.material)
    if wanted is None or row_of_core is None:
        return "without a core"
    if wanted.count == 1:
        return f"on a {sizes(wanted)} {row_of_core.name}"
    return f"on {sizes(wanted)} {row_of_core.name}s"


def number(quantity: Quantity, label: str = "", *, after: str = "") -> list[str]:
    """A row for one quantity under its own label or another; a default gets its mark."""
    mark = MARK if quantity.origin is Origin.DEFAULT else ""
    return row(label or quantity.label, figure(quantity), mark=mark, after=after)


def lot_words(lot: Lot) -> str:
    """One line of eggs, and how it is known."""
    counted = "" if lot.eggs.count is None else f"{lot.eggs.count} x "
    return f"{counted}{lot.form.name}, {lot_known(lot)}"


def lot_known(lot: Lot) -> str:
    """How one line of eggs is known: as measured, or by weight in the shell, or by grade."""
    eggs = lot.eggs
    if eggs.contents_mass is not None:
        return f"{show(eggs.contents_mass, 'g', 4)} as weighed in the bowl"
    if eggs.usual:
        return "of unknown size"
    if eggs.contents_volume is not None:
        return f"{show(eggs.contents_volume, 'ml', 4)} as measured in the bowl"
    if eggs.shell_mass is not None:
        return f"{show(eggs.shell_mass, 'g', 4)} in the shell"
    return f"grade {eggs.grade}"


def from_the_cold(lot: Lot) -> bool:
    """Whether this line is eggs still in their shells, to be taken out of the fridge in time."""
    measured = lot.eggs.contents_mass is not None or lot.eggs.contents_volume is not None
    return lot.eggs.kind in (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK) and not measured


def eggs(plan: BatchPlan) -> list[str]:
    """What is in the bowl."""
    stage = plan.eggs
    lines = [line for lot in stage.lots for line in paragraph(lot_words(lot))]
    for part in (part for lot in stage.lots for part in lot.parts):
        lines += number(part, f"weigh {part.label}")
    whole = any(from_the_cold(lot) or lot.form.id != EggKind.EGG_FREE for lot in stage.lots)
    lines += number(stage.mass, "" if whole else "bind in the bowl by weight")
    lines += number(stage.volume, "the same in ml")
    if plan.request.bench.baits_wanted is not None:
        wish = plan.request.bench.baits_wanted
        lines += number(stage.count, f"eggs to take for {count_of(wish, 'bait')}")
    return lines


def bridge(plan: BatchPlan) -> str:
    """The bridge between levels per egg and levels per kilogram, never hidden."""
    mix, egg = figure(plan.mix.per_egg), figure(plan.eggs.per_egg)
    return f"{mix.text} dry mix per egg, {egg.text} an egg"


def mix(plan: BatchPlan) -> list[str]:
    """The tub, what goes into it, and what the eggs take from it."""
    stage = plan.mix
    lines = [] if plan.request.bench.tub.mass is not None else _tub(plan)
    lines += number(stage.dry_mix, after="the last part by feel")
    lines += paragraph(f"Bridge: {bridge(plan)}.")
    lines += number(stage.tub)
    lines += number(stage.serves)
    lines += number(plan.tub_left)
    return lines


def _tub(plan: BatchPlan) -> list[str]:
    recipe, made = plan.request.recipe, plan.mix.preparation
    lines: list[str] = []
    if recipe.sieve is not None:
        lines += number(made.raw, after=sieve(recipe.sieve).name)
        lines += number(made.coarse, after="keep it for the free bait")
    lines += number(made.sieved, "" if recipe.sieve else "base, not sieved")
    if recipe.hardener is not None:
        on_top, of_finished = figure(made.on_top).text, figure(made.of_finished).text
        first = recipe.hardener.basis is HardenerBasis.ON_TOP
        both = [f"{on_top} on top of the base", f"{of_finished} of the finished mix"]
        lines += number(
            made.hardener,
            f"{made.hardener.label}: {recipe.hardener.ingredient.replace('-', ' ')}",
            after=" = ".join(both if first else both[::-1]),
        )
    return lines


_DOSE_COLUMNS = (26, -9, 22, -9, 26)


def doses(plan: BatchPlan) -> list[str]:
    """What to draw, in which syringe, how far off it may be, and what carries it."""
    stage = plan.doses
    if not stage.doses:
        return []
    head = ("", "measure", "with", "within, 19 of 20", "level")
    lines = table([head, *map(_dose, stage.doses)], _DOSE_COLUMNS)
    lines += paragraph(f"Bridge: {bridge(plan)}.")
    for carried in stage.carriers:
        lines += number(carried.share)
        lines += paragraph(
            f"{carried.in_paste} In the lake: {carried.in_lake}", first="    ", then="    "
        )
    if len(stage.carriers) > 1:
        lines += number(stage.share)
    return lines


def dose_figure(one: LiquidDose) -> Figure:
    """What to measure out: a mark of a syringe, or a weight where there is none for it."""
    if one.fill is not None:
        return to_the_mark(one.fill)
    weight = figure(one.mass)
    return Figure(weight.number, weight.unit)


def tool_words(one: LiquidDose) -> str:
    """With what it is measured out; a thick extract by spoon too."""
    if one.fill is not None:
        return one.fill.tool.name
    if one.spoons is None:
        return "on the scale"
    low, high = (show(volume, "ml", 2) for volume in (one.spoons.low, one.spoons.high))
    spoons = f"{one.spoons.count} x {one.spoons.spoon.name}"
    return f"on the scale, or {spoons} ({low} to {high})"


def _dose(one: LiquidDose) -> tuple[str, ...]:
    error = "" if one.error is None else f"±{figure(one.error).text}"
    return (one.liquid.name, dose_figure(one).text, tool_words(one), error, one.liquid.level.text)


def cores_ready(plan: BatchPlan) -> int:
    """How many cores to lay out, for as many baits as there may be."""
    core = plan.request.recipe.bait.core
    each = 0 if core is None else core.count
    return each * round(band_of(plan.rolled.baits).high80)


def roll(plan: BatchPlan) -> list[str]:
    """The paste, the pinch, the count and the cores."""
    stage = plan.rolled
    lines = [line for one in stage.fillers for line in number(one)]
    lines += number(stage.paste)
    lines += number(stage.pinch, after="weigh the first two")
    lines += number(stage.dusting)
    lines += number(stage.baits)
    if plan.request.recipe.bait.core is not None:
        lines += row("cores to have ready", Figure(f"{cores_ready(plan)}", ""))
    lines += number(stage.lost)
    lines += number(stage.diameter)
    lines += number(stage.density)
    return lines


def boil(plan: BatchPlan) -> list[str]:
    """Seconds in the pot, what has set by then, and what each hardness costs."""
    stage = plan.boil
    chosen = plan.request.recipe.bait.hardness
    lines = number(stage.seconds, f"{stage.seconds.label}, {chosen}")
    lines += number(stage.set_seconds)
    for part in (stage.margin.whole, stage.margin.of_cook, stage.margin.of_baits):
        lines += number(part)
    lines += number(stage.set_share)
    lines += number(stage.when_lifted)
    lines += number(stage.peak)
    lines += paragraph(f"In the coldest paste, lifted and cold: {_core_set(stage)}", then="    ")
    lines += number(stage.decades)
    lines += number(stage.boiling_point)
    lines += number(stage.dips_to)
    depths = ", ".join(
        f"{show(depth, 'mm', 2)} at {seconds:.0f} s"
        for seconds, depth in zip(*_front(plan), strict=True)
    )
    lines += paragraph(f"{stage.front.label}, in from the surface: {depths}", then="    ")
    choices = [_option(option, chosen) for option in stage.options]
    return lines + table([("", "in the pot", stage.loss.label), *choices], _OPTIONS)


def _core_set(stage: BoilStage) -> str:
    """How far each protein and the starch have set, out of the pot and after carry-over."""
    parts = []
    for name in (field.name for field in fields(CoreSet)):
        lifted, cooled = getattr(stage.lifted, name), getattr(stage.cooled, name)
        parts.append(f"{lifted.label} {figure(lifted).text} and {figure(cooled).text}")
    return "; ".join(parts)


_OPTIONS = (24, -10, 40)


def _option(option: HardnessOption, chosen: Hardness) -> tuple[str, ...]:
    yours = " (yours)" if option.hardness is chosen else ""
    seconds, loss = figure(option.seconds), figure(option.loss)
    return (f"{option.hardness}{yours}", seconds.text, loss.with_band)


def _front(plan: BatchPlan) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Every other time of the set front, the advised one last."""
    front = plan.boil.front.value
    return front.seconds[1::2], front.depths[1::2]


def dry(plan: BatchPlan) -> list[str]:
    """The tray: how long, and what the baits are hour by hour."""
    stage = plan.dry
    lines = number(stage.time) if plan.day.dries else paragraph(NOT_HERE)
    lines += number(stage.ready, "ready, bait by bait")
    lines += _gain_or_loss(stage.loss)
    lines += number(stage.diameter)
    lines += number(stage.mass, "weight of a bait, dried")
    until = 2.0 * median_of(stage.time)
    points = [point for point in stage.curve if 0.0 < point.time <= until]
    head = ("on the tray", "lost", "weight of a bait")
    return lines + table([head, *map(_point, points)], _CURVE)


_CURVE = (14, 28, 30)


NOT_HERE = (
    "does not dry here: in this air the baits are not ready within four days, and what follows is "
    "how they are then"
)


def _gain_or_loss(loss: Quantity) -> list[str]:
    """Weight lost by the paste; in damp air it may be gained."""
    if median_of(loss) >= 0.0:
        return number(loss)
    return number(turned(loss), "weight gained by the paste")


def turned(loss: Quantity) -> Quantity:
    """A loss as a gain."""
    value = loss.value
    if isinstance(value, PerBatch | PerBait):
        return replace(loss, value=type(value)(-value.values))
    return replace(loss, value=-float(value))


def _point(point: DryingPoint) -> tuple[str, ...]:
    hours = f"{point.time / 3600.0:.0f} h"
    gains = median_of(point.loss) < 0.0
    shown = (
        f"gains {figure(turned(point.loss)).with_band}" if gains else figure(point.loss).with_band
    )
    return (hours, shown, figure(point.mass).with_band)
