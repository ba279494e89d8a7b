"""What is asked of the levels answer, from the words it is asked in."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.materials.factors import prior_factors
from baitwright.materials.liquids import carrier, level_range
from baitwright.materials.tools import Syringe
from baitwright.quantities import Kind, read, to_si
from baitwright.recipe.dosing import shelf_of
from baitwright.recipe.eggs import Eggs
from baitwright.recipe.levels import Measure
from baitwright.recipe.liquid import Liquid
from baitwright.terms.errors import InputError, RangeError
from baitwright.workshop.levels.asked_back import read_asked
from baitwright.workshop.levels.bridges import DryMix, read_dry_mix
from baitwright.workshop.levels.quick_bowl import Bowl, bowl_of
from baitwright.workshop.typed.eggs_text import ACCEPTED, parse_eggs
from baitwright.workshop.typed.unstated import CARRIER, is_thick, refuse_absurd, taken_as

_OWN_SPOONS = ("US", "AU")
"""Countries with spoons of their own, as grades and units name them."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question about levels as it was typed.

    ``levels`` may carry a name in front: "Malt: 0.2 ml per egg of 50 ml". ``carriers`` and
    ``strengths`` hold none, one for all levels, or one for each.
    """

    levels: tuple[str, ...]
    eggs: str | None
    dry_mix: str | None = None
    carriers: tuple[str, ...] = ()
    strengths: tuple[str, ...] = ()
    use: str = "hookbait"
    syringes: str | None = None
    drops_per_ml: float | None = None


@dataclass(frozen=True, slots=True)
class LevelsRequest:
    """The same question understood."""

    liquids: tuple[Liquid, ...]
    bowl: Bowl
    dry_mix: DryMix
    use: str
    shelf: tuple[Syringe, ...] | None
    country: str = ""
    eggs: tuple[Eggs, ...] = ()


def understand(asked: Asked) -> LevelsRequest:
    """Read a question.

    Raises
    ------
    InputError: whatever cannot be read, by the option it stands in.
    """
    if not asked.levels:
        raise InputError("levels", None, "at least one level, such as '0.2 ml per egg of 50 ml'")
    if asked.eggs is None:
        raise InputError("eggs", None, ACCEPTED)
    eggs = parse_eggs(asked.eggs, "eggs")
    bowl = bowl_of(eggs, prior_factors())
    return LevelsRequest(
        liquids=_liquids(asked),
        bowl=bowl,
        dry_mix=read_dry_mix(asked.dry_mix, bowl, "dry-mix"),
        use=asked.use,
        shelf=_shelf(asked.syringes),
        country=_country(eggs, asked.levels),
        eggs=eggs,
    )


def _liquids(asked: Asked) -> tuple[Liquid, ...]:
    count = len(asked.levels)
    carriers = _one_each(asked.carriers, count, field="carrier", usual=CARRIER)
    strengths = _one_each(asked.strengths, count, field="strength", usual="")
    drops = None
    if asked.drops_per_ml is not None:
        if not 5.0 <= asked.drops_per_ml <= 200.0:
            raise RangeError("drops-per-ml", asked.drops_per_ml, low=5, high=200)
        drops = asked.drops_per_ml / to_si(1.0, "ml")
    return tuple(
        _liquid(*words, use=asked.use, drops_per_volume=drops, alone=count == 1)
        for words in zip(asked.levels, carriers, strengths, strict=True)
    )


def _one_each(given: Sequence[str], count: int, *, field: str, usual: str) -> Sequence[str]:
    """One word for each level: the usual one, the same for all, or as given."""
    if len(given) <= 1:
        return [*given, usual][:1] * count
    if len(given) != count:
        raise InputError(field, ", ".join(given), f"one for all levels, or {count}: one for each")
    return given


def _liquid(
    text: str,
    carrier_name: str,
    strength: str,
    *,
    use: str,
    drops_per_volume: float | None,
    alone: bool,
) -> Liquid:
    name, colon, level_text = text.rpartition(":")
    level = read_asked(level_text.strip(), "level")
    if not alone and level.measure is not Measure.DROPS:
        drops_per_volume = None  # counted from another bottle
    row = carrier(carrier_name or CARRIER, "carrier")
    stated = level_range(strength, use, "strength").strength if strength else None
    thick = is_thick(row.id, stated, None)
    liquid = Liquid(
        name=name.strip() if colon else level.text,
        level=level,
        carrier=row.id,
        strength=taken_as(row.id, stated, thick=thick),
        thick=thick,
        strength_assumed=stated is None,
        drops_per_volume=drops_per_volume,
    )
    if drops_per_volume is not None or level.measure is not Measure.DROPS:
        refuse_absurd(liquid, "level")
    return liquid


def _country(eggs: Sequence[Eggs], levels: Sequence[str]) -> str:
    """The country whose spoons are at hand: as grades or units of the question name it."""
    words = {word for text in levels for word in text.split()}
    words |= {(lot.grade or "").partition(" ")[0] for lot in eggs}
    return next((country for country in _OWN_SPOONS if country in words), "")


def _shelf(text: str | None) -> tuple[Syringe, ...] | None:
    if text is None:
        return None
    sizes = [read(part, Kind.VOLUME, "syringes") for part in re.split(r"[;+]|, ", text)]
    if any(size <= 0 for size in sizes):
        raise InputError("syringes", text, "sizes such as '1 ml, 5 ml'")
    return tuple(shelf_of(sizes) or ())
