"""The why of a number for a page: formula, source, bands, what moves and narrows it, its inputs.

It tells the same graph as `--explain`, each number written out once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from baitwright.batch.prove import Measurement
from baitwright.quantities import percent
from baitwright.sheets.wording import is_number, stated
from baitwright.sources import sources
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Origin, Quantity, identity
from baitwright.uncertainty.bands import Mover, movers_of
from baitwright.workshop.told.number_shown import Bands, bands_of, key_of

_FACTOR = "factor:"
_KINDS = {
    Origin.COMPUTED: "",
    Origin.GIVEN: "as you told it",
    Origin.DEFAULT: "a default nobody has stated or measured",
    Origin.TABLE: "from a table",
    Origin.FACTOR: "your own factor",
}
_NARROWS = {
    Origin.DEFAULT: "state or measure yours; it is a default",
    Origin.TABLE: "weigh or measure your own; it is a table's value",
    Origin.FACTOR: "each batch that is written down sharpens it",
    Origin.GIVEN: "a finer scale or rule",
    Origin.COMPUTED: "",
}


@dataclass(frozen=True, slots=True)
class Why:
    """One number opened.

    Parameters
    ----------
    role: what it is to the number above it.
    kind: how it came to be, where it was not computed.
    moved_by: unknowns, each with its share of the spread.
    narrows: unknowns, each with what would make it surer.
    is_above: whether it was written out already; then nothing but its name and value is here.
    """

    key: str
    role: str
    label: str
    value: str
    kind: str = ""
    bands: Bands | None = None
    equation: str = ""
    source: str = ""
    citation: str = ""
    evidence: str = ""
    note: str = ""
    moved_by: tuple[tuple[str, str], ...] = ()
    narrows: tuple[tuple[str, str], ...] = ()
    inputs: tuple[Why, ...] = ()
    is_above: bool = False


class Numbers(Protocol):
    """What has numbers that can be opened: a plan, or a mix taken apart."""

    def quantities(self) -> Iterable[Quantity]:
        """Every number of it."""
        ...

    @property
    def readings(self) -> Iterable[Measurement]:
        """Measurements that would make it surer."""
        ...


def why(made: Numbers, key: str) -> Why:
    """The why of one number.

    Parameters
    ----------
    made: the plan or the mix.
    key: of the number, as `key_of` tells it.

    Raises
    ------
    InputError: the plan has no such number.
    """
    found = next((one for one in _parts(made) if key_of(one) == key), None)
    if found is None:
        raise InputError("number", key, "a number of this page, as it links to it")
    return _opened(found, "", made=made, seen=set())


def _parts(made: Numbers) -> Iterator[Quantity]:
    """Its own numbers before those that they stand on."""
    own = list(made.quantities())
    yield from own
    seen: set[int] = set()
    for quantity in own:
        yield from quantity.walk(seen)


def _opened(quantity: Quantity, role: str, *, made: Numbers, seen: set[tuple[object, ...]]) -> Why:
    said = quantity.value if isinstance(quantity.value, str) else stated(quantity)
    told = Why(key_of(quantity), role.replace("_", " "), quantity.label, said)
    if identity(quantity) in seen:
        return replace(told, is_above=True)
    seen.add(identity(quantity))
    drawn = quantity.origin is Origin.COMPUTED and is_number(quantity)
    movers = movers_of(quantity) if drawn else ()
    known = sources().get(quantity.source)
    return replace(
        told,
        kind=_KINDS[quantity.origin],
        bands=bands_of(quantity) if is_number(quantity) else None,
        equation=quantity.equation,
        source=quantity.source if known else "",
        citation=known.citation if known else "",
        evidence=str(quantity.evidence),
        note=quantity.note,
        moved_by=tuple((one.label, percent(one.share)) for one in movers),
        narrows=tuple(_narrowing(quantity, movers, made)),
        inputs=tuple(_opened(part, name, made=made, seen=seen) for name, part in quantity.inputs),
    )


def _narrowing(
    quantity: Quantity, movers: tuple[Mover, ...], made: Numbers
) -> Iterator[tuple[str, str]]:
    """What would make the unknowns surer that a number moves with most."""
    origins = {(part.name, part.label): part.origin for part in quantity.walk()}
    weighed = {f"{_FACTOR}{one.factor}": one.how for one in made.readings}
    for mover in movers:
        how = weighed.get(mover.name) or _NARROWS[origins[mover.name, mover.label]]
        yield mover.label, how
