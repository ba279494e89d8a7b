"""What was asked of a water: a plan, a batch, bags or a night, held against its rules."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from baitwright.advice.venue_rules import Session, WaterRules, check
from baitwright.batch.batch_plan import BatchPlan
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, PLAN
from baitwright.workshop.care.venue_sessions import session_of_bags, session_of_night
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.opening.notebook_care import Clock, Use, is_there, open_at
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.shelf.lots import LOT
from baitwright.workshop.waters.venue import Held, held_against, waters
from baitwright.workshop.waters.venue_plan import SESSION, session_from_json, session_of_plan


@dataclass(frozen=True, slots=True)
class Outing:
    """What somebody takes to a water: bags or batches, rods, by night or day, lead, free bait [kg].

    None is what was not told.
    """

    bags: tuple[str, ...] = ()
    rods: int | None = None
    night: bool | None = None
    lead: bool | None = None
    free_bait: float | None = None
    day: date | None = None


def outing_held(book: Notebook, water: str, outing: Outing) -> Held:
    """A water's rules held against an outing.

    Raises
    ------
    InputError: no water is named, or a bag or batch that the notebook does not have.
    """
    with book.reading() as page:
        return held_against(page, water, _session(page, outing))


def plan_held(book: Notebook | None, made: BatchPlan) -> Held | None:
    """The rules of the water that a plan's bench names; None where it names none.

    Where there is no notebook yet, no rule is known.
    """
    water = made.request.bench.at_water
    if not water:
        return None
    if book is None:
        session = session_of_plan(made)
        return Held(water, session.what, None, check(WaterRules(name=water), session))
    with book.reading() as page:
        return held_against(page, water, session_of_plan(made))


def plan_held_at(place: Where, made: BatchPlan, *, clock: Clock) -> Held | None:
    """The same by a notebook that need not be there yet."""
    if not is_there(place):
        return plan_held(None, made)
    with open_at(place, Use.LOOK, clock=clock) as book:
        return plan_held(book, made)


def batch_held(book: Notebook, name: str) -> Held | None:
    """The rules of the water that a batch was planned for, before it is bagged."""
    with book.reading() as page:
        plan = page.latest(PLAN, name)
        told = None if plan is None else plan.body
        water = None if told is None else told["request"]["bench"].get("at_water")
        if not water or told is None:
            return None
        return held_against(page, water, _of_batch(page, name))


def night_held(book: Notebook, made: Revision) -> Held | None:
    """The rules of the water of a night that was written down; None of anything else."""
    if made.kind != "night" or made.body is None:
        return None
    with book.reading() as page:
        if made.body["water"] not in waters(page):
            return None
        return held_against(page, made.body["water"], session_of_night(page, made.body))


def _session(page: Page, outing: Outing) -> Session:
    plain = [name for name in outing.bags if _is_lot(page, name)]
    batches = [name for name in outing.bags if name not in plain]
    if len(batches) > 1 or (batches and plain):
        accepted = "bags that stand on the shelf, or one batch that is only planned"
        raise InputError("bag", ", ".join(outing.bags), accepted)
    session = _of_batch(page, batches[0]) if batches else session_of_bags(page, plain)
    if not outing.bags:
        session = Session(what="an outing without its bait")
    free = outing.free_bait
    told = {name: getattr(outing, name) for name in ("rods", "night", "lead", "day")}
    told["free_bait"] = None if free is None else (free, free, free)
    return replace(session, **{key: one for key, one in told.items() if one is not None})


def _of_batch(page: Page, name: str) -> Session:
    """What the plan of a batch says; what was made of it where it stands on the shelf."""
    if _is_lot(page, name):
        return session_of_bags(page, (name,))
    plan = page.latest(PLAN, as_kept(page, BATCH, name))
    if plan is None or plan.body is None:
        last = ", ".join(one.name for one in page.last(BATCH, 3)) or "none yet"
        raise InputError("bag", name, f"a bag or a batch of the notebook; the last are: {last}")
    if SESSION in plan.body:
        return session_from_json(plan.body[SESSION])
    return session_of_plan(worked_out(request_from_json(plan.body)))


def _is_lot(page: Page, name: str) -> bool:
    found = page.latest(LOT, as_kept(page, LOT, name))
    return found is not None and found.body is not None


def names_told(bags: Iterable[str]) -> tuple[str, ...]:
    """Names as typed, several in one text parted by commas or semicolons."""
    words = (word.strip() for one in bags for word in one.replace(";", ",").split(","))
    return tuple(dict.fromkeys(word for word in words if word))
