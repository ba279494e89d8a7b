"""What is known beside a mix to be mended, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from baitwright.blending.clash import Clash
from baitwright.blending.moved import Moved
from baitwright.blending.rounding import Weighable
from baitwright.blending.search import Design
from baitwright.blending.trial_rolls import TrialRolls
from baitwright.learning.restart import Calibration
from baitwright.materials.factors import prior_factors
from baitwright.recipe.eggs import Eggs
from baitwright.terms.factors import FactorSet
from baitwright.terms.quantity import Quantity
from baitwright.workshop.mending.mend_asked import MendAsked
from baitwright.workshop.mixes.mix_analysis import Analysed


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What is known beside a mix to be mended.

    Parameters
    ----------
    now: for the name of a new set of factors.
    factors: the maker's own.
    eggs: to be rolled with; one of 50 ml where none are told.
    restart: factors of the whole kitchen that are to begin anew too.
    old_left: of the old finished mix [kg]; None where nobody told.
    """

    now: datetime
    factors: FactorSet = field(default_factory=prior_factors)
    eggs: tuple[Eggs, ...] = ()
    restart: tuple[str, ...] = ()
    old_left: float | None = None


@dataclass(frozen=True, slots=True)
class StandIn:
    """The mix that stands in: as found and for the scale, before and after, and what follows.

    ``left`` is the old mix with what the bags say now; ``weigh`` is what the test rolls take.
    """

    found: Design
    weighed: Weighable
    before: Analysed
    after: Analysed
    left: Analysed | None
    moved: tuple[Moved, ...]
    rolls: TrialRolls
    weigh: tuple[tuple[str, Quantity], ...]
    calibrations: tuple[Calibration, ...]
    factors: FactorSet

    def quantities(self) -> list[Quantity]:
        """Every number of it."""
        ends = [one for each in self.moved for one in (each.before, each.after, each.by)]
        rolled = [one for each in self.rolls.rolls for one in (each.dry_mix, each.paste)]
        weighed = [one for _, one in self.weigh]
        told = [*ends, *rolled, self.rolls.new_mix, *weighed]
        return [one for one in told if one is not None]


@dataclass(frozen=True, slots=True)
class Mended:
    """What came of mending; where the wishes of a file clash, ``clash`` says why."""

    asked: MendAsked
    made: StandIn | None
    clash: Clash | None = None
