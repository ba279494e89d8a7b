"""What a dry mix costs by the kilogram and for one egg, in the maker's own money."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from baitwright.blending.components import Component, InBowl
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import MONEY_PER_EGG, MONEY_PER_KILOGRAM, PERCENT

_BOOK = Backing(Origin.GIVEN, "maker", Evidence.MEASURED, "as told, or what the shelf paid for it")


@declared(
    "part_costs",
    label="what a part costs",
    unit=MONEY_PER_KILOGRAM,
    equation="raw share / base passing / (1 + hardener on top) x price",
    source="definition",
    note="what the sieve holds back is paid for by what passes",
)
def part_costs(raw: Any, passing: Any, on_top: Any, price: Any) -> Any:
    """What an ingredient of the base costs a kilogram of dry mix."""
    return raw / passing / (1.0 + on_top) * price


@declared(
    "hardener_costs",
    label="what the hardener costs",
    unit=MONEY_PER_KILOGRAM,
    equation="share of the mix x price",
    source="definition",
)
def hardener_costs(share: Any, price: Any) -> Any:
    """What the hardener costs a kilogram of dry mix."""
    return share * price


@declared(
    "mix_costs",
    label="dry mix costs",
    unit=MONEY_PER_KILOGRAM,
    equation="the sum over its parts",
    source="definition",
)
def mix_costs(**parts: Any) -> Any:
    """What a kilogram of dry mix costs."""
    return sum(parts.values(), 0.0)


@declared(
    "mix_costs_per_egg",
    label="dry mix for one egg costs",
    unit=MONEY_PER_EGG,
    equation="cost x dry mix per egg",
    source="definition",
    note="without the egg",
)
def mix_costs_per_egg(per_kilogram: Any, dry_mix: Any) -> Any:
    """What the dry mix that one egg takes up costs."""
    return per_kilogram * dry_mix


@dataclass(frozen=True, slots=True)
class Cost:
    """Cost per kilogram and per egg; None where a price is unknown, with the names of those."""

    per_kilogram: Quantity | None
    per_egg: Quantity | None
    unpriced: tuple[str, ...]


def cost_of(bowl: InBowl, dry_mix: Quantity) -> Cost:
    """What a dry mix costs; a price nobody told is unknown and not nothing.

    ``dry_mix`` is what one egg takes up [kg].
    """
    unpriced = tuple(one.name for one in bowl.parts if one.price is None)
    if unpriced:
        return Cost(None, None, unpriced)
    parts = {f"part_{at}": _costs(one, bowl) for at, one in enumerate(bowl.parts, start=1)}
    whole = mix_costs(**parts)
    return Cost(whole, mix_costs_per_egg(per_kilogram=whole, dry_mix=dry_mix), ())


def _costs(one: Component, bowl: InBowl) -> Quantity:
    label = f"{one.name} costs"
    price = given(
        "price", one.price, label=f"price of {one.name}", unit=MONEY_PER_KILOGRAM, backing=_BOOK
    )
    if one.raw is None:
        return hardener_costs(share=one.share, price=price).labelled(label)
    raw = given("raw_share", one.raw, label=f"{one.name}, of the base", unit=PERCENT)
    made = part_costs(raw=raw, passing=bowl.passing, on_top=bowl.on_top, price=price)
    return made.labelled(label)
