"""A mix as text, page and table show it: the same numbers in the same digits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.blending.bases import Basis
from baitwright.blending.blend import lacking
from baitwright.materials.sieves import sieve
from baitwright.quantities import show
from baitwright.terms.notes import Note
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.mixes.mix_analysis import Analysed
from baitwright.workshop.mixes.mix_parts import PartShown, part_shown
from baitwright.workshop.told.number_shown import Number, number_of

_ORDER = (
    *("protein", "fat", "carbohydrate", "fibre", "ash", "water"),
    *("gross energy", "metabolisable energy", "water holding"),
)


@dataclass(frozen=True, slots=True)
class MixShown:
    """Everything a maker is shown of a mix.

    ``bases`` has, figure by figure, a number for each of `Basis` or None where it is none; ``size``
    of a part or class is its share, for a picture.
    """

    name: str
    about: str
    is_invented: bool
    parts: tuple[PartShown, ...]
    bases: tuple[tuple[str, tuple[Number | None, ...]], ...]
    unknown: tuple[str, ...]
    classes: tuple[tuple[str, Number, float], ...]
    weights: tuple[Number, ...]
    binding: tuple[Number, ...]
    cost: tuple[Number, ...]
    unpriced: tuple[str, ...]
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    allergens_known: bool
    held: tuple[tuple[str, Number, Number], ...]
    remarks: tuple[Note, ...]
    cold: tuple[Note, ...]


def mix_shown(found: Analysed, *, is_invented: bool = False) -> MixShown:
    """What is shown of a mix to its maker."""
    made = found.made
    bound = made.binding
    others = (made.bowl.dry_mix, made.bowl.egg, made.bases.left, *made.bases.densities.values())
    loose = () if made.bulk_density is None else (made.bulk_density,)
    cost = (made.cost.per_kilogram, made.cost.per_egg)
    return MixShown(
        name=found.asked.told.base.name,
        about=_about(found),
        is_invented=is_invented,
        parts=tuple(part_shown(one) for one in made.mix.parts),
        bases=tuple(bases_shown(found)),
        unknown=tuple(unknown(found)),
        classes=_classes(found),
        weights=tuple(number_of(one) for one in (*others, *loose, made.grains)),
        binding=()
        if bound is None
        else tuple(number_of(one) for one in (bound.setting, bound.hydrating, bound.gelling)),
        cost=tuple(number_of(one) for one in cost if one is not None),
        unpriced=made.cost.unpriced,
        contains=tuple(one.name for one in made.contains.certain),
        may_contain=tuple(one.name for one in made.contains.possible),
        allergens_known=made.contains.known,
        held=tuple(
            (one.limit.text, number_of(one.chance), number_of(one.figure)) for one in found.held
        ),
        remarks=found.remarks,
        cold=found.cold,
    )


def bases_shown(found: Analysed) -> Iterator[tuple[str, tuple[Number | None, ...]]]:
    """Every figure on every basis it has."""
    figures = found.made.bases.figures
    for name in _ORDER:
        cells = tuple(
            None if one is None else number_of(one, label=one.label)
            for one in (figures[basis].get(name) for basis in Basis)
        )
        if any(cells):
            yield name, cells


def unknown(found: Analysed) -> Iterator[str]:
    """What is unknown of the mix, and for want of what; the rarest figures go without a word."""
    for name, lack in found.made.missing.items():
        if name == "water holding":
            continue
        yield f"{name} of the mix: not told of {_few(lack)}"
    poured = lacking(found.made.mix.parts, "bulk density")
    if poured:
        yield f"how loosely the mix pours: not told of {_few(poured)}"


def _few(names: tuple[str, ...]) -> str:
    return "; ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


def _about(found: Analysed) -> str:
    told, mix = found.asked.told, found.made.mix
    on_top = median_of(mix.on_top)
    through = f"through the {sieve(told.sieve).name}" if told.sieve else "not sieved"
    hardener = f"{show(on_top, '%')} hardener on top" if on_top else "no hardener"
    return f"Known by {mix.known}; {through}, {hardener}."


def _classes(found: Analysed) -> tuple[tuple[str, Number, float], ...]:
    classes = found.made.classes or {}
    ranked = sorted(classes.items(), key=lambda pair: -median_of(pair[1]))
    return tuple((role, number_of(share), median_of(share)) for role, share in ranked)
