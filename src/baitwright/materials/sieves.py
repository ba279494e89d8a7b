"""Sieves, and what they hold back."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.defaults import default
from baitwright.materials.powders import Ingredient
from baitwright.materials.tables import Row, find, load, one_of

TABLE_OPENING = 1e-3  # m; the openings that the table of retention speaks of


@dataclass(frozen=True, slots=True, kw_only=True)
class Sieve(Row):
    """A sieve by its openings [m]; a kitchen sieve has no standard wire or tolerance."""

    name: str
    opening: float
    wire: float | None
    mean_tolerance: float | None
    largest_excess: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Retention(Row):
    """Share by mass that a sieve of about 1 mm holds back, with its band."""

    applies_to: str = one_of("role", "ingredient")
    fraction: float
    low: float
    high: float


def sieves() -> Mapping[str, Sieve]:
    """Every sieve by id."""
    return load("sieves", Sieve)


def sieve(name: str, field: str = "bench.sieve") -> Sieve:
    """A sieve by id, name or opening such as ``"1.12 mm"``.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    size = name.strip().lower().removesuffix("mm").strip()
    for each in sieves().values():
        if each.id != "kitchen" and size == f"{each.opening * 1e3:g}":
            return each
    return find(sieves(), name, field)


def retained_share(part: Ingredient | None, sieve_name: str | None) -> float:
    """Share by mass that a sieve holds back.

    Parameters
    ----------
    part: an ingredient, or None for a base nobody has analysed.
    sieve_name: a row of the sieve table, or None for a mix that is not sieved.

    Returns
    -------
    The middle of the share held back.

    Raises
    ------
    InputError: there is no such sieve.

    Notes
    -----
    The table speaks of openings of 1 mm; grain sizes are taken as log-normal, so that the share on
    another mesh is Phi(z - ln(opening / 1 mm) / spread), with z from the share on 1 mm.
    """
    if sieve_name is None:
        return 0.0
    share, opening = retention(part).fraction, sieve(sieve_name).opening
    if not 0.0 < share < 1.0 or opening == TABLE_OPENING:
        return share
    # statistics costs 10 ms to import, which only the rarer meshes pay.
    from statistics import NormalDist

    spread = default("grain_size_spread").value
    bell = NormalDist()
    return bell.cdf(bell.inv_cdf(share) - math.log(opening / TABLE_OPENING) / spread)


def retention(part: Ingredient | None) -> Retention:
    """What a sieve of about 1 mm holds of an ingredient, or of a base nobody has analysed."""
    table = load("sieve_retention", Retention)
    if part is None:
        return table["unknown"]
    return table.get(part.id) or table[part.role]
