"""The bait on its rig as a page shows it: lift, counterweight, the night, other ways."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.batch.plan import PlanRequest
from baitwright.batch.rig_balance import RigBalance
from baitwright.materials.kinds import lift_on_rig
from baitwright.quantities import show
from baitwright.sheets.picture_lift import lift_picture
from baitwright.sheets.text_balance import (
    DESIGN_HEAD,
    nearest,
    option_told,
    protocol_error,
    protocol_title,
    weighed_up,
)
from baitwright.sheets.text_rig import shot_words, signed
from baitwright.sheets.wording import Figure, defaults_in, figure
from baitwright.sources import key_said
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.forms.web_words import in_pages
from baitwright.workshop.recipe_files.rig_table import RigTable
from baitwright.workshop.stages.balance import balanced_as_planned
from baitwright.workshop.told.answer_parts import Grid, Large, Part, notes_of, said


def balance_shown(request: PlanRequest, told: RigTable) -> tuple[Part, ...]:
    """The bait of a plan on a rig, with what is told of that over what stands in the plan.

    Raises
    ------
    InputError: anything of the rig that cannot be used.
    """
    made = balanced_as_planned(request, told)
    plan, kind = made.plan, made.plan.request.recipe.bait.kind
    name = plan.request.recipe.name
    drawn = lift_picture(plan.soak, plan.water.taken, name=name).for_page("")
    minded = (
        *notes_of((*made.on_rig.notes, *made.design.notes)),
        *(f"Caution: {one.text} [{key_said(one.source)}]" for one in made.cautions),
    )
    ways = tuple(tuple(map(said, option_told(one))) for one in nearest(made))
    taken = ", ".join(part.label for part in defaults_in(made.on_rig.stage).values())
    return (
        Part(f"{name} in the lake", large=tuple(_lifts(made)), grids=(_pulls(made),)),
        Part("Counterweight", large=tuple(_held(made)), lines=tuple(_unheld(made))),
        Part("Through the night, without a counterweight", (_lasts(made),), pictures=(drawn,)),
        Part("Its hours as a table", grids=(_night(made),), is_folded=True),
        Part(
            f"Ways to a {kind} on this rig",
            lines=(weighed_up(made),),
            grids=(Grid("", DESIGN_HEAD, ways),),
            is_folded=True,
        ),
        *(
            Part(
                protocol_title(one),
                steps=one.protocol.steps,
                lines=(protocol_error(one),),
                is_folded=True,
            )
            for one in made.protocols
        ),
        Part("Keep in mind", points=tuple(map(in_pages, minded))),
        Part("Taken where nobody said", lines=(f"{taken}.",) if taken else (), is_folded=True),
    )


def _lifts(made: RigBalance) -> Iterator[Large]:
    stage = made.on_rig.stage
    yield _lift("Lift of the dried bait alone", stage.alone)
    after = lift_on_rig(median_of(stage.net)).name
    yield _lift("Lift left for a counterweight", stage.net, f"; the bait {after}")
    yield _lift("The same, once water fills every void", stage.flooded)


def _lift(label: str, quantity: Quantity, also: str = "") -> Large:
    told = signed(quantity)
    return Large(label, told, f"{_between(told)}{also}")


def _between(told: Figure) -> str:
    return f"8 in 10 between {told.band.replace(' to ', ' and ')}" if told.band else "known"


def _pulls(made: RigBalance) -> Grid:
    stage, settles = made.on_rig.stage, made.on_rig.settles
    rows = [(said(pull.label), figure(pull)) for pull in stage.pulls]
    if made.rig.hole is not None:
        rows.append((said("what the hole does"), signed(stage.hole)))
    if made.rig.depth > 0.0:
        rows.append((said("lift that the depth takes"), figure(stage.depth)))
    rows.append((said("baits that sink without a counterweight"), figure(settles.sinks)))
    if float(settles.sinks.value) > 0.0:
        rows.append((said("speed down, minus is up"), figure(settles.speed)))
        if made.rig.depth > 0.0:
            rows.append((said("on the bottom after"), figure(settles.time)))
    return Grid("What pulls, and how it sinks", ("", "middle, and 8 in 10"), tuple(rows))


def _held(made: RigBalance) -> Iterator[Large]:
    """Putty and shot that take it down."""
    stage, held = made.on_rig.stage, made.on_rig.counterweight
    if median_of(stage.putty) > 0.0:
        past = f"{show(made.rig.margin, 'g')} past balance"
        yield _weight("Putty, to just take it down", stage.putty, past)
        yield _weight("Putty at balance", stage.balance_point)
    if held is not None:
        mass = f"{show(held.combination.mass, 'g')} in air"
        yield Large("Shot for the middle bait", Figure(shot_words(held), ""), mass)
        yield _lift("Lift left with them on", held.left)
        yield Large("Baits they take down", figure(held.taken_down))


def _weight(label: str, quantity: Quantity, also: str = "") -> Large:
    told = figure(quantity)
    return Large(label, told, "; ".join(filter(None, (_between(told), also))))


def _unheld(made: RigBalance) -> Iterator[str]:
    if median_of(made.on_rig.stage.putty) <= 0.0:
        past = show(-median_of(made.on_rig.stage.net), "g", 2)
        yield f"None: the middle bait of the tray goes down by itself, {past} past balance."


def _lasts(made: RigBalance) -> Large:
    kind = made.plan.request.recipe.bait.kind
    held = f" with {show(made.rig.putty, 'g')} of putty on it" if made.rig.putty else ""
    told = figure(made.lasts)
    unit = "" if told.number == "never" else told.unit
    shown = Figure(told.number, unit)
    return Large(f"Stops doing what a {kind} should{held} after", shown, _between(told))


def _night(made: RigBalance) -> Grid:
    rows = tuple(
        (said(show(one.time, "h")), signed(one.net), figure(one.taken_down)) for one in made.night
    )
    return Grid("Middle, and below it 8 in 10", ("after", "lift left", "no lift left"), rows)
