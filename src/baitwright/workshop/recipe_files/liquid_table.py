"""One flavour, extract or powder of a recipe file."""

from __future__ import annotations

from typing import Annotated

from baitwright.materials import liquids
from baitwright.recipe.levels import Level, Measure
from baitwright.recipe.liquid import Liquid, Purpose
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import flashes_at, hazard_codes
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.unstated import CARRIER, is_thick, refuse_absurd, taken_as

_ML = 1e-6


class RecipeLiquidTable(Table):
    """What is dosed into the egg or the mix."""

    name: Annotated[str, words.text(example="Malt", about="As its bottle says.")]
    level: Annotated[Level, words.level(about="How much of it, with what that is counted on.")]
    carrier: Annotated[
        str,
        words.shelved(
            lambda name: liquids.carrier(name).id,
            example="propylene glycol",
            about="What it is dissolved in; left out, not known.",
        ),
    ] = CARRIER
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
        words.yes_or_no(
            about="Whether a syringe will not draw it; left out, by carrier or strength."
        ),
    ] = None
    purpose: Annotated[
        Purpose, words.word(Purpose, about="What it is for; each has cautions of its own.")
    ] = Purpose.FLAVOUR
    hazards: Annotated[tuple[str, ...], hazard_codes(about="Codes on its safety data sheet.")] = ()
    flash_point: Annotated[float | None, flashes_at(about="As its safety data sheet has it.")] = (
        None
    )
    powder: Annotated[bool, words.yes_or_no(about="Whether it is weighed and stirred in dry.")] = (
        False
    )


def as_liquid(line: RecipeLiquidTable, field: str) -> Liquid:
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
    strength = line.strength
    if strength is None and line.purpose is Purpose.SWEETENER and not line.powder:
        strength = Purpose.SWEETENER.value
    thick = is_thick(line.carrier, strength, line.thick)
    liquid = Liquid(
        name=line.name,
        level=line.level,
        carrier=line.carrier,
        strength=taken_as(line.carrier, strength, thick=thick),
        density=line.density,
        limit=line.maker_limit,
        powder=line.powder,
        thick=thick,
        drops_per_volume=drops and drops / _ML,
        strength_assumed=strength is None,
        purpose=line.purpose,
        hazards=line.hazards,
        flash_point=line.flash_point,
    )
    refuse_absurd(liquid, f"{field}.level")
    return liquid
