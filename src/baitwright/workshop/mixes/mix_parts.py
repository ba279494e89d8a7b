"""One part of a mix as it is shown: its share, class and price, and its label beside the table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.blending.components import Component
from baitwright.sheets.wording import in_unit, unit_word
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.told.number_shown import Number, number_of


@dataclass(frozen=True, slots=True)
class PartShown:
    """One part of the dry mix; ``labelled`` tells each figure of its bag beside the table's."""

    name: str
    role: str
    share: Number
    size: float
    evidence: str
    price: str = ""
    labelled: tuple[str, ...] = ()


def part_shown(one: Component) -> PartShown:
    """A part as it is shown."""
    row = one.row
    if row is None or one.candidate is None:
        return PartShown(one.name, "bought base", number_of(one.share), median_of(one.share), "")
    price = "" if one.price is None else f"{one.price:.2f}"
    return PartShown(
        name=one.name,
        role=row.role,
        share=number_of(one.share),
        size=median_of(one.share),
        evidence=str(row.evidence),
        price=price,
        labelled=tuple(_both(one)),
    )


def _both(one: Component) -> Iterator[str]:
    """The label's figure beside the table's, for every figure that the label changes."""
    assert one.candidate is not None
    for name, (before, after) in one.candidate.overridden.items():
        unit = one.figures[name].shown
        texts = [
            "nothing" if end is None else f"{in_unit(end, unit):.4g} {unit_word(unit)}"
            for end in (after, before)
        ]
        yield f"{name} {texts[0]} by its label, {texts[1]} in the table"
