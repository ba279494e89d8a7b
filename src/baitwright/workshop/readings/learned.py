"""Which batch a set of factors learned from: its day, its digest, and that it counts once."""

from __future__ import annotations

import hashlib
import json
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import PlanRequest
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet, Learned
from baitwright.terms.records import BatchRecord
from baitwright.workshop.plans.plan_json import request_as_json
from baitwright.workshop.recipe_files.factors_file import write_factors

_TOLD = ("recipe", "bench")
_CLOCK = ("now", "leaving")
"""What is another each time the same batch is planned."""
_CHARACTERS = 16


def learned_batch(request: PlanRequest, record: BatchRecord) -> Learned:
    """A batch as a set of factors remembers it.

    The digest holds recipe, bench and readings, but neither the clock nor the factors: the same
    batch planned again is still the same batch.
    """
    asked = request_as_json(request)
    told = {name: asked[name] for name in _TOLD}
    told["bench"] = {key: one for key, one in told["bench"].items() if key not in _CLOCK}
    readings = sorted((one.quantity, one.value, one.count) for one in record.readings)
    text = json.dumps([told, readings], sort_keys=True)
    digest = hashlib.sha256(text.encode()).hexdigest()[:_CHARACTERS]
    return Learned(record.plan_name, record.made_on and record.made_on.date(), digest)


def known_as(batch: Learned, factors: FactorSet) -> Learned | None:
    """The same batch among those a set has learned from."""
    return next((known for known in factors.learned if known.is_again(batch)), None)


def keep(proposed: FactorSet, accept: Path, *, batch: Learned, today: FactorSet) -> FactorSet:
    """Write what a batch proposes as a new file, and remember the batch in it.

    Raises
    ------
    InputError: nothing moves, ``today`` learned from the batch already, or the file is there.
    """
    if proposed is today:
        raise InputError("accept", str(accept), "readings or a test that moves a factor")
    _refuse_again(batch, today, accept=accept)
    kept = proposed.after(batch)
    write_factors(accept, kept)
    return kept


def _refuse_again(batch: Learned, factors: FactorSet, *, accept: Path) -> None:
    known = known_as(batch, factors)
    if known is None:
        return
    day = f" of {known.made:%Y-%m-%d}" if known.made else ""
    hint = (
        f"{known.plan}{day} is in these factors already: counted twice, it would look "
        "surer than it is. If it is another batch, say in made when each was made."
    )
    accepted = "readings of a batch that the factors have not learned from"
    raise InputError("accept", str(accept), accepted, hint=hint)


def require_its_day(record: BatchRecord, *, planned: datetime, now: datetime, where: str) -> None:
    """Refuse a batch made before it was planned, or on a day still to come.

    Raises
    ------
    InputError: the readings name such a day.
    """
    if record.made_on is None:
        return
    made, first, last = record.made_on.date(), planned.date(), max(now, planned).date()
    if not first <= made <= last:
        accepted = f"a day from {first}, when it was planned, to {last}"
        hint = "Planned afterwards? Plan again with the bench's now set to when you began."
        raise InputError(
            "made", str(made), accepted, hint=hint if made < first else "", where=where
        )
