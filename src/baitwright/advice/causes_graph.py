"""The numbers of a plan as they hang together: followed upward, and worked out again moved."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from baitwright.terms.quantity import Quantity, identity, maker_of

Key = tuple[object, ...]
"""A number under its name: one that bears several labels is moved under all of them."""


def key_of(quantity: Quantity) -> Key:
    """What tells one number of a plan from the others."""
    name, _, value = identity(quantity)
    return (name, value)


@dataclass(slots=True)
class Again:
    """A plan's numbers worked out again with some of them moved; what does not hang on them stays.

    Each computed number is made by the declared function that made it first.
    """

    moved: Mapping[Key, Any]
    _made: dict[tuple[object, ...], Quantity] = field(default_factory=dict)

    def of(self, quantity: Quantity) -> Quantity:
        """One number as it is now.

        Raises
        ------
        ComputationError: no function is declared to make something that has to be made again.
        """
        known = identity(quantity)
        if known not in self._made:
            self._made[known] = self._make(quantity)
        return self._made[known]

    def _make(self, quantity: Quantity) -> Quantity:
        key = key_of(quantity)
        if key in self.moved:
            return replace(quantity, value=self.moved[key])
        parts = {role: self.of(part) for role, part in quantity.inputs}
        if all(parts[role] is part for role, part in quantity.inputs):
            return quantity
        made = maker_of(quantity)(**parts)
        return replace(quantity, value=made.value, inputs=made.inputs)


def ends_of(quantity: Quantity, held: Collection[str] = ()) -> Iterator[Quantity]:
    """Where a walk up from a number ends: what was not computed, and what is held; each once."""
    seen: set[tuple[object, ...]] = set()
    waiting = [quantity]
    while waiting:
        one = waiting.pop()
        if identity(one) in seen:
            continue
        seen.add(identity(one))
        if not one.inputs or one.name in held:
            yield one
        else:
            waiting.extend(part for _, part in one.inputs)


def path_to(quantity: Quantity, key: Key) -> tuple[str, ...]:
    """The labels from a number, by its key, down to another: the shortest way."""
    waiting: list[tuple[Quantity, ...]] = [(quantity,)]
    seen = {identity(quantity)}
    for way in waiting:
        last = way[-1]
        if key_of(last) == key:
            return tuple(dict.fromkeys(one.label for one in reversed(way)))
        for _, part in last.inputs:
            if identity(part) not in seen:
                seen.add(identity(part))
                waiting.append((*way, part))
    return ()


@dataclass(frozen=True, slots=True)
class Other:
    """A number as it is in one plan and as it was in another."""

    now: Quantity
    then: Quantity


def others(now: Quantity, then: Quantity) -> Iterator[Other]:
    """Where two plans begin to differ: both are walked up together, input beside input.

    A number that was made another way is told as it stands; what is the same on both sides is not.
    """
    seen: set[tuple[tuple[object, ...], tuple[object, ...]]] = set()
    waiting = [(now, then)]
    while waiting:
        one, other = waiting.pop()
        pair = (identity(one), identity(other))
        if pair in seen or (pair[0][2] == pair[1][2] and not one.inputs):
            continue
        seen.add(pair)
        mine, theirs = dict(one.inputs), dict(other.inputs)
        if one.name != other.name or not mine or mine.keys() != theirs.keys():
            if key_of(one) != key_of(other):
                yield Other(one, other)
        else:
            waiting.extend((mine[role], theirs[role]) for role in mine)
