"""A pack's weight against what is stated on it, as an answer shows it and for programs."""

from __future__ import annotations

from typing import Any

from baitwright.advice.net_quantity import Checked, Limits, check_packs, limits_for
from baitwright.quantities import Kind, percent, read, show
from baitwright.sheets.wording import Figure
from baitwright.workshop.told.answer_parts import Large, Part

LIMIT = (
    "Whether these rules hold for your packs is for your local authority to say. Bait dries in its "
    "bag: weigh when you pack, without the bag. Bait sold by number is outside them."
)
SMALL = "A few packs prove little of all of them."


def packs_checked(stated: str, weighed: tuple[str, ...]) -> tuple[Limits, Checked | None]:
    """What is stated on a pack, and packs as weighed, if any.

    Raises
    ------
    InputError: no weight, or one beyond the table.
    """
    nominal = read(stated, Kind.MASS, "stated")
    told = [read(one, Kind.MASS, f"weighed {at}") for at, one in enumerate(weighed, start=1)]
    limits = limits_for(nominal)
    return limits, check_packs(nominal, told) if told else None


def packs_shown(limits: Limits, found: Checked | None) -> tuple[Part, ...]:
    """The limits, then a sample against the three rules."""
    error = _figure(limits.error)
    first = Part(
        f"Stated: {show(limits.nominal, 'g')}",
        large=(
            Large("one pack may lack", error, "tolerable negative error"),
            Large("few may lie below", _figure(limits.low), "2.5 % of them at most"),
            Large("none may lie below", _figure(limits.lowest), "twice the error"),
        ),
        lines=(LIMIT,),
    )
    return (first,) if found is None else (first, _sample(found))


def packs_json(limits: Limits, found: Checked | None) -> dict[str, Any]:
    """The same for programs, in grams."""
    told: dict[str, Any] = {
        "stated_g": 1e3 * limits.nominal,
        "tolerable_negative_error_g": round(1e3 * limits.error, 6),
        "few_below_g": round(1e3 * limits.low, 6),
        "none_below_g": round(1e3 * limits.lowest, 6),
    }
    if found is not None:
        told["sample"] = {
            "packs": len(found.weighed),
            "mean_g": round(1e3 * found.mean, 6),
            "mean_holds": found.mean_holds,
            "short": found.short,
            "far_short": found.far_short,
            "keeps_the_three_rules": found.holds,
        }
    return told


def _sample(found: Checked) -> Part:
    many = len(found.weighed)
    share = percent(found.short / many)
    points = (
        f"The mean is {show(found.mean, 'g')}: {_kept(found.mean_holds)} what is stated",
        f"{found.short} of {many} below the first limit, {share}: {_most(found.few_short)}",
        f"{found.far_short} below the second limit: {_most(not found.far_short)}",
    )
    word = "keeps" if found.holds else "breaks"
    return Part(f"This sample {word} the three rules", points=points, lines=(SMALL,))


def _figure(mass: float) -> Figure:
    number, _, unit = show(mass, "g", 4).rpartition(" ")
    return Figure(number, unit)


def _kept(holds: bool) -> str:
    return "not under" if holds else "under"


def _most(holds: bool) -> str:
    return "within it" if holds else "too many"
