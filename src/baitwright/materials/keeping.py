"""What grows on a bait and how fast, what regulators say of food like it, what a label promises."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of

PLACES = ("fridge", "ambient", "freezer")
ANY_PLACE = "any"


@dataclass(frozen=True, slots=True, kw_only=True)
class GrowthModel(Row):
    """An organism's growth law on one food, as printed: rates an hour, temperatures in K.

    A law of the square root has ``slope`` and ``zero``; a cardinal one its best rate and the
    temperatures where growth begins, is best and ends. ``low`` and ``high`` say where it was
    fitted, ``driest`` and ``sourest`` where it ends in water activity and pH.
    """

    name: str
    medium: str
    law: str = one_of("square root", "cardinal")
    slope: float | None
    zero: float | None
    low: float
    high: float
    best_rate: float | None
    lowest: float | None
    best: float | None
    highest: float | None
    driest: float | None
    sourest: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Organism(Row):
    """What may grow, and the water activity and temperature [K] below which it does not."""

    name: str
    role: str = one_of("spoiler", "pathogen")
    driest: float
    coldest: float | None

    def can_grow(self, activity: float, temperature: float) -> bool:
        """Whether it can grow at a water activity and temperature [K]; unknown counts as yes."""
        return activity >= self.driest and (self.coldest is None or temperature >= self.coldest)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepingLine(Row):
    """What an authority says of food like this: where it holds, and when that was checked.

    ``warmest`` is the temperature [K] up to which it is meant.
    """

    name: str
    place: str = one_of(*PLACES, ANY_PLACE)
    days_low: float | None
    days_high: float | None
    warmest: float | None
    country: str
    checked_on: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlLine(Row):
    """One cell of the tables by which food needs no control: a band of activity and a pH."""

    packed: bool
    activity_low: float
    low_counts: bool
    activity_high: float
    high_counts: bool
    ph_most: float
    most_counts: bool
    country: str
    checked_on: str

    def covers(self, activity: float) -> bool:
        """Whether a water activity lies in this band, by whichever of its ends count."""
        above = activity > self.activity_low or (self.low_counts and activity == self.activity_low)
        below = activity < self.activity_high or (
            self.high_counts and activity == self.activity_high
        )
        return above and below


@dataclass(frozen=True, slots=True, kw_only=True)
class Preserver(Row):
    """A preservative or sweetener, the words that give it away, and what to know of it."""

    name: str
    kind: str = one_of("preservative", "sweetener")
    words: tuple[str, ...]
    text: str


def growth_models() -> Mapping[str, GrowthModel]:
    """Every growth model by id."""
    return load("growth_models", GrowthModel)


def organisms() -> Mapping[str, Organism]:
    """Every organism by id."""
    return load("organisms", Organism)


def growing(role: str, *, activity: float, temperature: float) -> tuple[Organism, ...]:
    """Spoilers or pathogens that can still grow at a water activity and temperature [K]."""
    return tuple(
        row
        for row in organisms().values()
        if row.role == role and row.can_grow(activity, temperature)
    )


def keeping_lines(place: str, country: str = "") -> tuple[KeepingLine, ...]:
    """What authorities say of a place, of one country; of all where it has none or none is named.

    Parameters
    ----------
    place: one of ``PLACES``, or ``ANY_PLACE`` for lines on water activity.
    country: two letters, or nothing.
    """
    here = [row for row in load("keeping_lines", KeepingLine).values() if row.place == place]
    own = [row for row in here if row.country == country]
    return tuple(own or here)


def control_lines() -> Mapping[str, ControlLine]:
    """Every cell of the tables on control by id."""
    return load("control_lines", ControlLine)


def needs_no_control(activity: float, ph: float | None, *, packed: bool) -> bool:
    """Whether food of this water activity and pH needs no control by the table; unknown is 14.

    Parameters
    ----------
    activity: water activity, 0 to 1.
    ph: its pH, or None where nobody measured it.
    packed: whether it was heat-treated in its pack or packed at once; what dries open is not.
    """
    (row,) = (
        row for row in control_lines().values() if row.packed is packed and row.covers(activity)
    )
    sour = 14.0 if ph is None else ph
    return sour < row.ph_most or (row.most_counts and sour == row.ph_most)


def dry_line(*, packed: bool) -> ControlLine:
    """The driest band, which needs no control at any pH."""
    return next(row for row in control_lines().values() if row.packed is packed)


def preservers_in(text: str) -> tuple[Preserver, ...]:
    """Every preservative or sweetener that a name gives away."""
    lowered = text.lower().replace("-", " ")
    return tuple(
        row
        for row in load("preservers", Preserver).values()
        if any(word.replace("-", " ") in lowered for word in row.words)
    )
