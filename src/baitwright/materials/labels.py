"""Sizes of labels, one on a page or many on a sheet that is cut, and limits of codes on them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, in_si, load, slug
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSize(Row):
    """A page, the labels on it in rows and columns, the gap between them, in m.

    ``code`` is the side of the square that the lot's code may take, its quiet zone within.
    """

    name: str
    page_width: float
    page_height: float
    label_width: float
    label_height: float
    code: float
    across: int
    down: int
    gap: float

    @property
    def places(self) -> int:
        """How many labels a page holds."""
        return self.across * self.down


def label_sizes() -> Mapping[str, LabelSize]:
    """Every size by id."""
    return load("label_sizes", LabelSize)


def label_size(name: str) -> LabelSize:
    """A size by its id, however it is spelled in case and spaces.

    Raises
    ------
    InputError: there is none.
    """
    found = label_sizes().get(slug(name))
    if found is None:
        raise InputError("paper", name, f"one of: {', '.join(label_sizes())}")
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeLimit(Row):
    """What a printed code needs so that a phone reads it, in ``unit``."""

    label: str
    value: float
    unit: str


def code_limit(name: str) -> float:
    """A limit of codes by id, in SI. An unknown id is a slip of ours and raises KeyError."""
    row = load("code_limits", CodeLimit)[name]
    return in_si(row.value, row.unit)
