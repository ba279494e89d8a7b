"""From the readings of one batch: first how the predictions did, then which factors should move."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from baitwright.batch.batch_plan import BatchPlan
from baitwright.learning.evidence import Taken, evidence_for
from baitwright.learning.plain_evidence import ABSURD, LITTLE, Evidence
from baitwright.learning.score import Score, score
from baitwright.learning.update import with_one_batch
from baitwright.materials.factors import factor_priors
from baitwright.quantities import show, tidy
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor, FactorSet
from baitwright.uncertainty.bands import movers_of

MAKER = "maker"


@dataclass(frozen=True, slots=True)
class Proposal:
    """A factor before and after a batch, and the share of the readings' spread it accounts for.

    ``log_ratio`` is the batch's own as the readings give it, their blur not taken off.
    """

    before: Factor
    after: Factor
    share: float
    log_ratio: float

    @property
    def words(self) -> str:
        """The change in one line."""
        count = self.after.batches
        known = f"known from {count} batch{'' if count == 1 else 'es'}"
        change = f"{self.before.median:.2f} becomes {self.after.median:.2f}"
        return f"{_name(self.after.key, self.after.about)}: {change}, {known}"


@dataclass(frozen=True, slots=True)
class TellsLittle:
    """A factor that the readings asked about and hardly see."""

    key: str
    about: str
    share: float
    words: str


@dataclass(frozen=True, slots=True)
class Lesson:
    """What one batch's readings teach: scores first, then proposals, then what they cannot tell."""

    scores: tuple[Score, ...]
    proposals: tuple[Proposal, ...]
    tells_little: tuple[TellsLittle, ...]

    def accepted(self, factors: FactorSet, *, name: str, made_on: datetime) -> FactorSet:
        """A new dated set with every proposal in it; the old set stays as it was."""
        changed = [proposal.after for proposal in self.proposals]
        return factors.with_factors(changed, name=name, made_on=made_on)


def learn(plan: BatchPlan, taken: Sequence[Taken], *, factors: FactorSet) -> Lesson:
    """Score the plan's predictions, then propose factors.

    Each factor that a reading names is learned once from all readings together, so that two
    readings of one factor are still one batch. The readings are read against the factors the plan
    was made with; what they say then moves the factors of today.

    Parameters
    ----------
    plan: as it was made.
    taken: the readings beside their predictions.
    factors: the set to move on from, usually the plan's own or a later one.

    Raises
    ------
    InputError: a reading that can only be a slip of the unit.
    """
    for one in taken:
        _refuse_absurd(one)
    proposals: list[Proposal] = []
    little: list[TellsLittle] = []
    asking = {(one.measurement.factor, one.measurement.about): one for one in reversed(taken)}
    for (key, about), first in reversed(asking.items()):
        evidence = evidence_for(key, taken)
        if evidence.log_ratio is None or evidence.share < LITTLE:
            little.append(_tells_little(first, evidence))
            continue
        seen = plan.request.factors.find(key, about).mu + evidence.log_ratio
        before = factors.find(key, about)
        own = replace(before, about=about, source=MAKER)
        after = with_one_batch(own, log_ratio=seen, share=evidence.share)
        proposals.append(Proposal(before, after, evidence.share, seen))
    scores = tuple(score(one.measurement.predicted, one.reading) for one in taken)
    return Lesson(scores, tuple(proposals), tuple(little))


def _refuse_absurd(one: Taken) -> None:
    predicted = one.measurement.predicted
    band = score(predicted, one.reading).band
    if one.reading > 0 and 1 / ABSURD < one.reading / band.median < ABSURD:
        return
    low, high = show(band.low95, predicted.shown), show(band.high95, predicted.shown)
    raise InputError(
        one.measurement.name,
        show(one.reading, predicted.shown),
        f"something near the {low} to {high} predicted",
        hint="Check the unit.",
    )


def _name(key: str, about: str) -> str:
    return f"{key.replace('_', ' ')} for {about}" if about else key.replace("_", " ")


def _tells_little(asking: Taken, evidence: Evidence) -> TellsLittle:
    """Why a factor is left alone, what moves its reading instead, and what would teach it."""
    measurement = asking.measurement
    movers = movers_of(measurement.predicted, most=1)
    main = f": {movers[0].label} moves it most" if movers else ""
    words = (
        f"{measurement.predicted.label}: tells little about "
        f"{_name(measurement.factor, measurement.about)} "
        f"({tidy(100.0 * evidence.share, 2)} % of its spread){main}. "
        f"What would tell: {factor_priors()[measurement.factor].measurement}."
    )
    return TellsLittle(measurement.factor, measurement.about, evidence.share, words)
