"""A request and the plan that answers it: what is asked, what was worked out, what it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from baitwright.batch.balance import BalanceStage, Tray
from baitwright.batch.boil import BoilStage
from baitwright.batch.cautions import CautionStage
from baitwright.batch.coat import CoatStage
from baitwright.batch.day import DayPlan
from baitwright.batch.dose import DoseStage
from baitwright.batch.dry import DryStage
from baitwright.batch.eggs import EggsStage
from baitwright.batch.glug import GlugStage
from baitwright.batch.keep import KeepStage
from baitwright.batch.match import MatchStage
from baitwright.batch.mix import MixStage
from baitwright.batch.on_rig import OnRig
from baitwright.batch.prove import ASKED, EARLY, Measurement
from baitwright.batch.roll import RollStage
from baitwright.batch.soak import SoakStage
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Recipe
from baitwright.terms.factors import FactorSet
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """Everything a plan depends on; the same request gives the same plan."""

    recipe: Recipe
    bench: Bench
    factors: FactorSet
    draws: Draws = Draws()


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """A batch worked through, stage by stage, with what it was asked and what it rests on."""

    request: PlanRequest
    version: str
    eggs: EggsStage
    mix: MixStage
    doses: DoseStage
    rolled: RollStage
    tub_used: Quantity
    tub_left: Quantity
    boil: BoilStage
    coat: CoatStage | None
    dry: DryStage
    glug: GlugStage | None
    keep: KeepStage
    water: BalanceStage
    rig: OnRig | None
    soak: SoakStage
    day: DayPlan
    free_bait: MatchStage | None
    care: CautionStage
    readings: tuple[Measurement, ...]
    notes: tuple[Note, ...]

    @property
    def prove(self) -> tuple[Measurement, ...]:
        """The readings the plan asks for; none for an hour when the baits have left the tray."""
        late = () if median_of(self.dry.time) >= EARLY else ("twenty_at_8h",)
        return tuple(one for one in self.readings if one.name in ASKED and one.name not in late)

    @property
    def tray(self) -> Tray:
        """The bait as it is fished: with its coat and glug, where it has any."""
        fresh = self.boil.bait if self.coat is None else self.coat.bait
        return Tray(self.rolled, fresh, self.dry if self.glug is None else self.glug.dried)

    @property
    def hung(self) -> Quantity:
        """What hangs on the bait, under water: its hook, or the whole rig where that is told."""
        return self.water.hook if self.rig is None else self.rig.stage.hung

    def quantities(self) -> Iterator[Quantity]:
        """Every number of the plan, in the order of its stages."""
        yield from quantities_in(self)

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of everything the plan's numbers rest on."""
        keys = {part.source for quantity in self.quantities() for part in quantity.walk()}
        keys |= {note.source for note in self.notes}
        keys |= {caution.source for caution in self.care.cautions}
        return tuple(sorted(keys))


def quantities_in(node: Any) -> Iterator[Quantity]:
    """Every quantity of a plan, a stage or a tuple of them, in the order of its fields."""
    if isinstance(node, Quantity):
        yield node
    elif isinstance(node, tuple):
        for part in node:
            yield from quantities_in(part)
    elif is_dataclass(node) and not isinstance(node, PlanRequest | type):
        for field in fields(node):
            yield from quantities_in(getattr(node, field.name))
