"""Several liquids in one bait: the sum of their carriers, and the limit that is met first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.materials.liquids import Carrier
from baitwright.quantities import show, tidy
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.typed.unstated import CARRIER


@dataclass(frozen=True, slots=True)
class Together:
    """Carriers with their volumes [m3], and each level as a share of the most usual of its kind.

    ``carriers`` counts every liquid whole: how much of it is flavour only its maker knows.
    """

    carriers: tuple[tuple[Carrier, float], ...]
    filled: tuple[tuple[Answer, float], ...]

    @property
    def sum(self) -> float:
        """All shares together; 1 stands for the most that is usual of one alone (judgement)."""
        return math.fsum(share for _, share in self.filled)

    @property
    def strongest(self) -> Answer:
        """The one nearest to its own limit, or furthest beyond it."""
        return max(self.filled, key=lambda pair: pair[1])[0]


def together(found: Levels) -> Together:
    """All levels of an answer in one bait."""
    sums: dict[str, tuple[Carrier, float]] = {}
    for one in found.answers:
        _, before = sums.get(one.carrier.id, (one.carrier, 0.0))
        sums[one.carrier.id] = (one.carrier, before + one.dose.volume)
    return Together(
        tuple(sums.values()), tuple((one, _filled(one, found)) for one in found.answers)
    )


def _filled(answer: Answer, found: Levels) -> float:
    dose = answer.dose
    amount = dose.mass if answer.range.unit == "g" else dose.volume
    return amount / found.bowl.count / answer.usual[1]


def together_lines(found: Levels) -> Iterator[str]:
    """What is told of several liquids in one bait; nothing of one alone."""
    if len(found.answers) < 2:
        return
    total, each = (show(one, "ml") for one in (found.liquids, found.liquids / found.bowl.count))
    yield f"All liquids: {total}, {each} an egg, {show(found.share, '%', 2)} of the paste."
    made = together(found)
    amounts = ", ".join(f"{show(volume, 'ml')} of {_name(row)}" for row, volume in made.carriers)
    yield f"Carriers: at most {amounts}, every liquid counted whole."
    shares = ", ".join(f"{one.liquid.name} {tidy(100 * share, 2)} %" for one, share in made.filled)
    first = made.strongest
    hard = ", which makers hold for a limit" if first.range.hard_limit else ""
    yield (
        f"Of the most that is usual of each alone in a {found.use}: {shares}; together "
        f"{tidy(100 * made.sum, 2)} %. {first.liquid.name} meets its own first{hard}."
    )
    if made.sum > 1.0 + 1e-9:
        part = tidy(100 / made.sum, 2)
        yield f"At {part} % of these levels they share one bait's worth (judgement)."


def _name(row: Carrier) -> str:
    return "a carrier not stated" if row.id == CARRIER else row.name
