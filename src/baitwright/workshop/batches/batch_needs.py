"""What a planned batch takes off the shelf, by the names of its recipe."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.page import Page
from baitwright.recipe.eggs import EggKind
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.workshop.shelf.drawing import Need
from baitwright.workshop.shelf.stock import counted_as, item_named
from baitwright.workshop.typed.nearest import alike

_MILLIGRAMS, _MICROLITRES = 1e6, 1e9
EGGS = {
    EggKind.WHOLE: "eggs",
    EggKind.WHITE: "egg white",
    EggKind.YOLK: "egg yolk",
    EggKind.CARTON: "liquid egg",
}


def baits_of(recipe: str) -> str:
    """What the baits of a recipe are called on the shelf."""
    return f"{recipe} baits"


class Part(StrEnum):
    """What a thing is to a batch."""

    MIX = "dry mix"
    EGGS = "eggs"
    LIQUID = "liquid"
    CORE = "core"


@dataclass(frozen=True, slots=True)
class Wish:
    """So much of something for one part of a batch, in each way a shelf may count it.

    ``per_bait`` is how many pieces of it one bait takes, of cores.
    """

    part: Part
    name: str
    amounts: tuple[Amount, ...]
    per_bait: int = 0

    @classmethod
    def of(cls, told: Mapping[str, Any]) -> Wish:
        """A wish as a record has it."""
        amounts = tuple(Amount(one["units"], Counted(one["counted"])) for one in told["amounts"])
        return cls(Part(told["part"]), told["name"], amounts, told["per_bait"])

    def counted_as(self, counted: Counted) -> Amount | None:
        """The amount in the unit of the shelf; nothing where the plan does not tell it."""
        return next((one for one in self.amounts if one.counted is counted), None)


@dataclass(frozen=True, slots=True)
class Planned:
    """A batch that was planned: what is spoken for, what is short, what the shelf has not."""

    name: str
    reserved: tuple[tuple[str, str, int], ...]
    short: tuple[Need, ...]
    missing: tuple[str, ...]


def wishes(plan: BatchPlan) -> tuple[Wish, ...]:
    """Everything that a planned batch takes: dry mix, eggs, liquids and cores."""
    return (
        Wish(Part.MIX, plan.mix.name, (mass(median_of(plan.tub_used)),)),
        *_eggs(plan),
        *(
            Wish(Part.LIQUID, one.liquid.name, _either(one.mass, one.volume))
            for one in plan.doses.doses
        ),
        *_cores(plan),
    )


def wanted_from_shelf(page: Page, wanted: tuple[Wish, ...]) -> tuple[Need, ...]:
    """Those wishes that the shelf has an item for, under its name and in its unit."""
    found = []
    for wish in wanted:
        item = item_named(page, wish.name)
        amount = None if item is None else wish.counted_as(counted_as(page, item))
        if item is not None and amount is not None and amount.units > 0:
            found.append(Need(item, amount))
    return tuple(found)


def not_on_shelf(wanted: Iterable[Wish], needs: Iterable[Need]) -> tuple[str, ...]:
    """What was wished for and is no need, for the shelf has no item of the name."""
    there = {alike(one.item) for one in needs}
    return tuple(one.name for one in wanted if alike(one.name) not in there)


def _eggs(plan: BatchPlan) -> Iterator[Wish]:
    """Eggs by their count, and by their weight where the shelf weighs them."""
    for lot in plan.eggs.lots:
        kind = EggKind(lot.form.id)
        amounts: tuple[Amount, ...] = (mass(median_of(lot.mass)),)
        if kind is EggKind.WHOLE:
            amounts = (Amount(math.ceil(median_of(lot.count)), Counted.PIECES), *amounts)
        if kind is not EggKind.EGG_FREE:  # albumen is weighed, its water comes from the tap
            yield Wish(Part.EGGS, EGGS[kind], amounts)


def _cores(plan: BatchPlan) -> Iterator[Wish]:
    core = plan.request.recipe.bait.core
    if core is not None:
        count = round(median_of(plan.rolled.baits)) * core.count
        amounts = (Amount(count, Counted.PIECES),)
        yield Wish(Part.CORE, core_name(core.material, core.diameter), amounts, core.count)


def core_name(material: str, diameter: float) -> str:
    """What a core is called on the shelf, such as "cork-ball 9 mm"."""
    return f"{material} {diameter * 1000:g} mm"


def _either(kilograms: Quantity, cubic_metres: Quantity) -> tuple[Amount, Amount]:
    return (mass(median_of(kilograms)), volume(median_of(cubic_metres)))


def mass(kilograms: float) -> Amount:
    """A weight as the shelf counts it."""
    return Amount(round(kilograms * _MILLIGRAMS), Counted.MILLIGRAMS)


def volume(cubic_metres: float) -> Amount:
    """A volume as the shelf counts it."""
    return Amount(round(cubic_metres * _MICROLITRES), Counted.MICROLITRES)


def predicted_of(made: BatchPlan) -> dict[str, list[float]]:
    """The band of four cases in five of each reading that can be taken, in SI."""
    bands = {one.name: band_of(one.predicted) for one in made.readings}
    return {name: [band.low80, band.median, band.high80] for name, band in bands.items()}
