"""What the plan remarks on: unusual wishes, wishes that are not met, and defaults it doubts."""

from __future__ import annotations

import numpy as np

from baitwright.batch.balance import best_core
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.boil_notes import on_boil
from baitwright.batch.cores import sizes
from baitwright.batch.dose_notes import on_doses, on_strengths
from baitwright.batch.weighings import on_weighing
from baitwright.materials.defaults import default
from baitwright.physics.buoyancy import sphere_volume
from baitwright.quantities import percent, show
from baitwright.recipe.base_mix import Known
from baitwright.recipe.model import BaitKind, Core, WantedBait
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.bands import band_of, median_of

WISH_MET = 0.8
"""A wish counts as met when this share of the tray is expected to do it (judgement)."""

SET_ENOUGH = 0.85
"""Below this share of set baits the plan doubts the pot (judgement)."""


def remarks(plan: BatchPlan) -> tuple[Note, ...]:
    """Every note of a plan, in the order of the stages."""
    return (
        *plan.eggs.notes,
        *_on_count(plan),
        *on_doses(plan.doses),
        *on_strengths(plan.doses, plan.request.factors),
        *_on_mix(plan),
        *_on_hardener(plan),
        *_on_shape(plan),
        *_on_set(plan),
        *on_boil(plan),
        *_on_lift(plan),
        *_on_doubt(plan),
        *plan.dry.notes,
        *on_weighing(plan.prove, plan.dry.ready),
        *(plan.coat.notes if plan.coat else ()),
        *(plan.glug.notes if plan.glug else ()),
        *plan.keep.notes,
        *(plan.rig.notes if plan.rig else ()),
        *plan.soak.notes,
        *plan.day.notes,
        *(plan.free_bait.notes if plan.free_bait else ()),
    )


def _on_mix(plan: BatchPlan) -> list[Note]:
    notes = []
    if plan.mix.base.known is not Known.PARTS:
        text = (
            f"The base mix is known by {plan.mix.base.known}, so density and uptake stay "
            "wide. The tub weighed before and after narrows both."
        )
        notes.append(Note("mix", text, "judgement"))
    if not plan.mix.tub_is_planned and band_of(plan.tub_left).low80 < 0:
        share = float(np.mean(np.asarray(unwrap(plan.tub_left.value)) < 0))
        text = (
            f"The tub may run out: in {percent(share)} of cases the eggs take more than it holds."
        )
        notes.append(Note("mix", text, "definition", Weight.DOUBT))
    return notes


def _on_count(plan: BatchPlan) -> list[Note]:
    wanted = plan.request.bench.baits_wanted
    if wanted is None:
        return []
    eggs = round(float(unwrap(plan.eggs.count.value)))
    made = median_of(plan.rolled.baits)
    text = (
        f"{eggs} egg{'' if eggs == 1 else 's'} for at least {wanted} baits in 9 cases of 10; about "
        f"{made:.0f} come of it. Use part of the paste where that is too many."
    )
    return [Note("eggs", text, "definition")]


def _on_hardener(plan: BatchPlan) -> list[Note]:
    recipe = plan.request.recipe
    usual = default("hardener_milk" if recipe.base.milk_protein else "hardener_ordinary")
    on_top = float(unwrap(plan.mix.preparation.on_top.value))
    if usual.low <= on_top <= usual.high:
        return []
    kind = "a base rich in milk proteins" if recipe.base.milk_protein else "an ordinary base"
    text = (
        f"Hardener at {show(on_top, '%')} on top is outside the usual {show(usual.low, '%')} to "
        f"{show(usual.high, '%')} for {kind}; {show(usual.value, '%')} is common."
    )
    return [Note("mix", text, usual.source)]


def _on_shape(plan: BatchPlan) -> list[Note]:
    bait = plan.request.recipe.bait
    if bait.core is None:
        return []
    shell = 0.5 * (bait.diameter - bait.core.across)
    enough = default("shell_minimum").value
    notes = []
    if bait.core.count > 1:
        text = (
            "A few corks are counted as spread through the paste: the lift is theirs, but how heat "
            "and water find their way round them is an estimate. Cut one bait open off the boil."
        )
        notes.append(Note("roll", text, "fricke-becker-2001"))
    if shell < enough:
        covers = "covers the core" if bait.core.count == 1 else "covers the corks"
        text = (
            f"Only {show(shell, 'mm')} of paste {covers}: it may crack or come off in the boil. "
            f"{show(enough, 'mm')} and more holds better."
        )
        notes.append(Note("roll", text, "common-practice", Weight.DOUBT))
    return notes


def _on_set(plan: BatchPlan) -> list[Note]:
    share = float(unwrap(plan.boil.set_share.value))
    if share >= SET_ENOUGH:
        return []
    text = (
        f"Only {percent(share)} of these baits would set through, however long they stay: the "
        f"water is not hot enough for them at {show(median_of(plan.boil.boiling_point), 'C')}, or "
        "the pot too weak for its load. More water, smaller loads, more heat or a smaller bait."
    )
    return [Note("boil", text, "di-lorenzo-2025", Weight.DOUBT)]


def _on_lift(plan: BatchPlan) -> list[Note]:
    wanted = plan.request.recipe.bait
    wish = float(unwrap(plan.water.wish.value))
    notes = []
    if wish < WISH_MET:
        text = (
            f"About {percent(wish)} of these baits would do what a {wanted.kind} should. "
            f"{_what_would_meet(plan)}"
        )
        notes.append(Note("float", text, "archimedes", Weight.DOUBT))
    for option in plan.water.cores:
        if option.core == wanted.core:
            continue
        lift = band_of(option.lift)
        does = float(unwrap(option.wish.value))
        sinks = float(unwrap(option.sinks.value))
        text = (
            f"With {_cores(option.core)} the dried bait alone would pull "
            f"{_lift(lift.median)} ({_lift(lift.low80)} to {_lift(lift.high80)}), so that "
            f"{percent(sinks)} would sink: {_why(option.core, wanted)}. {percent(does)} would "
            f"do what a {wanted.kind} should."
        )
        notes.append(Note("float", text, "archimedes"))
    return notes


def _lift(mass: float) -> str:
    """A lift as everywhere: in hundredths of a gram, with its sign."""
    return f"{1e3 * mass:+.2f} g"


def _cores(core: Core) -> str:
    return f"a core of {sizes(core)}" if core.count == 1 else f"cores of {sizes(core)}"


def _why(core: Core, wanted: WantedBait) -> str:
    """Why another core lifts more or less: its room goes to paste, or paste gives room to it."""
    held = 0.0 if wanted.core is None else wanted.core.diameter
    room = core.count * abs(float(sphere_volume(held)) - float(sphere_volume(core.diameter)))
    if core.diameter < held:
        return f"paste fills the {show(room, 'ml', 2)} that the larger core would keep light"
    return f"it keeps {show(room, 'ml', 2)} more free of paste"


def _what_would_meet(plan: BatchPlan) -> str:
    best = best_core(plan.water)
    wanted = plan.request.recipe.bait
    if best is not None and float(unwrap(best.wish.value)) >= WISH_MET:
        share = float(unwrap(best.wish.value))
        return f"{_cores(best.core).capitalize()} would: {percent(share)} of the tray."
    if wanted.kind is BaitKind.SINKER:
        return "Leave the core out."
    share = 0.0 if best is None else float(unwrap(best.wish.value))
    tried = (
        "no core on the shelf"
        if best is None
        else f"the best here is {sizes(best.core)} with {percent(share)}"
    )
    return f"Of what is on the shelf {tried}; weigh twenty cores and twenty baits to be surer."


def _on_doubt(plan: BatchPlan) -> list[Note]:
    """The plan doubts its own defaults first where lift hangs on them."""
    if plan.request.recipe.bait.core is None:
        return []
    band = band_of(plan.water.dried)
    if not band.low80 < 0 < band.high80:
        return []
    text = (
        f"Alone and dried it pulls {_lift(median_of(plan.water.dried))}, give or take: "
        "nominal sizes leave lift about as uncertain as it is large. If yours behave otherwise, "
        "suspect the core's density and the air that drying leaves in the paste; one bait pushed "
        "under in a tared cup settles it."
    )
    return [Note("float", text, "judgement", Weight.DOUBT)]
