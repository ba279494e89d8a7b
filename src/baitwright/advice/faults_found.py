"""What was found of a fault: its causes with what speaks for each, its test, and how to tell."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from baitwright.advice.causes_graph import Key, Other
from baitwright.advice.faults_tables import Symptom, Told, leaves
from baitwright.quantities import from_si, show, tidy
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, Quantity, maker_of, unwrap
from baitwright.uncertainty.bands import median_of

_FACTOR = "your factor: "


class Speaks(StrEnum):
    """What speaks for a cause."""

    DIFFERS = "planned otherwise than the last good one"
    DONE = "done otherwise than planned"
    READ = "by what was read"
    BAND = "out of its band"
    LOT = "another lot"


@dataclass(frozen=True, slots=True)
class Ground:
    """One thing that speaks for a cause, in the maker's words."""

    speaks: Speaks
    text: str

    @classmethod
    def differs(cls, other: Other, good: str) -> Ground:
        """A number of the plan that was another for the last good batch."""
        was, now = reads(other.then), reads(other.now)
        return cls(Speaks.DIFFERS, f"{named(other.now)}: {now}; {good} had {was}")

    @classmethod
    def done(cls, row: Told, quantity: Quantity, value: float) -> Ground:
        """What the maker did otherwise than the plan said."""
        label = row.told_as if quantity.label in row.told_as else f"{row.told_as}, {quantity.label}"
        unit = row.unit or quantity.shown
        was = show(median_of(quantity), unit)
        return cls(Speaks.DONE, f"{label}: {show(value, unit)}; planned {was}")


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause: what it is, which way it went, and how far it goes towards the trouble.

    ``size`` is in standard deviations of the sign that it moves most, of those that a batch has
    before anything is known; ``moves`` tells the same in the sign's own unit. ``way`` leads from it
    to the sign through the plan's numbers; nothing of a habit but the number it is hung on.
    ``evidence`` is what its being a cause rests on.
    """

    key: Key
    what: str
    size: float
    moves: str = ""
    way: tuple[str, ...] = ()
    grounds: tuple[Ground, ...] = ()
    test: str = ""
    care: str = ""
    evidence: Evidence = Evidence.COMPUTED
    is_model: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Shown:
    """A number of the plan that a symptom hangs on, and where it goes when things go wrong."""

    quantity: Quantity
    goes: str


@dataclass(frozen=True, slots=True)
class Tells:
    """The one reading that tells two causes apart, and what it would say of each."""

    reading: str
    first: tuple[str, str]
    second: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Fault:
    """A symptom of one batch with its causes, ranked; ``missing`` is what this plan has none of."""

    symptom: Symptom
    causes: tuple[Cause, ...]
    signs: tuple[Shown, ...]
    tells: Tells | None = None
    missing: str = ""


def named(quantity: Quantity) -> str:
    """A number as a maker calls it."""
    return quantity.label.removeprefix(_FACTOR)


def called(quantity: Quantity) -> str:
    """What a number is in the kitchen, with what it is of where there are several."""
    row = leaves().get(quantity.name)
    if row is None:
        return named(quantity)
    own = quantity.origin is Origin.COMPUTED and quantity.label != maker_of(quantity).label
    return f"{row.what}, {quantity.label}" if own else row.what


def reads(quantity: Quantity) -> str:
    """What a number is, or the word that stands for it."""
    bare = unwrap(quantity.value)
    if isinstance(bare, str):
        return bare
    if isinstance(bare, int | float) or hasattr(bare, "dtype"):
        return show(median_of(quantity), quantity.shown)
    return quantity.label


def by_how_much(quantity: Quantity, by: float) -> str:
    """A difference of a number, in its unit and with its sign."""
    unit = "K" if quantity.shown == "C" else quantity.shown
    size = by if unit == "K" else from_si(by, unit) if unit else by
    return f"{'+' if size > 0 else '-'}{tidy(abs(size), 2)} {unit}".rstrip()
