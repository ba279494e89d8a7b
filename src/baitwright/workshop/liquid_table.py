"""One flavour, extract or powder of a recipe file."""

from __future__ import annotations

from typing import Annotated

from baitwright.materials import liquids
from baitwright.recipe.levels import Level, Measure, Reference
from baitwright.recipe.model import Liquid
from baitwright.terms.errors import InputError
from baitwright.workshop import fields, words
from baitwright.workshop.reading import Table

_ML = 1e-6
_USUAL_STRENGTH = {
    "essential-oil": "essential oil",
    "acid": "acid",
    "thick-extract": "thick extract",
    "water": "hydrolysate",
}
"""What a liquid is judged as where the file does not say: by its carrier, else a normal flavour."""
_LEAST, _MOST, _MOST_OF_PASTE = 1e-6, 1.0, 0.5
"""Limits of a level by weight or volume: a trace, as much as it goes into, half of the paste."""


class LiquidTable(Table):
    """What is dosed into the egg or the mix."""

    name: Annotated[str, words.text(example="Malt", about="As its bottle says.")]
    level: Annotated[Level, words.level(about="How much of it, with what that is counted on.")]
    carrier: Annotated[
        str,
        words.shelved(
            lambda name: liquids.carrier(name).id,
            example="propylene glycol",
            about="What it is dissolved in.",
        ),
    ] = "unknown"
    strength: Annotated[
        str | None,
        words.one_of(
            liquids.strengths(), about="What its level is judged as; left out, by its carrier."
        ),
    ] = None
    density: Annotated[
        float | None, fields.density(0.5, 3.0, about="Weighed; left out, that of its carrier.")
    ] = None
    maker_limit: Annotated[Level | None, words.level(about="The most its own maker gives.")] = None
    drops_per_ml: Annotated[
        float | None,
        fields.number(
            5, 200, whole=False, example=24, about="Drops counted from this bottle into 1 ml."
        ),
    ] = None
    thick: Annotated[
        bool | None,
        words.yes_or_no(about="Whether a syringe will not draw it; left out, by its carrier."),
    ] = None
    powder: Annotated[bool, words.yes_or_no(about="Whether it is weighed and stirred in dry.")] = (
        False
    )


def as_liquid(line: LiquidTable, field: str) -> Liquid:
    """A line of the file as a liquid.

    Raises
    ------
    InputError: drops of a bottle whose drops were not counted, or a level beyond all sense.
    """
    drops = line.drops_per_ml
    for name, stated in (("level", line.level), ("maker_limit", line.maker_limit)):
        if stated and stated.measure is Measure.DROPS and drops is None:
            accepted = "ml or g; or drops, with drops_per_ml counted from this bottle"
            hint = "Count how many drops make 1 ml: bottles differ."
            raise InputError(f"{field}.{name}", stated.text, accepted, hint=hint)
    liquid = Liquid(
        name=line.name,
        level=line.level,
        carrier=line.carrier,
        strength=line.strength or _USUAL_STRENGTH.get(line.carrier, "normal"),
        density=line.density,
        limit=line.maker_limit,
        powder=line.powder,
        thick=line.carrier == "thick-extract" if line.thick is None else line.thick,
        drops_per_volume=drops and drops / _ML,
        strength_assumed=line.strength is None,
    )
    _refuse_absurd(liquid, f"{field}.level")
    return liquid


def _refuse_absurd(liquid: Liquid, field: str) -> None:
    """A level is unusual long before it is absurd; only the second is refused."""
    stated = liquid.level
    weight = liquids.carrier(liquid.carrier).density if liquid.density is None else liquid.density
    amount = stated.amount
    if stated.measure is Measure.DROPS:
        amount /= liquid.drops_per_volume or 1.0
    by_volume = stated.reference is Reference.EGG_VOLUME
    if by_volume and stated.measure is Measure.MASS:
        amount /= weight
    elif not by_volume and stated.measure is not Measure.MASS:
        amount *= weight
    most = _MOST_OF_PASTE if stated.reference is Reference.PASTE else _MOST
    if not _LEAST <= amount / stated.per < most:
        limit = "half of the paste" if most < 1.0 else "what it goes into"
        raise InputError(field, stated.text, f"more than a trace and less than {limit}")
