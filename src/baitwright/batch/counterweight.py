"""Shot from the box: the best few of them for a pull, and the lead that a country limits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement

from baitwright.materials.cautions import Caution, raised
from baitwright.materials.hooks import lead_limited_in_britain
from baitwright.recipe.rig import Piece
from baitwright.terms.errors import InputError

MOST_PIECES = 4
"""Shot that one maker pinches onto one hook-link (judgement)."""
MOST_KINDS = 24
"""Kinds of shot one box is taken to hold, so that the search stays short."""
LEAD = "lead"
LEAD_TRIGGER = "lead-shot"
_BRITISH = ("GB", "England")
_TIE = 1e-7
"""Sums within a tenth of a milligram are alike, kg: the fewer pieces win."""


@dataclass(frozen=True, slots=True)
class Combination:
    """A few shot taken together, heaviest first, and their pull under water [kg]."""

    pieces: tuple[Piece, ...]
    pull: float

    @property
    def mass(self) -> float:
        """Their mass in air [kg]."""
        return sum(piece.mass for piece in self.pieces)


def combinations(stock: Sequence[Piece], *, water_density: float) -> Iterable[Combination]:
    """Every combination the box holds, of one to four pieces.

    Raises
    ------
    InputError: more kinds of shot than the search is made for.
    """
    if len(stock) > MOST_KINDS:
        raise InputError("shot", len(stock), f"at most {MOST_KINDS} kinds of shot")
    order = sorted(stock, key=lambda piece: -piece.mass)
    pulls = [piece.pull(water_density) for piece in order]
    for size in range(1, MOST_PIECES + 1):
        for picked in combinations_with_replacement(range(len(order)), size):
            if all(_enough(order[at], picked.count(at)) for at in set(picked)):
                total = sum(pulls[at] for at in picked)
                yield Combination(tuple(order[at] for at in picked), total)


def best_combination(
    stock: Sequence[Piece], aim: float, *, water_density: float
) -> Combination | None:
    """The combination that pulls as much as wanted and the least more; of alike ones the fewest.

    Parameters
    ----------
    stock: the kinds of shot in the box.
    aim: the least pull under water [kg].
    water_density: of the lake [kg/m3].

    Returns
    -------
    The combination; None where four of the heaviest do not reach the aim.
    """
    found = combinations(stock, water_density=water_density)
    enough = [one for one in found if one.pull >= aim - 1e-12]
    if not enough:
        return None
    least = min(one.pull for one in enough)
    alike = [one for one in enough if one.pull <= least + _TIE]
    return min(alike, key=lambda one: (len(one.pieces), one.pull))


def _enough(piece: Piece, wanted: int) -> bool:
    return piece.count is None or piece.count >= wanted


def barred(piece: Piece, country: str | None) -> bool:
    """Whether a piece is lead of a size that the country's rule covers; only Britain's is known."""
    return piece.metal == LEAD and country in _BRITISH and lead_limited_in_britain(piece.mass)


def holds_lead(stock: Iterable[Piece]) -> bool:
    """Whether any of a box is lead."""
    return any(piece.metal == LEAD for piece in stock)


def lead_cautions(stock: Iterable[Piece], country: str | None) -> tuple[Caution, ...]:
    """The cautions that lead in the box raises; those of every country where none is named."""
    if not holds_lead(stock):
        return ()
    return tuple(
        one for one in raised({LEAD_TRIGGER}, country or "") if one.trigger == LEAD_TRIGGER
    )
