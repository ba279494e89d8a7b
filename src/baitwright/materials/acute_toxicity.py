"""Classes of acute toxicity by route: their upper limits, and the point that stands for each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of

ROUTES = ("oral", "skin", "gas", "vapour", "dust or mist")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToxicityClass(Row):
    """One category of a route: its upper limit and its converted point, in the route's unit.

    Both are estimates of what harms, in mg/kg of body weight, mg/l of air or parts per million.
    """

    route: str = one_of(*ROUTES)
    category: int
    up_to: float
    point: float
    unit: str = one_of("mg/kg", "mg/l", "ppmV")
    phrase: str


def toxicity_classes(route: str) -> tuple[ToxicityClass, ...]:
    """The categories of a route, the most toxic first."""
    return tuple(one for one in _every().values() if one.route == route)


def unit_of(route: str) -> str:
    """The unit in which a route's estimates are told."""
    return toxicity_classes(route)[0].unit


def category_of(route: str, estimate: float) -> ToxicityClass | None:
    """The category an estimate falls into; None beyond the last."""
    return next((one for one in toxicity_classes(route) if estimate <= one.up_to), None)


def point_of(route: str, codes: Iterable[str]) -> float | None:
    """The estimate that stands for a phrase where its sheet has no figure; the worst it may mean.

    None where no phrase is about this route.
    """
    told = set(codes)
    return next((one.point for one in toxicity_classes(route) if one.phrase in told), None)


def _every() -> Mapping[str, ToxicityClass]:
    return load("acute_toxicity", ToxicityClass)
