"""Named numbers that remember where they came from, and the functions declared to make them.

Every number of a plan is a `Quantity`. Those that are computed come from a function marked with
`declared`; calling it with quantities records equation, source and inputs, so that a plan can be
opened number by number down to the weighings it stands on.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any, Protocol

from baitwright.terms.errors import ComputationError
from baitwright.terms.evidence import Evidence
from baitwright.terms.units import PLAIN, Unit


class Origin(StrEnum):
    """How a number came to be."""

    GIVEN = "given"
    DEFAULT = "default"
    TABLE = "table"
    FACTOR = "factor"
    COMPUTED = "computed"


@dataclass(frozen=True, slots=True)
class PerBatch:
    """Draws of something unknown once for the whole batch; ``values`` has shape (batches, 1)."""

    values: Any = field(repr=False)


@dataclass(frozen=True, slots=True)
class PerBait:
    """Draws of something that varies in the tray; ``values`` has shape (batches, baits)."""

    values: Any = field(repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """A named value with unit and origin.

    ``value`` is a float, draws (`PerBatch`, `PerBait`) or the record of a solver's run; ``unit`` is
    SI and ``shown`` the unit the maker reads it in. ``inputs`` are the quantities it was made from.
    """

    name: str
    label: str
    value: Any
    unit: str
    shown: str
    origin: Origin
    source: str
    evidence: Evidence
    equation: str = ""
    note: str = ""
    inputs: tuple[tuple[str, Quantity], ...] = field(default=(), repr=False)

    def labelled(self, label: str) -> Quantity:
        """The same quantity under a more particular label, such as one liquid's dose."""
        return replace(self, label=label)

    def walk(self, seen: set[int] | None = None) -> Iterator[Quantity]:
        """This quantity and everything it stands on, each once; none that ``seen`` knows by id."""
        seen = set() if seen is None else seen
        waiting = [self]
        while waiting:
            quantity = waiting.pop()
            if id(quantity) in seen:
                continue
            seen.add(id(quantity))
            yield quantity
            waiting.extend(part for _, part in reversed(quantity.inputs))


def unwrap(value: Any) -> Any:
    """The bare float or array of a quantity's value; arrays of both levels broadcast."""
    return value.values if isinstance(value, PerBatch | PerBait) else value


def rewrap(value: Any) -> Any:
    """A bare result as known float, draws per batch or draws per bait, by its shape."""
    shape = getattr(value, "shape", None)
    if shape is None or isinstance(value, float):
        return value
    if shape == ():
        return float(value)
    if len(shape) == 2:
        return PerBatch(value) if shape[1] == 1 else PerBait(value)
    return value


def _require_number(name: str, value: Any) -> None:
    """Refuse a result that is not a number; infinity may mean `never` and passes."""
    bare = unwrap(value)
    if isinstance(bare, float):
        broken = math.isnan(bare)
    elif hasattr(bare, "dtype"):
        broken = bool((bare != bare).any())  # noqa: PLR0124  nan, without numpy
    else:
        return
    if broken:
        raise ComputationError(f"{name} could not be computed: the result is not a number")


@dataclass(frozen=True, slots=True)
class Declared:
    """A function that makes one named quantity, with everything needed to explain it."""

    function: Callable[..., Any]
    name: str
    label: str
    unit: Unit
    equation: str
    source: str
    note: str

    def __call__(self, **inputs: Quantity) -> Quantity:
        """Make the quantity from other quantities, and keep the record of it."""
        bare = {key: unwrap(quantity.value) for key, quantity in inputs.items()}
        value = rewrap(self.function(**bare))
        _require_number(self.name, value)
        return Quantity(
            name=self.name,
            label=self.label,
            value=value,
            unit=self.unit.si,
            shown=self.unit.shown,
            origin=Origin.COMPUTED,
            source=self.source,
            evidence=Evidence.COMPUTED,
            equation=self.equation,
            note=self.note,
            inputs=tuple(inputs.items()),
        )


_DECLARED: dict[str, Declared] = {}


def declared(
    name: str,
    *,
    label: str,
    equation: str,
    source: str,
    unit: Unit = PLAIN,
    note: str = "",
) -> Callable[[Callable[..., Any]], Declared]:
    """Declare the one function that makes a named quantity.

    Parameters
    ----------
    name: the quantity's name, unique in the program.
    label: the name in the maker's words.
    equation: the formula in one line, with the function's own argument names.
    source: a key of the bibliography.
    unit: the unit of the result, as kept and as shown.
    note: what the reader should know besides, such as where judgement comes in.
    """

    def register(function: Callable[..., Any]) -> Declared:
        if name in _DECLARED:
            raise ValueError(f"two functions are declared to make {name!r}")
        made = Declared(function, name, label, unit, equation, source, note)
        _DECLARED[name] = made
        return made

    return register


def declarations() -> tuple[Declared, ...]:
    """Every declared function of the modules imported so far, by name."""
    return tuple(_DECLARED[name] for name in sorted(_DECLARED))


def maker_of(quantity: Quantity) -> Declared:
    """The declared function that a computed quantity came from, to work it out again.

    A quantity that took another name is known by its equation.

    Raises
    ------
    ComputationError: no function is declared to make it.
    """
    made = _DECLARED.get(quantity.name)
    if made is None or made.equation != quantity.equation:
        same = (one for one in _DECLARED.values() if one.equation == quantity.equation)
        made = next(same, None) if quantity.equation else None
    if made is None:
        raise ComputationError(f"no function is declared to make {quantity.name!r}")
    return made


def identity(quantity: Quantity) -> tuple[object, ...]:
    """Two quantities are one when name, label and value agree, though they were made twice."""
    return (quantity.name, quantity.label, _digest(quantity.value))


def _digest(value: Any) -> object:
    bare = unwrap(value)
    if isinstance(bare, bool | int | float | str):
        return bare
    return bare.tobytes() if hasattr(bare, "tobytes") else id(bare)


@dataclass(frozen=True, slots=True)
class Backing:
    """What stands behind a number that was not computed."""

    origin: Origin
    source: str
    evidence: Evidence
    note: str = ""


_THE_MAKER = Backing(Origin.GIVEN, "maker", Evidence.MEASURED)
IDENTITY = Backing(Origin.TABLE, "definition", Evidence.COMPUTED)
"""Behind a number that is there by definition, such as a count of baits weighed together."""


def tabled(row: _Row) -> Backing:
    """Behind a number that stands in a table: the row's own source and evidence."""
    return Backing(Origin.TABLE, row.source, row.evidence, row.note)


class _Row(Protocol):
    """What a row of a table says of itself."""

    @property
    def source(self) -> str: ...
    @property
    def evidence(self) -> Evidence: ...
    @property
    def note(self) -> str: ...


def given(
    name: str, value: Any, *, label: str, unit: Unit = PLAIN, backing: Backing = _THE_MAKER
) -> Quantity:
    """A quantity that enters the plan from outside: stated by the maker, or out of a table.

    Parameters
    ----------
    name, label: what it is called in the program and by the maker.
    value: a float, draws, or the record of something.
    unit: as kept and as shown.
    backing: what stands behind it; the maker's word where nothing is said.
    """
    return Quantity(
        name=name,
        label=label,
        value=value,
        unit=unit.si,
        shown=unit.shown,
        origin=backing.origin,
        source=backing.source,
        evidence=backing.evidence,
        note=backing.note,
    )
