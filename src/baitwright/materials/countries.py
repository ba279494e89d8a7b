"""Countries whose rules stand in the cautions, and what each lies within."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load

ANYWHERE = "any"
"""The country of what holds everywhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Country(Row):
    """A country, a union of them or a part of one, and which larger ones it lies within."""

    name: str
    within: tuple[str, ...]


def countries() -> Mapping[str, Country]:
    """Every country by its code."""
    return load("countries", Country)


def is_known(country: str | None) -> bool:
    """Whether rules of this country are among those here."""
    return country is not None and country in countries()


def rules_hold(places: frozenset[str], country: str) -> bool:
    """Whether rules of some places are to be told to whoever is in a country.

    Those of what it lies within are, and those of its parts. Of a country that is not told or not
    known everything is told; of ``"any"`` only what holds everywhere.
    """
    if ANYWHERE in places:
        return True
    if country == ANYWHERE:
        return False
    if not is_known(country):
        return True
    parts = {one.id for one in countries().values() if country in one.within}
    return bool(places & {country, *countries()[country].within, *parts})


def country_words(country: str | None) -> str:
    """What is said where a country's rules are not known; nothing where they are."""
    if is_known(country):
        return ""
    told = "No country was told" if not country else f"No rules of {country} are known here"
    return f"{told}: those of every country here are shown, each with its own in front."
