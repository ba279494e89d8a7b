"""What a batch really used: what is told of it, and what was planned of all else."""

from __future__ import annotations

from dataclasses import replace

from baitwright.ledger.movements import Amount, Counted
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_needs import Part, Wish, mass
from baitwright.workshop.forms.readings_file import tub_used
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.typed.nearest import nearest, plain_name

STOCK = ("baits_made", "baits_good", "drawn", "eggs", "tub_used", "tub_before", "tub_after")
"""What the shelf is drawn down by."""


def really_used(planned: tuple[Wish, ...], told: BatchTable) -> tuple[Wish, ...]:
    """What was used: what is told of it, and what was planned of all else.

    Eggs that are told are all the whole ones, of whatever grade; parts of eggs stay as planned.

    Raises
    ------
    InputError: a liquid that the batch was not planned with.
    """
    _refuse_unplanned(planned, told)
    used = [replace(one, amounts=_amounts(one, told)) for one in planned]
    whole = [at for at, one in enumerate(planned) if _is_whole_eggs(one)]
    if told.eggs is not None and whole:
        first, *others = whole
        weighed = (Amount(len(told.eggs), Counted.PIECES), mass(sum(told.eggs)))
        used[first] = replace(used[first], amounts=weighed)
        for at in others:
            used[at] = replace(used[at], amounts=())
    return tuple(used)


def _is_whole_eggs(wish: Wish) -> bool:
    return wish.part is Part.EGGS and wish.counted_as(Counted.PIECES) is not None


def _amounts(wish: Wish, told: BatchTable) -> tuple[Amount, ...]:
    used = tub_used(told)
    if wish.part is Part.MIX and used is not None:
        return (mass(used),)
    if wish.part is Part.LIQUID:
        drawn = _by_plain_name(told).get(plain_name(wish.name))
        return wish.amounts if drawn is None else _both_ways(wish, drawn)
    if wish.part is Part.CORE and told.baits_made is not None:
        return (Amount(told.baits_made * wish.per_bait, Counted.PIECES),)
    return wish.amounts


def _refuse_unplanned(planned: tuple[Wish, ...], told: BatchTable) -> None:
    """A liquid that nobody planned is a slip of the pen, and its stock would be left as it is."""
    known = [one.name for one in planned if one.part is Part.LIQUID]
    for name, drawn in (told.drawn or {}).items():
        if plain_name(name) not in map(plain_name, known):
            near = nearest(name, known, most=1)
            hint = f"Nearest: {near[0]!r}." if near else "Another liquid needs a recipe of its own."
            accepted = f"a liquid of the recipe: {', '.join(known) or 'it has none'}"
            raise InputError(f"drawn.{name}", drawn.units, accepted, hint=hint)


def _by_plain_name(told: BatchTable) -> dict[str, Amount]:
    return {plain_name(name): one for name, one in (told.drawn or {}).items()}


def _both_ways(wish: Wish, drawn: Amount) -> tuple[Amount, ...]:
    """A liquid by volume and by weight, at the density that it was planned with."""
    planned = wish.counted_as(drawn.counted)
    if planned is None or planned.units == 0:
        return (drawn,)
    return tuple(
        drawn
        if one.counted is drawn.counted
        else replace(one, units=round(one.units * drawn.units / planned.units))
        for one in wish.amounts
    )
