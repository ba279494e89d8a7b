"""Ways out of a day that is too short: what else could be done, and what that costs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from baitwright.materials.defaults import default
from baitwright.quantities import show
from baitwright.schedule.jobs import Job
from baitwright.sheets.wording import count_of, span
from baitwright.terms.quantity import unwrap
from baitwright.workshop.days.in_turn import arranged, jobs_of, lateness
from baitwright.workshop.days.lighter_jobs import smaller, undried
from baitwright.workshop.days.several_file import Freezes, Kitchen
from baitwright.workshop.days.works import FAN_AIR, Work, work_of

_SOFT = "softer baits until they have dried"


@dataclass(frozen=True, slots=True)
class WayOut:
    """Something that makes a late day less late: what it is, what it costs, and what is left.

    ``hindered`` says what there is too little of for it.
    """

    name: str
    costs: str
    late: timedelta
    hindered: str = ""


@dataclass(frozen=True, slots=True)
class _Way:
    name: str
    costs: str
    jobs: tuple[Job, ...]
    kitchen: Kitchen
    hindered: str = ""


def ways_out(
    works: Sequence[Work], kitchen: Kitchen, *, late: Sequence[timedelta], since: datetime
) -> Iterator[WayOut]:
    """What would help, tried one at a time; nothing where nobody is late or it would not help.

    Parameters
    ----------
    works: as they are, too late.
    kitchen: what there is.
    late: how late each of them is.
    since: when the day's plan begins.
    """
    total = sum(late, timedelta(0))
    if not total:
        return
    tried = (_lighter, _elsewhere, _more)
    for way in (way for ways in tried for way in ways(works, kitchen, since)):
        if way.hindered:
            yield WayOut(way.name, way.costs, total, hindered=way.hindered)
            continue
        found = arranged(way.jobs, way.kitchen, since=since)
        left = sum(lateness(found, len(works)), timedelta(0))
        if left < total:
            yield WayOut(way.name, way.costs, left)
    longest = span(max(late))
    yield WayOut(f"leave {longest} later", f"{longest} at the water", timedelta(0))


def _lighter(works: Sequence[Work], kitchen: Kitchen, since: datetime) -> Iterator[_Way]:
    """Smaller batches, a fan."""
    jobs = jobs_of(works, since=since)
    baits = [round(float(unwrap(one.plan.day.baits.value))) for one in works]
    for name, share in (("three quarters", 0.75), ("half", 0.5)):
        fewer = math.ceil(sum(baits) * (1.0 - share))
        few = tuple(smaller(job, share) for job in jobs)
        yield _Way(f"{name} of each batch", f"{fewer} of {sum(baits)} baits", few, kitchen)
    still = [one for one in works if not one.place.fan and one.place.frozen is not Freezes.WET]
    if not still:
        return
    fanned = [_with(one, fan=True) if one in still else one for one in works]
    most = max(one.trays for one in fanned if one.place.fan)
    fans = max(kitchen.fans, math.ceil(most / kitchen.fan_trays))
    saved = sum((_tray(a) - _tray(b) for a, b in zip(works, fanned, strict=True)), timedelta(0))
    air = show(default(FAN_AIR).value, "m/s")
    yield _Way(
        f"{count_of(fans, 'fan')} on the trays (air at {air}, our judgement)",
        f"{count_of(fans, 'fan')} for {count_of(fans * kitchen.fan_trays, 'tray')} at once, and a "
        f"harder crust; saves {span(saved)} of drying in all",
        jobs_of(fanned, since=since),
        kitchen.model_copy(update={"fans": fans}),
    )


def _elsewhere(works: Sequence[Work], kitchen: Kitchen, since: datetime) -> Iterator[_Way]:
    """Dried at the water, or frozen wet."""
    jobs = jobs_of(works, since=since)
    lies = span(max(_tray(one) for one in works))
    bare = tuple(map(undried, jobs))
    costs = f"trays for {lies} at the water, longer in damp air, and {_SOFT}"
    yield _Way("dry them at the water", costs, bare, kitchen)
    wet = [one if one.stow else _with(one, frozen=Freezes.WET, fan=False) for one in works]
    litres = math.fsum(one.litres for one in wet)
    costs = f"{litres:.1f} l of freezer, and {_SOFT}; spread loose until hard, thawed later"
    has = math.inf if kitchen.freezer is None else kitchen.freezer
    hindered = f"the freezer has {show(has, 'l')}" if litres > 1e3 * has else ""
    yield _Way("freeze them wet", costs, jobs_of(wet, since=since), kitchen, hindered)


def _more(works: Sequence[Work], kitchen: Kitchen, since: datetime) -> Iterator[_Way]:
    """More hands, trays, pots, freezer; no sleep."""
    jobs = jobs_of(works, since=since)
    more: list[tuple[str, str, dict[str, object]]] = [
        ("one more pair of hands", "somebody's time", {"hands": kitchen.hands + 1}),
        ("one more pot", "a pot, a basket and a ring", {"pots": kitchen.pots + 1}),
    ]
    if kitchen.trays is not None:
        more.append(("one more tray", "a tray and its place", {"trays": kitchen.trays + 1}))
    if kitchen.freezer is not None and any(one.stow for one in works):
        need = math.fsum(one.litres for one in works) - 1e3 * kitchen.freezer
        if need > 0.0:
            costs = f"{need:.1f} l more than there is"
            more.append(("room in another freezer", costs, {"freezer": None}))
    if kitchen.asleep is not None:
        more.append(("nobody goes to bed", "a night's sleep", {"asleep": None}))
    for name, costs, update in more:
        yield _Way(name, costs, jobs, kitchen.model_copy(update=update))


def _with(work: Work, **place: object) -> Work:
    """The work with its baits elsewhere."""
    told = work.place.model_copy(update=place)
    return work_of(work.plan, told, is_free_bait=work.is_free_bait)


def _tray(work: Work) -> timedelta:
    """How long its baits lie on the tray."""
    dry = (one.end - one.start for one in work.plan.day.steps if one.name == "dry")
    return sum(dry, timedelta(0))
