"""An ingredient's figures as numbers that know where they come from, drawn from lot to lot."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from baitwright.blending.candidate import Candidate
from baitwright.blending.labels import MAKER
from baitwright.materials.defaults import default
from baitwright.materials.tables import CONSTITUENTS
from baitwright.materials.variety import ANY, spread_of, spread_rows
from baitwright.physics.food import Composition, density
from baitwright.recipe.base_mix import ROOM
from baitwright.recipe.model import Analysis
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, PerBatch, Quantity, given, tabled
from baitwright.terms.units import (
    GRAMS_PER_GRAM,
    GRAMS_PER_MILLILITRE,
    KILOJOULES_PER_100_GRAMS,
    PERCENT,
    Unit,
)
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.spreads import Normal

METABOLISABLE = "metabolisable energy"
_CLOSED_BY = "carbohydrate"
_UNITS: Mapping[str, Unit] = {
    **dict.fromkeys(CONSTITUENTS, PERCENT),
    "density": GRAMS_PER_MILLILITRE,
    "bulk density": GRAMS_PER_MILLILITRE,
    "water holding": GRAMS_PER_GRAM,
    METABOLISABLE: KILOJOULES_PER_100_GRAMS,
}
_BAG = Backing(Origin.GIVEN, MAKER, Evidence.MEASURED, "as its bag says")


def figures_of(one: Candidate, draws: Draws | None) -> dict[str, Quantity]:
    """Every figure of an ingredient that somebody tells; what nobody tells is not there.

    ``draws`` spread its composition from lot to lot; without any it is as printed.
    """
    row = one.ingredient
    told = {name: one.figure(name) for name in _UNITS if name != METABOLISABLE}
    if row.energy_basis == "metabolisable" and not one.unstated:
        told[METABOLISABLE] = row.energy
    values: dict[str, Any] = {name: value for name, value in told.items() if value is not None}
    if draws is not None:
        centre = {name: values[name] for name in CONSTITUENTS if name in values}
        spread = {
            name: spread_of(row, name, from_label=_is_labelled(one, name)).sd_of(value)
            for name, value in centre.items()
        }
        values |= _drawn(row.id, centre, spread, draws=draws)
    return {
        name: given(
            f"{name.replace(' ', '_')}_of_part",
            value,
            label=f"{name} of {row.name}",
            unit=_UNITS[name],
            backing=_BAG if _is_labelled(one, name) else _table_behind(one, name),
        )
        for name, value in values.items()
    }


def _is_labelled(one: Candidate, name: str) -> bool:
    return name in one.overridden or one.ingredient.source == MAKER


def _table_behind(one: Candidate, name: str) -> Backing:
    row = one.ingredient
    if name == "bulk density" and row.bulk_evidence is not None:
        return Backing(Origin.TABLE, row.bulk_source, row.bulk_evidence, row.bulk_locator)
    if name == "water holding" and row.water_holding_evidence is not None:
        evidence = row.water_holding_evidence
        return Backing(Origin.TABLE, row.water_holding_source, evidence, row.water_holding_locator)
    if name == "density" and row.given_density is None:
        return Backing(Origin.TABLE, "choi-okos-1986", Evidence.COMPUTED, "from its composition")
    return tabled(row)


def _drawn(
    stream: str, centre: Mapping[str, float], spread: Mapping[str, float], *, draws: Draws
) -> dict[str, PerBatch]:
    """Parts drawn about their middles, their sum kept where all of them are told.

    Notes
    -----
    Independent normal deviations d_i of standard deviation s_i, made to sum to nothing by
    d_i - s_i^2 / sum(s^2) x sum(d): the same deviations given that their sum is 0.
    """
    moved = {
        name: draws.per_batch(f"mix/{stream}/{name}", Normal(0.0, sd)).values
        for name, sd in spread.items()
    }
    if set(centre) != set(CONSTITUENTS):
        return {name: PerBatch(np.maximum(centre[name] + by, 0.0)) for name, by in moved.items()}
    whole = math.fsum(sd**2 for sd in spread.values()) or 1.0
    off = sum(moved.values())
    made = {
        name: np.maximum(centre[name] + by - spread[name] ** 2 / whole * off, 0.0)
        for name, by in moved.items()
    }
    # one lot in some forty has a part at nothing; its others give way a little
    scale = math.fsum(centre.values()) / sum(made.values())
    return {name: PerBatch(value * scale) for name, value in made.items()}


def figures_of_bought(
    name: str, make_up: Composition, told: Analysis | None, *, draws: Draws | None
) -> dict[str, Quantity]:
    """The figures of a bought mix: what its bag declares, and what a middling mix has for the rest.

    Parameters
    ----------
    name: of the mix.
    make_up: its composition as it is taken, the declared parts and the assumed ones.
    told: the declared analysis; None where there is none.
    draws: which spread what is declared as labels spread, and what is not over its whole range.
    """
    centre = {part: float(value) for part, value in make_up.parts()}
    declared = {part for part in CONSTITUENTS if getattr(told, part, None) is not None}
    values: dict[str, Any] = dict(centre)
    if draws is not None:
        spread = {part: _spread(part, centre[part], part in declared) for part in centre}
        values |= _drawn(name, centre, spread, draws=draws)
    figures = {
        part: given(
            f"{part}_of_part",
            values[part],
            label=f"{part} of {name}",
            unit=PERCENT,
            backing=_BAG if part in declared else _assumed(part),
        )
        for part in CONSTITUENTS
    }
    figures["density"] = given(
        "density_of_part",
        float(density(make_up, ROOM)),
        label=f"density of {name}",
        unit=GRAMS_PER_MILLILITRE,
        backing=Backing(Origin.TABLE, "choi-okos-1986", Evidence.COMPUTED, "from its composition"),
    )
    return figures


def _spread(part: str, value: float, declared: bool) -> float:
    """Standard deviation of a part of a bought mix: as labels spread, or as mixes do."""
    rows = {one.key: one for one in spread_rows().values() if one.figure == ANY}
    if declared:
        return rows[Evidence.MEASURED.value].sd_of(value)
    if part == _CLOSED_BY:
        return rows[Evidence.JUDGEMENT.value].sd_of(value)
    row = default(f"mix_{part}")
    return min((row.high - row.low) / 3.92, 0.5 * value)


def _assumed(part: str) -> Backing:
    if part == _CLOSED_BY:
        return Backing(Origin.DEFAULT, "judgement", Evidence.JUDGEMENT, "what is left")
    row = default(f"mix_{part}")
    return Backing(Origin.DEFAULT, row.source, row.evidence, "nobody declares it: a middling mix")
