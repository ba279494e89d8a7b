"""How much for these eggs: doses, marks, expected errors, and each level on every basis.

Answers at once: plain floats and tables only, errors in closed form.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from baitwright.materials.liquids import Carrier, LevelRange, carrier, level_range
from baitwright.materials.tools import Draw
from baitwright.recipe.dosing import Judged, judge, measure_out, usual_range
from baitwright.recipe.liquid import Liquid
from baitwright.workshop.levels.bases import Basis, on_every_basis
from baitwright.workshop.levels.bridges import Bridges
from baitwright.workshop.levels.levels_request import LevelsRequest
from baitwright.workshop.levels.quick_bowl import Bowl
from baitwright.workshop.levels.quick_dose import Dose, dose_for

TABLE_EGGS = range(1, 13)


@dataclass(frozen=True, slots=True)
class Row:
    """So many eggs like these, and the dose in one fill where a syringe takes it."""

    eggs: int
    dose: float
    fill: Draw | None


@dataclass(frozen=True, slots=True)
class Answer:
    """One level answered."""

    liquid: Liquid
    carrier: Carrier
    dose: Dose
    bases: tuple[Basis, ...]
    range: LevelRange
    usual: tuple[float, float]
    remark: str | None
    table: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Levels:
    """Every level answered for one bowl, through one bridge; and all liquids together."""

    bowl: Bowl
    bridges: Bridges
    use: str
    answers: tuple[Answer, ...]
    liquids: float

    @property
    def share(self) -> float:
        """All liquids as a share of the paste by weight."""
        return self.bridges.middle.other_liquids / self.bridges.middle.paste


def levels(request: LevelsRequest) -> Levels:
    """Answer for every level how much it comes to, and what it is on every other basis."""
    bridges = Bridges.through(request.liquids, request.bowl, request.dry_mix)
    answers = tuple(_answer(liquid, request, bridges) for liquid in request.liquids)
    together = math.fsum(answer.dose.volume for answer in answers)
    return Levels(request.bowl, bridges, request.use, answers, together)


def _answer(liquid: Liquid, request: LevelsRequest, bridges: Bridges) -> Answer:
    middle = bridges.middle
    dose = dose_for(liquid, request, bridges)
    judged = Judged(liquid.name, liquid.level, liquid.strength, liquid.drops_per_volume)
    shares = [(n, n / request.bowl.count) for n in TABLE_EGGS]
    return Answer(
        liquid=liquid,
        carrier=carrier(liquid.carrier),
        dose=dose,
        bases=on_every_basis(liquid, bridges, request.bowl),
        range=level_range(liquid.strength, request.use),
        usual=usual_range(judged, request.use, middle),
        remark=judge(judged, use=request.use, bridge=middle),
        table=tuple(
            Row(
                eggs=n,
                dose=share * dose.middle,
                fill=measure_out(share * dose.volume, request.shelf) if not liquid.thick else None,
            )
            for n, share in shares
        ),
    )
