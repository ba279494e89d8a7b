"""In the lake hour after hour: water taken up, flavour left, firmness, lift, and when to recast."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baitwright.batch.balance import BalanceStage, left_on_rig, lift, wish_share
from baitwright.batch.drying import as_moist, moist_ball
from baitwright.batch.lake_water import lake_water
from baitwright.batch.release import (
    Leaving,
    find_way,
    flavour_left,
    leaving,
    solids_leaving,
)
from baitwright.batch.soak_notes import on_firmness, on_soak
from baitwright.batch.soaking import (
    CURVE_HOURS,
    FlavourLeft,
    SoakPoint,
    air_flooded,
    air_kept,
    firmness,
    liquid_gone,
    recast_after,
    room_of_liquids,
    soak_run,
    soaked_diameter,
    soaked_water,
    soaking_diffusivity,
    softens,
    solids_dissolved,
    water_depth,
    water_taken,
    what_is_left,
)
from baitwright.batch.state import BaitState
from baitwright.batch.target import LIMITS, Wish, lasts, night_drift, target_of
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.hooks import weight
from baitwright.materials.liquids import carrier
from baitwright.quantities import show
from baitwright.recipe.bench import Bench
from baitwright.recipe.rig import Rig
from baitwright.terms.errors import InputError
from baitwright.terms.notes import Note
from baitwright.terms.quantity import IDENTITY, Quantity, given, tabled, unwrap
from baitwright.terms.units import GRAMS_PER_MILLILITRE, HOURS
from baitwright.uncertainty.bands import median_of

COLDEST, WARMEST = 273.15, 308.15
"""Between ice and the warmest lake, K."""
SHORTEST, LONGEST = 3600.0, 48 * 3600.0
"""A soak this program will follow, s."""
NIGHT = 14 * 3600.0
"""A winter night on the bottom, s (common practice)."""


@dataclass(frozen=True, slots=True)
class Lake:
    """What the bait lies in, for how long, on which rig, and what it is wanted to do there.

    ``temperature`` [K] is None where nobody stated it; ``time`` [s]; ``taken`` is the lift that
    hook or rig take, ``kind`` the wanted kind of bait, ``salinity`` the water's [kg/kg], ``carry``
    the pull [kg] that the bait is to hold up besides.
    """

    temperature: float | None
    time: float
    taken: Quantity
    kind: str
    salinity: float = 0.0
    carry: float = 0.0


def lake_of(bench: Bench, water: BalanceStage, *, time: float, kind: str) -> Lake:
    """The lake of a bench for a time [s], with the lift that hook or rig take of a bait in it."""
    rig = Rig() if bench.rig is None else bench.rig
    carry = weight("putty").submerged(rig.putty, median_of(water.water_density))
    return Lake(bench.lake_temperature, time, water.taken, kind, rig.salinity, carry)


@dataclass(frozen=True, slots=True)
class SoakStage:
    """A soak: the hours of it, when flavour and firmness are spent, and the bait at its end."""

    temperature: Quantity
    water_density: Quantity
    curve: tuple[SoakPoint, ...]
    wet_depth: Quantity
    fades: tuple[Quantity, ...]
    softens: Quantity
    recast: Quantity
    drift: Quantity
    lasts: Quantity
    bait: BaitState
    notes: tuple[Note, ...]

    def at(self, time: float) -> SoakPoint:
        """The last point told that is not later than a time [s]."""
        return max(
            (point for point in self.curve if point.time <= time), key=lambda point: point.time
        )


def soak(state: BaitState, lake: Lake, *, unknowns: Unknowns) -> SoakStage:
    """Lay dried baits into the lake.

    Parameters
    ----------
    state: the bait as it comes out of the bag, its water evened out.
    lake: water, time, rig and wish.
    unknowns: factors, defaults and draws.

    Raises
    ------
    InputError: water that is ice or no lake, or a soak too short or too long.
    """
    _check(lake)
    temperature = unknowns.stated("lake_temperature", lake.temperature)
    end = given("soak_time", lake.time, label="time in the lake", unit=HOURS)
    run = run_in_water(state, temperature, end=end, unknowns=unknowns)
    wet = soaking(state, temperature, run=run, unknowns=unknowns, salinity=lake.salinity)
    hours = sorted({*(3600.0 * hour for hour in CURVE_HOURS if 3600.0 * hour < lake.time)})
    told = [_after(wet, lake, time=time) for time in (*hours, lake.time)]
    soft = softens(
        run=run,
        softening=unknowns.drawn_default("softening"),
        wanted=unknowns.default("recast_firmness"),
        like=state.diameter,
    )
    fades = tuple(one.fades for one in wet.liquids)
    curve = tuple(point for point, _ in told)
    first, drift = curve[0], _drift(curve)
    recast = recast_after(softens=soft, **{f"fades_{at}": one for at, one in enumerate(fades)})
    return SoakStage(
        temperature=temperature,
        water_density=wet.density,
        curve=curve,
        wet_depth=water_depth(
            run=run, diameter=curve[-1].diameter, core_diameter=state.core_diameter
        ),
        fades=fades,
        softens=soft,
        recast=recast,
        drift=drift,
        lasts=lasts(alone=first.lift, rig=first.rig, drift=drift, target=_target(lake)),
        bait=replace(
            told[-1][1], temperature=temperature, moistures=unwrap(run.value).final.water_content
        ),
        notes=(*on_soak(state, curve), *on_firmness(soft, recast)),
    )


def _drift(curve: tuple[SoakPoint, ...]) -> Quantity:
    """How lift falls over the hours told."""
    times = given(
        "told_hours", tuple(point.time for point in curve), label="hours told", backing=IDENTITY
    )
    return night_drift(times=times, **{f"lift_{at}": one.lift for at, one in enumerate(curve)})


def _target(lake: Lake) -> Quantity:
    return given("target", target_of(lake.kind, Wish(lake.carry)), label="wanted", backing=LIMITS)


def _check(lake: Lake) -> None:
    warm = lake.temperature
    if warm is not None and not COLDEST <= warm <= WARMEST:
        accepted = f"{show(COLDEST, 'C')} to {show(WARMEST, 'C')}"
        raise InputError("lake", show(warm, "C"), accepted)
    if not SHORTEST <= lake.time <= LONGEST:
        accepted = f"{show(SHORTEST, 'h')} to {show(LONGEST, 'h')}"
        raise InputError("hours", show(lake.time, "h"), accepted)


@dataclass(frozen=True, slots=True)
class Soaking:
    """The baits as they go in, and all that happens to them there."""

    state: BaitState
    run: Quantity
    density: Quantity
    liquids: tuple[Leaving, ...]
    solids: Quantity
    unknowns: Unknowns


def run_in_water(
    state: BaitState, temperature: Quantity, *, end: Quantity, unknowns: Unknowns
) -> Quantity:
    """Water entering the baits until an end [s], in water of a temperature [K]."""
    ideal = given("swelling", 1.0, label="ideal swelling", backing=IDENTITY)
    diffusivity = soaking_diffusivity(
        table=unknowns.default("soak_diffusivity"),
        factor=unknowns.factor("soak"),
        temperature=temperature,
    )
    return soak_run(
        ball=moist_ball(state=_going_in(state), shrinkage=ideal),
        surface=unknowns.drawn_default("soak_content"),
        diffusivity=diffusivity,
        temperature=temperature,
        end=end,
    )


def soaking(
    state: BaitState,
    temperature: Quantity,
    *,
    run: Quantity,
    unknowns: Unknowns,
    salinity: float = 0.0,
) -> Soaking:
    """What goes on in the baits of a run, besides the water that enters."""
    way = find_way(state, run, unknowns)
    return Soaking(
        state=state,
        run=run,
        density=lake_water(temperature, salinity=salinity),
        liquids=leaving(state, way, temperature=temperature, unknowns=unknowns),
        solids=solids_leaving(way, temperature),
        unknowns=unknowns,
    )


def _going_in(state: BaitState) -> Quantity:
    return as_moist(state).labelled("the bait before the soak")


@dataclass(frozen=True, slots=True)
class SoakedBait:
    """The bait after a time, with the water it took and the flavours it kept."""

    bait: BaitState
    taken: Quantity
    flavours: tuple[FlavourLeft, ...]


def soaked_after(wet: Soaking, time: float) -> SoakedBait:
    """The bait after a time [s], every account closed."""
    state, unknowns = wet.state, wet.unknowns
    at = given("at_time", time, label="after", unit=HOURS)
    taken = water_taken(run=wet.run, time=at, like=state.diameter)
    flooded = air_flooded(
        air=state.air,
        share=unknowns.drawn_default("flood_share"),
        pace=unknowns.drawn_default("flood_time"),
        time=at,
    )
    flavours = tuple(
        FlavourLeft(one.name, _left(wet, one.path, at).labelled(f"{one.name} left"))
        for one in wet.liquids
    )
    dissolved = solids_dissolved(
        solids=state.solids,
        soluble=unknowns.drawn_default("soluble_solids"),
        left=_left(wet, wet.solids, at),
    )
    gone = _gone(wet, flavours)
    bait = _with_accounts(wet, {"taken": taken, "flooded": flooded}, dissolved, gone=gone)
    return SoakedBait(bait, taken, flavours)


def _left(wet: Soaking, path: Quantity, at: Quantity) -> Quantity:
    return flavour_left(path=path, time=at, like=wet.state.diameter)


def _gone(wet: Soaking, flavours: tuple[FlavourLeft, ...]) -> tuple[Quantity, ...]:
    gone = []
    for one, liquid, flavour in zip(wet.state.solutes, wet.liquids, flavours, strict=True):
        leaves = given(
            "carrier_leaves",
            float(liquid.row.carrier_leaves),
            label="its carrier leaves too",
            backing=tabled(liquid.row),
        )
        gone.append(liquid_gone(mass=one.mass, left=flavour.left, leaves=leaves))
    return tuple(gone)


def _with_accounts(
    wet: Soaking,
    entered: dict[str, Quantity],
    dissolved: Quantity,
    *,
    gone: tuple[Quantity, ...],
) -> BaitState:
    state, density = wet.state, wet.density
    water = soaked_water(water=state.water, water_density=density, **entered)
    solids = what_is_left(before=state.solids, gone=dissolved)
    room = {}
    for at, (one, lost) in enumerate(zip(state.solutes, gone, strict=True)):
        row = carrier(one.carrier)
        room[f"gone_{at}"] = lost
        room[f"density_{at}"] = given(
            "liquid_density",
            row.density,
            label=f"density of {row.name}",
            unit=GRAMS_PER_MILLILITRE,
            backing=tabled(row),
        )
    diameter = soaked_diameter(
        diameter=state.diameter,
        taken=entered["taken"],
        water_density=density,
        dissolved=dissolved,
        solids_density=wet.unknowns.default("solids_density"),
        liquids=room_of_liquids(**room),
    )
    bait = replace(
        state,
        diameter=diameter,
        water=water,
        solids=solids,
        air=air_kept(air=state.air, flooded=entered["flooded"]),
    )
    flows = unwrap(entered["taken"].value) + unwrap(entered["flooded"].value) * unwrap(
        density.value
    )
    ledger = state.ledger.with_entry(
        "soak", "water", before=unwrap(state.water.value), after=unwrap(water.value), gone=-flows
    ).with_entry(
        "soak",
        "solids",
        before=unwrap(state.solids.value),
        after=unwrap(solids.value),
        gone=unwrap(dissolved.value),
    )
    solutes = []
    for one, lost in zip(state.solutes, gone, strict=True):
        left = what_is_left(before=one.mass, gone=lost).labelled(one.mass.label)
        solutes.append(replace(one, mass=left))
        before, after = unwrap(one.mass.value), unwrap(left.value)
        ledger = ledger.with_entry(
            "soak", one.name, before=before, after=after, gone=unwrap(lost.value)
        )
    return replace(bait, solutes=tuple(solutes), ledger=ledger)


def _after(wet: Soaking, lake: Lake, *, time: float) -> tuple[SoakPoint, BaitState]:
    """The bait after a time, and what is told of it."""
    soaked = soaked_after(wet, time)
    bait, taken = soaked.bait, soaked.taken
    then = f"after {show(time, 'h')}"
    mass = bait.mass.labelled(f"weight of a bait {then}")
    alone = lift(diameter=bait.diameter, mass=mass, water_density=wet.density)
    rig = left_on_rig(alone, lake.taken)
    kind = given("wanted_kind", lake.kind, label="wanted")
    point = SoakPoint(
        time=time,
        taken=taken,
        flavours=soaked.flavours,
        firmness=firmness(
            taken=taken,
            start=_going_in(wet.state),
            softening=wet.unknowns.drawn_default("softening"),
        ),
        mass=mass,
        diameter=bait.diameter,
        lift=alone.labelled(f"lift of the bait alone {then}"),
        rig=rig.labelled(f"{rig.label} {then}"),
        wish=wish_share(lift=alone, rig_lift=rig, kind=kind),
    )
    return point, bait
