"""Costs in words and for programs: each part with its share of the whole."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from baitwright.ledger.cost import Part
from baitwright.workshop.costs.costs import Told
from baitwright.workshop.told.worth_words import as_json, in_percent, known, money, percent, worth
from baitwright.workshop.typed.amounts import in_words


def cost_text(told: Told, *, of: str, each: str) -> str:
    """What something cost.

    Parameters
    ----------
    told: the cost.
    of: what it is, such as "batch".
    each: what it gave, such as "bait".
    """
    cost = told.cost
    parts = [
        f"  {part.item}: {in_words(part.amount, told.units[part.item])}, {_part(part, told)}"
        for part in sorted(cost.parts, key=lambda part: -part.value)
    ]
    total = worth(cost.total, sum(told.unpriced.values()))
    lines = [f"{of} {told.name}, {cost.baits} {each}s: {total}", *parts]
    return "\n".join((*lines, *worked_out(told, each=each)))


def worked_out(told: Told, *, each: str) -> Iterator[str]:
    """What each one cost, what was lost, and a bag where one is told, a line each."""
    cost, bag = told.cost, told.bag
    yield f"each {each}: {money(cost.per_bait, whole=told.whole, digits=4)}"
    if told.rolled and told.rolled > cost.baits:
        yield f"{told.rolled - cost.baits} of {told.rolled} rolled were lost in the making"
    if told.lost > 0:
        yield f"{told.lost} lost; {borne(told, each)}"
    if bag is not None:
        total, baits = (
            money(one, whole=told.whole, digits=digits)
            for one, digits in ((bag.total, 2), (bag.baits, 4))
        )
        yield f"a bag: {total}, baits {baits}, bag {bag.packing:.4f}"


def cost_json(told: Told, *, of: str, each: str) -> str:
    """The same for programs; money as text, so that no digit is lost."""
    cost = told.cost
    data: dict[str, Any] = {of: told.name, "total": known(cost.total, whole=told.whole)}
    data |= {f"{each}s": cost.baits, f"per_{each}": known(cost.per_bait, whole=told.whole)}
    data |= {"all_known": told.whole, "lots_without_price": sum(told.unpriced.values())}
    data |= {"rolled": told.rolled, "lost": told.lost}
    data["parts"] = [
        {
            "item": part.item,
            "amount": part.amount,
            "unit": told.units[part.item].value,
            "value": known(part.value, whole=part.item not in told.unpriced),
            "lots_without_price": told.unpriced.get(part.item, 0),
            "percent": in_percent(share_of(part, told)),
        }
        for part in cost.parts
    ]
    if told.bag is not None:
        bag = told.bag
        data["bag"] = {"baits": bag.baits, "packing": bag.packing, "total": bag.total}
    return as_json(data)


def _part(part: Part, told: Told) -> str:
    value = money(part.value, whole=part.item not in told.unpriced)
    return f"{value}, {percent(share_of(part, told))} of it" if told.whole else value


def share_of(part: Part, told: Told) -> Decimal | None:
    """Of the whole; nothing where not all of that is known."""
    return part.value / told.cost.total if told.whole and told.cost.total else None


def borne(told: Told, each: str) -> str:
    """What losing some leaves to be borne by the rest."""
    rest = told.cost.baits - told.lost
    if each != "bait":
        return "the rest bear it"
    if rest <= 0:
        return "none left"
    each_bears = money(told.cost.total / rest, whole=told.whole, digits=4)
    return f"each of the {rest} left bears {each_bears}"
