"""Which lots a batch was made of, and which the next will take, for factors that go by the lot."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace

from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.dose_notes import STRENGTH
from baitwright.ledger.movements import Amount
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page, Revision
from baitwright.recipe.eggs import EggKind
from baitwright.terms.factors import FactorSet
from baitwright.workshop.batches.batch_needs import EGGS, Part, core_name
from baitwright.workshop.batches.batches import wishes_of
from baitwright.workshop.shelf.drawing import Need, picked
from baitwright.workshop.shelf.lots import LOT, Lot
from baitwright.workshop.shelf.stock import counted_as, item_named
from baitwright.workshop.typed.nearest import alike

EGG, CORE, COARSE = "egg_volume", "core_density", "coarse_fraction"
_PARTS: Mapping[str, Part] = {EGG: Part.EGGS, CORE: Part.CORE, COARSE: Part.MIX}
"""What of a batch a factor goes by the lot of."""


def lots_of(page: Page, batches: Collection[Revision]) -> Mapping[str, Mapping[str, str]]:
    """By batch and factor's key, the lot it was made of, or whose eggs; where of one only."""
    links = page.links_into(Stop.BATCH, (one.name for one in batches))
    lots = {
        one.name: Lot(**(one.body or {}))
        for one in page.named(LOT, (link.source.name for link in links))
    }
    went: dict[str, list[str]] = defaultdict(list)
    for link in links:
        if link.source.name in lots:
            went[link.into.name].append(link.source.name)
    return {one.name: dict(_by_key(one, went[one.name], lots)) for one in batches}


def _by_key(
    batch: Revision, went: Iterable[str], lots: Mapping[str, Lot]
) -> Iterator[tuple[str, str]]:
    wanted = wishes_of(batch)
    for key, part in _PARTS.items():
        names = {alike(one.name) for one in wanted if one.part is part}
        told = {called(key, one, lots[one]) for one in went if alike(lots[one].item) in names}
        if len(told) == 1:
            yield key, told.pop()


def called(key: str, name: str, lot: Lot) -> str:
    """What a factor calls a lot: eggs by their supplier, all else by the lot on its label."""
    return lot.supplier if key == EGG else lot.supplier_lot or name


def for_lots_ahead(page: Page, request: PlanRequest) -> PlanRequest:
    """The request with the factors of those lots that its batch will take first."""
    found = {}
    for key, about, name in _asked(request):
        told = _tells_lots(request.factors, key, about)
        lot = _first_to_go(page, name, request) if told else None
        if lot is not None:
            found[key, about] = called(key, lot.name, Lot(**(lot.body or {})))
    return replace(request, factors=request.factors.in_lots(found))


def _asked(request: PlanRequest) -> Iterator[tuple[str, str, str]]:
    """Factor's key and thing, and what the shelf calls it."""
    recipe = request.recipe
    for eggs in request.bench.eggs:
        if eggs.kind is not EggKind.EGG_FREE:
            yield EGG, eggs.grade or "", EGGS[eggs.kind]
    if recipe.bait.core is not None:
        core = recipe.bait.core
        yield CORE, core.material, core_name(core.material, core.diameter)
    yield COARSE, recipe.base.name, recipe.base.name
    for liquid in recipe.liquids:
        yield STRENGTH, liquid.name, liquid.name


def _tells_lots(factors: FactorSet, key: str, about: str) -> bool:
    """Whether lots of a thing are told apart at all, before the shelf is asked."""
    start = f"{about}, " if about else ""
    return any(
        one.key == key and one.about != about and one.about.startswith(start)
        for one in factors.factors
    )


def _first_to_go(page: Page, name: str, request: PlanRequest) -> Revision | None:
    item = item_named(page, name)
    if item is None:
        return None
    least = Need(item, Amount(1, counted_as(page, item)))
    lots = picked(page, least, day=request.bench.now.date()).lots
    return page.latest(LOT, lots[0][0]) if lots else None
