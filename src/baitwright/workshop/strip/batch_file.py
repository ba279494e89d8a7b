"""What really happened to a batch, as the maker writes it in a file: the readings and more."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

from baitwright.ledger.movements import Amount
from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.readings_file import ReadingsTable
from baitwright.workshop.typed.amounts import read_amount
from baitwright.workshop.typed.fields import Reads, measured, number
from baitwright.workshop.typed.reading import load, parse

_EGG = measured(Kind.MASS, "5 g", "200 g", example="64 g", about="")
_SIZE = measured(Kind.LENGTH, "3 mm", "60 mm", example="15.4 mm", about="")


def _each(one: Reads, about: str) -> Reads:
    """A list of values that are read alike."""
    accepted = f"a list, of each {one.accepted}"

    def read(value: object) -> tuple[Any, ...]:
        if not isinstance(value, list) or not 0 < len(value) <= 1000:
            raise InputError("", value, accepted)
        return tuple(one.read(part) for part in value)

    return Reads(read, accepted, about, {"type": "array", "items": one.schema})


def _drawn(value: object) -> dict[str, Amount]:
    if not isinstance(value, dict) or not all(isinstance(one, str) for one in value.values()):
        raise InputError("", value, _DRAWN)
    return {name: read_amount(text) for name, text in value.items()}


_DRAWN = 'each liquid with its amount, such as Malt = "2.3 ml"'


class BatchTable(ReadingsTable):
    """What was used and measured of one batch; everything may be left out."""

    eggs: Annotated[
        tuple[float, ...] | None, _each(_EGG, "Each egg in the shell or, without it, in the bowl.")
    ] = None
    drawn: Annotated[
        dict[str, Amount] | None,
        Reads(_drawn, _DRAWN, "What was drawn of each liquid.", {"type": "object"}),
    ] = None
    baits_good: Annotated[
        int | None, number(1, 1_000_000, example=258, about="Baits good enough to keep.")
    ] = None
    boiled: Annotated[
        float | None,
        measured(Kind.DURATION, "5 s", "30 min", example="90 s", about="Time in the pot."),
    ] = None
    twenty_at_24h: Annotated[
        float | None,
        measured(Kind.MASS, "0.1 g", "10 kg", example="27.9 g", about="Twenty after 24 h."),
    ] = None
    diameter_fresh: Annotated[tuple[float, ...] | None, _each(_SIZE, "Diameters from the pot.")] = (
        None
    )
    cut_open: Annotated[
        float | None,
        measured(
            Kind.DURATION,
            "5 s",
            "30 min",
            example="70 s",
            about="Time in the pot when one cut open had set to its core.",
        ),
    ] = None
    base_sieved: Annotated[
        float | None,
        measured(Kind.MASS, "1 g", "100 kg", example="1 kg", about="The base before the sieve."),
    ] = None
    coarse_left: Annotated[
        float | None,
        measured(Kind.MASS, "0.1 g", "100 kg", example="140 g", about="What the sieve held back."),
    ] = None
    diameter_dried: Annotated[tuple[float, ...] | None, _each(_SIZE, "Diameters when dried.")] = (
        None
    )


def read_batch(path: Path) -> BatchTable:
    """What was used and measured of a batch.

    Raises
    ------
    InputError: an unknown key, or a value that cannot be.
    """
    return parse(load(path, what="batch"), BatchTable, where=str(path))
