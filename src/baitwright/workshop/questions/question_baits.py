"""What is computed of a question about baits of a batch: keeping, cores, hours in the lake."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from baitwright.advice.answers import Care, Found, Statement, said
from baitwright.batch.balance import CoreOption
from baitwright.batch.cores import sizes
from baitwright.batch.plan import PlanRequest
from baitwright.batch.soak_table import SoakCase
from baitwright.materials.cautions import Caution
from baitwright.notebook.store import Notebook
from baitwright.recipe.model import Core
from baitwright.sheets.text_keep import CHECK, ESTIMATES, line_words, narrower
from baitwright.sheets.text_rig import signed
from baitwright.sheets.text_used import core_options
from baitwright.sheets.wording import count_of, defaults_in, figure
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import movers_of
from baitwright.workshop.batches.kept_plan import kept_plan
from baitwright.workshop.forms.form_questions import CORE, KEEPING, LAKE, QuestionTable
from baitwright.workshop.plans.keep_asked import place_told
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.stages.soak_shown import when
from baitwright.workshop.told.quantity_footing import standing_on


def of_baits(book: Notebook, told: QuestionTable) -> Found:
    """How long the baits of a batch keep, what floats or sinks them, or their hours in the lake.

    Raises
    ------
    InputError: no batch, one whose plan is not kept, or a plan that cannot be worked out.
    """
    if not told.batch:
        raise InputError("batch", None, "the bag or batch they ask about, such as 2026-11-27/1")
    request = kept_plan(book, _batch_of(told.batch))
    return _TOPICS[told.about](request)


def _batch_of(name: str) -> str:
    """The batch of a bag."""
    return name.rsplit("/", 1)[0] if name.count("/") > 1 else name


def _keeping(request: PlanRequest) -> Found:
    stage = worked_out(request).keep
    told = []
    for place in stage.places:
        large = place_told(place)
        words = f"plan with at most {large.figure.text}; {large.how}"
        told.append(said(large.label, words, standing_on(place.life), first=True))
    lines = (*(line for place in stage.places for line in place.lines), *stage.lines)
    cares = tuple(Care(line_words(one), one.source) for one in lines)
    return Found(
        tuple(told),
        tuple(narrower(stage)),
        _hangsstanding_on(stage, stage.places[0].life),
        (*cares, Care(CHECK, ""), Care(ESTIMATES, ""), *_of_plan(request, "keep")),
        request.factors.name,
    )


def _core(request: PlanRequest) -> Found:
    plan = worked_out(request)
    kind = request.recipe.bait.kind.value
    told = [
        said(
            f"on {_core_named(one.core)}{' (the batch)' * mine}",
            _floats(one, kind),
            standing_on(one.lift),
            first=True,
        )
        for mine, one in core_options(plan)
    ]
    return Found(
        tuple(told),
        (),
        _hangsstanding_on(plan.water, plan.water.dried),
        tuple(_of_plan(request, "roll")),
        request.factors.name,
    )


def _core_named(core: Core | None) -> str:
    return "no core" if core is None else f"{sizes(core)} core"


def _floats(one: CoreOption, kind: str) -> str:
    alone, hooked = (signed(each).with_band for each in (one.lift, one.rig_lift))
    done = f"{figure(one.wish).text} do what a {kind} should"
    return f"lift alone {alone}, with its hook {hooked}; {done}"


def _lake(request: PlanRequest) -> Found:
    first = SoakCase(request.recipe.bait.core, planned=True, stage=worked_out(request).soak)
    quantities = (first.stage.recast, first.stage.lasts, *first.stage.fades, first.stage.softens)
    told = tuple(
        said(
            large.label,
            "; ".join(filter(None, (large.figure.text, large.how))),
            standing_on(quantity),
            first=at < 2,
        )
        for at, (large, quantity) in enumerate(zip(when(first), quantities, strict=True))
    )
    return Found(
        told,
        (),
        _hangsstanding_on(first.stage, first.stage.recast),
        tuple(_of_plan(request, "fish")),
        request.factors.name,
    )


_TOPICS: Mapping[str, Callable[[PlanRequest], Found]] = {
    KEEPING: _keeping,
    CORE: _core,
    LAKE: _lake,
}


def _hangsstanding_on(stage: object, quantity: Quantity) -> tuple[Statement, ...]:
    """What a number hangs on most, and how much besides was taken where nobody said."""
    parts = tuple(defaults_in(stage).values())
    labels = [one.label.removeprefix("your factor: ") for one in movers_of(quantity)]
    told = [", ".join(labels)] if labels else []
    told += [f"{count_of(len(parts), 'default')} of the plan where nobody said"] if parts else []
    return (said("hangs most on", "; besides, ".join(told), standing_on(quantity)),) if told else ()


def _of_plan(request: PlanRequest, stage: str) -> Iterator[Care]:
    yield from _said(one for one in worked_out(request).care.cautions if one.stage == stage)


def _said(cautions: Iterable[Caution]) -> tuple[Care, ...]:
    return tuple(Care(one.text, one.source) for one in cautions)
