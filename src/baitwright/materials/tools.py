"""What a maker measures with, how far off each may be, and which syringe to take for a dose."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baitwright.materials.defaults import default
from baitwright.materials.tables import Row, find, load, one_of
from baitwright.terms.errors import InputError, RangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Syringe(Row):
    """A syringe, or a squeeze pipette to compare it with; volumes in m3.

    The tolerance on what is expelled is a share of the nominal volume plus a share of the volume
    drawn, with one pair of shares below half full and another from half full on.
    """

    name: str
    kind: str = one_of("syringe", "squeeze-pipette")
    nominal: float
    graduation: float
    dead_space: float
    constant_share: float
    below_half: float
    from_half_constant: float
    from_half: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Glass(Row):
    """A cylinder, beaker or graduated pipette: one limit of error all along; volumes in m3."""

    name: str
    standard: str
    grade: str
    nominal: float
    tolerance: float
    graduation: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale(Row):
    """A digital scale by its step [kg]."""

    name: str
    step: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoon(Row):
    """A spoon: volume with its band for a thick liquid [m3]; for powders the relative spread."""

    name: str
    volume: float
    low: float
    high: float
    powder_spread: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop(Row):
    """What one drop of a kind of liquid may hold [m3]; only a calibrated bottle gives a dose."""

    name: str
    drop: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Draw:
    """One fill of a syringe for a dose; volumes in m3.

    volume: the mark to draw to. rounding: mark minus dose. tolerance: the tool's own limit there.
    error: half-width of everything that is not known (tolerance, setting to the mark, tip).
    u: its standard uncertainty.
    """

    tool: Syringe
    volume: float
    rounding: float
    tolerance: float
    error: float
    u: float

    @property
    def total(self) -> float:
        """Error with the rounding, which is known but still misses the dose [m3]."""
        return math.hypot(self.error, self.rounding)

    @property
    def relative(self) -> float:
        """Half-width of the error as a share of what is drawn."""
        return self.error / self.volume


def syringes() -> Mapping[str, Syringe]:
    """Every syringe and squeeze pipette by id."""
    return load("syringes", Syringe)


def syringe(name: str, field: str = "bench.syringes") -> Syringe:
    """A syringe by id, name or nominal size such as ``"5 ml"``.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    size = name.strip().lower().removesuffix("ml").strip()
    by_size = syringes().get(f"syringe-{size}")
    return by_size or find(syringes(), name, field)


def cylinders() -> Mapping[str, Glass]:
    """Every measuring cylinder by id."""
    return load("cylinders", Glass)


def pipettes() -> Mapping[str, Glass]:
    """Every graduated pipette by id."""
    return load("pipettes", Glass)


def scales() -> Mapping[str, Scale]:
    """Every scale by id."""
    return load("scales", Scale)


def spoons() -> Mapping[str, Spoon]:
    """Every spoon by id."""
    return load("spoons", Spoon)


def spoon(name: str, field: str = "bench.spoon") -> Spoon:
    """A spoon by id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    return find(spoons(), name, field)


def drops() -> Mapping[str, Drop]:
    """What a drop may hold by kind of liquid."""
    return load("droppers", Drop)


def syringe_tolerance(tool: Syringe, volume: float) -> float:
    """Largest error of a new syringe on the volume it expels.

    Parameters
    ----------
    tool: the syringe
    volume: expelled [m3]

    Returns
    -------
    The limit, plus or minus [m3].

    Raises
    ------
    RangeError: more than the syringe holds, or nothing.

    Notes
    -----
    Below half of the nominal volume V: 0.015 V + 0.02 v (0.01 v from 5 ml on); from half on 0.05 v
    (0.04 v). For a new sterile syringe with water; a used one with glycol may be further off.

    Reference: iso-7886-1, table 1, by smtl-2016.
    """
    if not 0.0 < volume <= tool.nominal * (1.0 + 1e-9):
        raise RangeError("dose", volume * 1e6, low=0.0, high=tool.nominal * 1e6, unit="ml")
    if volume < tool.nominal / 2.0:
        return tool.constant_share * tool.nominal + tool.below_half * volume
    return tool.from_half_constant * tool.nominal + tool.from_half * volume


def draw(tool: Syringe, dose: float) -> Draw:
    """One fill of this syringe, to the mark nearest the dose.

    Parameters
    ----------
    tool: the syringe
    dose: wanted [m3]

    Raises
    ------
    RangeError: the dose is nothing or more than the syringe holds.
    """
    if not 0.0 < dose <= tool.nominal * (1.0 + 1e-9):
        raise RangeError("dose", dose * 1e6, low=0.0, high=tool.nominal * 1e6, unit="ml")
    marks = max(1, round(dose / tool.graduation))
    volume = min(marks * tool.graduation, tool.nominal)
    tolerance = syringe_tolerance(tool, volume)
    reading = default("syringe_reading_share").value * tool.graduation
    tip = default("dead_space_share").value * tool.dead_space
    error = math.hypot(tolerance, reading, tip)
    return Draw(tool, volume, volume - dose, tolerance, error, error / math.sqrt(3.0))


def choose_syringe(dose: float, shelf: Iterable[Syringe] | None = None) -> Draw:
    """The syringe that measures a dose in one fill with the least total error.

    Parameters
    ----------
    dose: wanted [m3]
    shelf: the tools at hand; every syringe of the table if not given

    Returns
    -------
    The fill; of equals the smaller syringe.

    Raises
    ------
    InputError: no syringe holds the dose in one fill, or there is no dose.
    """
    if shelf is None:
        shelf = (tool for tool in syringes().values() if tool.kind == "syringe")
    tools = sorted(shelf, key=lambda tool: tool.nominal)
    draws = [draw(tool, dose) for tool in tools if 0.0 < dose <= tool.nominal * (1.0 + 1e-9)]
    if not draws:
        largest = f"{tools[-1].nominal * 1e6:g} ml" if tools else "none at hand"
        raise InputError(
            "dose",
            f"{dose * 1e6:g} ml",
            f"more than 0 and no more than one fill of a syringe, the largest being {largest}",
            hint="Weigh it instead, or measure it in a cylinder.",
        )
    return min(draws, key=lambda fill: fill.total)


def weighing_u(scale: Scale, *, tared: bool = True) -> float:
    """Standard uncertainty of one weighing from the scale's step alone.

    Parameters
    ----------
    scale: the scale
    tared: whether the reading is a difference of two, as after taring

    Returns
    -------
    The standard uncertainty [kg].

    Notes
    -----
    step / sqrt(12), times sqrt(2) when two readings are taken.

    Reference: gum-2008, F.2.2.1.
    """
    return scale.step / math.sqrt(12.0) * (math.sqrt(2.0) if tared else 1.0)
