"""Headings of a table from elsewhere matched to our own: by words, by spelling, or as told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_headings import Ours, find_column, unit_of
from baitwright.workshop.typed.nearest import nearest, plain_name

_MUST = (Ours.ITEM, Ours.AMOUNT)


@dataclass(frozen=True, slots=True)
class Column:
    """A heading of theirs that is one of ours: its place, its unit, and how it was found."""

    ours: Ours
    heading: str
    place: int
    unit: str
    how: str


@dataclass(frozen=True, slots=True)
class Columns:
    """What of a table is used, and the headings that are not."""

    matched: Mapping[Ours, Column]
    unmatched: tuple[str, ...]


def match_columns(headings: tuple[str, ...], told: Mapping[str, str]) -> Columns:
    """Find our columns among their headings.

    Parameters
    ----------
    headings: theirs, each once.
    told: the maker's own choice, ours to theirs; theirs empty leaves ours out.

    Raises
    ------
    InputError: a name nobody knows, two headings for one of ours, or none for item or amount.
    """
    chosen = {_ours(name): _theirs(theirs, headings) for name, theirs in told.items()}
    taken = set(chosen.values())
    matched: dict[Ours, Column] = {}
    for ours in Ours:
        if ours in chosen:
            found, how = [place for place in [chosen[ours]] if place is not None], "as you said"
        else:
            found, how = find_column(ours, headings)
            found = [place for place in found if place not in taken]
        if len(found) > 1:
            got = " and ".join(repr(headings[place]) for place in found)
            accepted = f'one heading: say --column "{ours}={headings[found[0]]}"'
            raise InputError(f"column {ours}", got, accepted)
        if found:
            place = found[0]
            matched[ours] = Column(ours, headings[place], place, unit_of(headings[place])[1], how)
    for ours in _MUST:
        if ours not in matched:
            raise _missing(ours, headings)
    used = {column.place for column in matched.values()}
    rest = tuple(heading for place, heading in enumerate(headings) if place not in used)
    return Columns(matched, rest)


def _ours(name: str) -> Ours:
    plain = plain_name(name)
    if plain not in tuple(Ours):
        near = nearest(plain, Ours, most=1)
        hint = f"Nearest: {near[0]!r}." if near else ""
        raise InputError("column", name, f"one of ours: {', '.join(Ours)}", hint=hint)
    return Ours(plain)


def _theirs(name: str, headings: tuple[str, ...]) -> int | None:
    if not name.strip():
        return None
    places = {plain_name(heading): place for place, heading in enumerate(headings)}
    if plain_name(name) not in places:
        raise InputError("column", name, f"a heading of the table: {', '.join(headings)}")
    return places[plain_name(name)]


def _missing(ours: Ours, headings: tuple[str, ...]) -> InputError:
    near = nearest(ours, headings, most=1)
    hint = f"Is it {near[0]!r}? " if near else ""
    hint += f'Say --column "{ours}=THEIR HEADING".'
    example = "'Amount (kg)'" if ours is Ours.AMOUNT else f"{str(ours).capitalize()!r}"
    return InputError("columns", ", ".join(headings), f"one such as {example}", hint=hint)
