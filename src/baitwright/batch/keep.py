"""In the fridge, out of it and in the freezer: how long, told cautiously, and what others say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.dry import DryStage
from baitwright.batch.free_water import (
    dry_matter,
    freezes_share,
    freezing_starts,
    freezing_time,
    ice_in_bait,
    ice_line,
    ice_share,
    skin_activity,
    to_freeze,
)
from baitwright.batch.keep_notes import Kept, keeping_notes
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.keeping import (
    KeepingLine,
    Organism,
    dry_line,
    growing,
    growth_models,
    keeping_lines,
)
from baitwright.physics import food
from baitwright.physics.keeping import (
    Cardinal,
    SquareRootLaw,
    activity_factor,
    growth_time,
    mould_free_time,
    square_root_rate,
)
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import RangeError
from baitwright.terms.evidence import Evidence
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled
from baitwright.terms.units import PERCENT, Unit
from baitwright.uncertainty.bands import median_of, quantile_of

DAYS = Unit("s", "d")
CONDUCTIVITY = Unit("W/m/K", "W/m/K")
HEAT_CAPACITY = Unit("J/kg/K", "J/kg/K")
_DAY = 86_400.0
_KEEPS = 0.9
"""The cautious end is the day that 9 baits in 10 are expected to see."""
_FROZEN = 273.15 - 18.0
_AGES_TENFOLD = 10.0
"""Above -18 C frozen baits age twice as fast for every so many kelvin (judgement)."""

FRIDGE = (-2.0, 15.0)
AMBIENT = (0.0, 35.0)
FREEZER = (-40.0, -6.0)
"""What each place may be, in C: where it still is one, and where the growth models hold."""
_LIMITS = {"fridge": FRIDGE, "ambient": AMBIENT}


@declared(
    "mould_time",
    label="until mould shows",
    unit=DAYS,
    equation="lines of cakes by water activity, longer in the cold as a mould slows, x factor",
    source="cauvain-seiler",
    note="read for 21 and 27 C and 0.74 to 0.90; colder and moister is carried on by judgement",
)
def mould_time(activity: Any, temperature: Any, factor: Any) -> Any:
    """Days free of mould."""
    model = growth_models()["penicillium-agar"]
    cold = Cardinal(_set(model.lowest), _set(model.best), _set(model.highest))
    return mould_free_time(temperature, activity, in_cold=cold) * factor


@declared(
    "slime_time",
    label="until bacteria spoil it",
    unit=DAYS,
    equation="tenfold growths x ln 10 / ((0.033 t + 0.27)^2 x (a - 0.95) / 0.05) x factor",
    source="gropin",
    note="Pseudomonas, which stops below 0.95; above 25 C its pace at 25 C is taken",
)
def slime_time(activity: Any, temperature: Any, growths: Any, factor: Any) -> Any:
    """Days until bacteria have grown to where food smells."""
    model = growth_models()["pseudomonas-pork"]
    law = SquareRootLaw(_set(model.slope) / 60.0, _set(model.zero), model.low, model.high)
    pace = square_root_rate(np.minimum(temperature, model.high), law)
    rate = pace * activity_factor(activity, _set(model.driest))
    return growth_time(rate, growths) * factor


@declared(
    "life_unfrozen",
    label="keeps",
    unit=DAYS,
    equation="the first of mould, bacteria and staleness",
    source="definition",
)
def life_unfrozen(mould: Any, bacteria: Any, stale: Any) -> Any:
    """Days until the first of what ends a bait."""
    return np.minimum(np.minimum(mould, bacteria), stale)


@declared(
    "life_frozen",
    label="keeps in the freezer",
    unit=DAYS,
    equation="life at -18 C x 2^((-18 C - t) / 10 K), no more than at -18 C",
    source="judgement",
    note="nothing grows; ice leaving the skin and rancid fat end it",
)
def life_frozen(life: Any, temperature: Any) -> Any:
    """Days until frozen baits are stale."""
    warmer = np.maximum(temperature - _FROZEN, 0.0)
    return life * 2.0 ** (-warmer / _AGES_TENFOLD)


@declared(
    "cautious_life",
    label="plan with no more than",
    unit=DAYS,
    equation="the days that 9 baits in 10 are expected to see, whole days",
    source="judgement",
)
def cautious_life(life: Any) -> float:
    """The cautious end of a life; none where it is less than a day."""
    return float(_DAY * np.floor(np.quantile(life, 1.0 - _KEEPS, method="lower") / _DAY))


@declared(
    "under_line",
    label="baits drier than the line of the table",
    unit=PERCENT,
    equation="share of the tray with a water activity below the line",
    source="fda-food-code",
    note="for food dried in the open and of any pH; a guide for bait, which is not food",
)
def under_line(activity: Any, line: Any) -> float:
    """Share of baits below the line at which the table asks for no control."""
    return float(np.mean(activity < line))


@dataclass(frozen=True, slots=True)
class PlaceLife:
    """How long in one place: the band, its cautious end, what ends it, and what others say."""

    place: str
    temperature: Quantity
    mould: Quantity | None
    bacteria: Quantity | None
    life: Quantity
    cautious: Quantity
    ended_by: str
    spoilers: tuple[Organism, ...]
    pathogens: tuple[Organism, ...]
    lines: tuple[KeepingLine, ...]


@dataclass(frozen=True, slots=True)
class Freezing:
    """When ice forms, in how many baits, how much, and the minutes in still and moving air."""

    starts: Quantity
    share: Quantity
    ice: Quantity
    still: Quantity
    fan: Quantity


@dataclass(frozen=True, slots=True)
class KeepStage:
    """The dried bait put away: how free its water is, freezing, and each place."""

    activity: Quantity
    skin: Quantity
    under_line: Quantity
    freezing: Freezing
    places: tuple[PlaceLife, ...]
    lines: tuple[KeepingLine, ...]
    notes: tuple[Note, ...]

    def place(self, name: str) -> PlaceLife:
        """One place by name: fridge, ambient or freezer."""
        return next(one for one in self.places if one.place == name)


def keep(dried: DryStage, recipe: Recipe, *, bench: Bench, unknowns: Unknowns) -> KeepStage:
    """Put the dried baits away.

    Raises
    ------
    RangeError: a fridge, a freezer or a place out of the cold that is none.
    """
    store, activity = bench.store, dried.activity
    country = bench.country or ""
    line = dry_line(packed=False)
    freezer = _temperature("freezer", store.freezer, FREEZER, unknowns=unknowns)
    places = (
        _unfrozen("fridge", store.fridge, activity, country=country, unknowns=unknowns),
        _unfrozen("ambient", store.ambient, activity, country=country, unknowns=unknowns),
        _in_freezer(freezer, country, unknowns),
    )
    freezing = _freezing(dried, freezer, unknowns)
    return KeepStage(
        activity=activity,
        skin=skin_activity(run=dried.run, time=dried.time, like=dried.bait.diameter),
        under_line=under_line(
            activity=activity,
            line=given(
                "activity_line",
                line.activity_high,
                label="line of the table, for food dried in the open",
                backing=tabled(line),
            ),
        ),
        freezing=freezing,
        places=places,
        lines=keeping_lines("any", country),
        notes=keeping_notes(Kept(recipe, store, places, freezing.share)),
    )


def _set(value: float | None) -> float:
    """A parameter that the law of its row cannot do without."""
    if value is None:
        raise ValueError("a growth model lacks a parameter of its law")
    return value


def _temperature(
    place: str, stated: float | None, limits: tuple[float, float], *, unknowns: Unknowns
) -> Quantity:
    if stated is not None:
        low, high = limits
        celsius = stated - 273.15
        if not low - 1e-9 <= celsius <= high + 1e-9:
            raise RangeError(f"store.{place}", round(celsius, 2), low=low, high=high, unit="C")
    return unknowns.stated(f"{place}_temperature", stated)


def _unfrozen(
    place: str, stated: float | None, activity: Quantity, *, country: str, unknowns: Unknowns
) -> PlaceLife:
    temperature = _temperature(place, stated, _LIMITS[place], unknowns=unknowns)
    at = {"activity": activity, "temperature": temperature, "factor": unknowns.factor("keeping")}
    mould = mould_time(**at)
    bacteria = slime_time(**at, growths=unknowns.drawn_default("spoiling_growth"))
    stale = unknowns.drawn_default("stale_time")
    name = "in the fridge" if place == "fridge" else "out of the cold"
    life = life_unfrozen(mould=mould, bacteria=bacteria, stale=stale).labelled(f"keeps {name}")
    ends = {"mould": mould, "bacteria": bacteria, "staleness": stale}
    # The moister end counts for what can grow: nobody has measured.
    moist, kelvin = quantile_of(activity, _KEEPS), median_of(temperature)
    return PlaceLife(
        place=place,
        temperature=temperature,
        mould=mould.labelled(f"until mould shows {name}"),
        bacteria=bacteria.labelled(f"until bacteria spoil it {name}"),
        life=life,
        cautious=cautious_life(life=life),
        ended_by=min(ends, key=lambda end: median_of(ends[end])),
        spoilers=growing("spoiler", activity=moist, temperature=kelvin),
        pathogens=growing("pathogen", activity=moist, temperature=kelvin),
        lines=keeping_lines(place, country),
    )


def _in_freezer(temperature: Quantity, country: str, unknowns: Unknowns) -> PlaceLife:
    life = life_frozen(life=unknowns.drawn_default("freezer_life"), temperature=temperature)
    return PlaceLife(
        place="freezer",
        temperature=temperature,
        mould=None,
        bacteria=None,
        life=life,
        cautious=cautious_life(life=life),
        ended_by="staleness",
        spoilers=(),
        pathogens=(),
        lines=keeping_lines("freezer", country),
    )


def _freezing(dried: DryStage, freezer: Quantity, unknowns: Unknowns) -> Freezing:
    bait = dried.bait
    starts = freezing_starts(activity=dried.activity)
    made_of = {
        "water": bait.water,
        "dry_matter": dry_matter(solids=bait.solids, liquids=bait.solute_mass),
        "holds": dried.holds,
        "scale": dried.holds_scale,
    }
    ice = ice_in_bait(**made_of, temperature=freezer)
    ball = ball_of(bait, dried)
    still, fan = unknowns.drawn_default("freezer_film"), unknowns.drawn_default("freezer_fan_film")
    return Freezing(
        starts=starts,
        share=freezes_share(ice=ice, mass=bait.mass),
        ice=ice_share(ice=ice, water=bait.water),
        still=freezing_time(bait=ball, air=freezer, film=still).labelled("frozen in still air in"),
        fan=freezing_time(bait=ball, air=freezer, film=fan).labelled("frozen before a fan in"),
    )


def ball_of(bait: BaitState, dried: DryStage) -> Quantity:
    """A bait as a ball that freezes, with the dry matter of those on the tray."""
    by_parts = Backing(Origin.TABLE, "choi-okos-1986", Evidence.COMPUTED)
    return to_freeze(
        mass=bait.mass,
        diameter=bait.diameter,
        line=ice_line(
            water=bait.water,
            dry_matter=dry_matter(solids=bait.solids, liquids=bait.solute_mass),
            holds=dried.holds,
            scale=dried.holds_scale,
        ),
        conductivity=given(
            "paste_conductivity",
            float(food.conductivity(bait.make_up, 273.15)),
            label="conductivity of the paste at 0 C, as rolled",
            unit=CONDUCTIVITY,
            backing=by_parts,
        ),
        heat_capacity=given(
            "paste_heat_capacity",
            float(food.heat_capacity(bait.make_up, 273.15)),
            label="heat capacity of the paste at 0 C, as rolled",
            unit=HEAT_CAPACITY,
            backing=by_parts,
        ),
    )
