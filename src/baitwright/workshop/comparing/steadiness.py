"""Steady from batch to batch? What the batches of one recipe weighed and measured, as charts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.learning.capability import Capability, capability
from baitwright.learning.charts import BATCHES_FOR_LIMITS, Chart, ewma, individuals
from baitwright.notebook.store import Notebook
from baitwright.quantities import Kind, read
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.batches.batch_things import CHARTED, Actual, Thing
from baitwright.workshop.typed.nearest import alike


@dataclass(frozen=True, slots=True)
class Series:
    """One thing of every batch that tells it, in ``unit``; charts from ten batches on."""

    value: str
    unit: str
    batches: tuple[str, ...]
    values: tuple[float, ...]
    single: Chart | None
    smooth: Chart | None


@dataclass(frozen=True, slots=True)
class Steadiness:
    """All that the batches of a recipe tell, and how its baits fit the size that is wanted."""

    recipe: str
    series: tuple[Series, ...]
    fit: Capability | None


def steadiness(book: Notebook, recipe: str, *, wanted: str = "", within: str = "") -> Steadiness:
    """Chart the batches of a recipe.

    Parameters
    ----------
    book: the notebook.
    recipe: its name.
    wanted: diameter of a dried bait, such as ``"15 mm"``, for how baits fit it.
    within: how far off a bait may be, such as ``"0.5 mm"``; told with it.

    Raises
    ------
    InputError: no batch of it that was made, or a size that cannot be used.
    """
    with book.reading() as page:
        every = [one for one in page.all(BATCH) if (one.body or {}).get("state") == State.MADE]
    made = [one for one in every if alike(str((one.body or {})["about"])) == alike(recipe)]
    if not made:
        known = ", ".join(sorted({str((one.body or {})["about"]) for one in every})) or "none yet"
        raise InputError("recipe", recipe, f"one of which batches were made: {known}")
    told = [(one.name, (one.body or {})["actual"]) for one in made]
    found = [_series(told, one) for one in CHARTED]
    fit = _fit([actual for _, actual in told], wanted, within) if wanted or within else None
    return Steadiness(str((made[0].body or {})["about"]), tuple(filter(None, found)), fit)


def _series(told: Sequence[tuple[str, Actual]], thing: Thing) -> Series | None:
    rows = [(name, found) for name, actual in told if (found := thing.read(actual)) is not None]
    if not rows:
        return None
    names, values = zip(*rows, strict=True)
    single = smooth = None
    if len(values) >= BATCHES_FOR_LIMITS:
        single = individuals(values)
        smooth = ewma(values, centre=single.centre, sd=single.sd)
    return Series(thing.value, thing.unit, names, values, single, smooth)


def _fit(told: Sequence[Actual], wanted: str, within: str) -> Capability:
    """Every dried diameter, bait by bait, against the size that is wanted."""
    size, off = (
        read(text, Kind.LENGTH, field) for text, field in ((wanted, "wanted"), (within, "within"))
    )
    sizes = [one for actual in told for one in actual.get("diameter_dried", ())]
    if len(sizes) < 2:
        accepted = "two dried diameters at least, told by `baitwright batch measured`"
        raise InputError("diameter_dried", len(sizes), accepted)
    return capability(sizes, low=size - off, high=size + off)
