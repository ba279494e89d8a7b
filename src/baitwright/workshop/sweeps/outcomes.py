"""What a sweep tells of a design: columns by group, each with its unit in its name.

A number with a band has three columns, for its middle and the ends of the band that holds it in
four cases of five. What never comes is ``inf``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.batch.in_lake import in_lake, through_the_night
from baitwright.batch.keep import keep
from baitwright.batch.to_tray import OnTray
from baitwright.quantities import from_si
from baitwright.recipe.bench import Bench
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of

BAND = ("median", "low80", "high80")


@dataclass(frozen=True, slots=True)
class Outcome:
    """One number of a design: its name, its unit in a column's name, whether it has a band."""

    name: str
    unit: str
    is_band: bool = True

    @property
    def columns(self) -> tuple[str, ...]:
        """The names of its columns."""
        name = f"{self.name}_{self.unit}" if self.unit else self.name
        return tuple(f"{name}_{part}" for part in BAND) if self.is_band else (name,)


OUTCOMES: dict[str, tuple[Outcome, ...]] = {
    "making": (
        Outcome("dry_mix", "g"),
        Outcome("baits", ""),
        Outcome("boil", "s", is_band=False),
        Outcome("tray", "h", is_band=False),
        Outcome("diameter", "mm"),
        Outcome("mass", "g"),
        Outcome("water_activity", ""),
    ),
    "lift": (
        Outcome("lift", "g"),
        Outcome("lift_on_rig", "g"),
        Outcome("as_wanted", "percent", is_band=False),
    ),
    "night": (
        Outcome("lift_after_night", "g"),
        Outcome("lasts", "h"),
        Outcome("recast", "h"),
    ),
    "keeping": (
        Outcome("fridge", "d", is_band=False),
        Outcome("ambient", "d", is_band=False),
        Outcome("freezer", "d", is_band=False),
    ),
}
GROUPS = tuple(OUTCOMES)
USUAL = ("making", "lift", "night")
_UNITS = {"percent": "%"}


def columns(told: tuple[str, ...]) -> tuple[str, ...]:
    """The columns of some groups, in the order of all."""
    return tuple(
        name for group in _in_order(told) for one in OUTCOMES[group] for name in one.columns
    )


def _in_order(told: tuple[str, ...]) -> Iterator[str]:
    return (group for group in GROUPS if group in told)


def outcomes(made: OnTray, bench: Bench, told: tuple[str, ...]) -> list[float]:
    """The numbers of a design, one to a column; stages that no group asks for are left out.

    Parameters
    ----------
    made: its baits, dry.
    bench: with its lake and rig.
    told: groups.

    Raises
    ------
    InputError: anything that a stage refuses.
    """
    found: list[float] = []
    for group, quantities in _quantities(made, bench, told):
        for one, quantity in zip(OUTCOMES[group], quantities, strict=True):
            found += _numbers(one, quantity)
    return found


def _quantities(
    made: OnTray, bench: Bench, told: tuple[str, ...]
) -> Iterator[tuple[str, tuple[Quantity, ...]]]:
    lying = None if set(told) == {"making"} else in_lake(made, bench)
    dry = made.dried
    for group in _in_order(told):
        match group:
            case "making":
                counts = (made.bowl.mix.dry_mix, made.rolled.baits, made.boiled.seconds)
                yield group, (*counts, made.dried.time, dry.diameter, dry.mass, dry.activity)
            case "lift":
                assert lying is not None
                yield group, (lying.water.dried, lying.water.rig, lying.water.wish)
            case "night":
                assert lying is not None
                night = through_the_night(lying, made, bench)
                yield group, (night.curve[-1].lift, night.lasts, night.recast)
            case "keeping":
                assert lying is not None
                fished = lying.tray.dried
                kept = keep(fished, made.request.recipe, bench=bench, unknowns=made.unknowns)
                places = (kept.place(one.name) for one in OUTCOMES[group])
                yield group, tuple(place.cautious for place in places)


def _numbers(outcome: Outcome, quantity: Quantity) -> list[float]:
    band = band_of(quantity)
    told = BAND if outcome.is_band else BAND[:1]
    unit = _UNITS.get(outcome.unit, outcome.unit)
    return [from_si(getattr(band, part), unit) if unit else getattr(band, part) for part in told]
