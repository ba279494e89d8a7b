"""What a recipe file says of a coat and a glug."""

from __future__ import annotations

import re
from typing import Annotated

from baitwright.materials import liquids, powders
from baitwright.quantities import Kind, read, show
from baitwright.recipe.finish import Coat, Glug
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import flashes_at, hazard_codes
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.unstated import CARRIER, is_thick, taken_as

_ACCEPTED = 'a volume for all the baits such as 6 ml, or for their weight such as "2 ml per 100 g"'
_MOST, _MOST_PER_MASS = 1e-3, 0.5e-3  # m3, m3/kg
"""A litre for all, or half as many ml as the baits weigh in g: more is a bath (judgement)."""
_THICKEST = 0.1
"""A layer up to this share of the bait's diameter still is a coat (judgement)."""


def _amount(value: object) -> tuple[float, float | None]:
    """Volume [m3], and the weight of baits it is for [kg] or None for all of them."""
    parts = re.split(r"\s+per\s+", str(value).strip())
    if len(parts) > 2:
        raise InputError("", value, _ACCEPTED)
    try:
        volume = read(parts[0], Kind.VOLUME, "")
        per = read(parts[1], Kind.MASS, "") if len(parts) == 2 else None
    except InputError as error:
        raise InputError("", value, _ACCEPTED, hint=error.hint) from None
    if per is not None and per <= 0.0:
        raise InputError("", value, _ACCEPTED)
    most = _MOST if per is None else _MOST_PER_MASS * per
    if not 0.0 < volume <= most:
        kind = "for all the baits" if per is None else f"for {show(per, 'g')}"
        raise InputError("", value, f"more than 0 and up to {show(most, 'ml')} {kind}")
    return volume, per


class GlugTable(Table):
    """A liquid the dried baits soak in."""

    name: Annotated[str, words.text(example="Malt glug", about="As its bottle says.")]
    amount: Annotated[
        tuple[float, float | None],
        fields.Reads(
            _amount,
            _ACCEPTED,
            "How much goes on.",
            {"type": "string", "examples": ["6 ml", "2 ml per 100 g"]},
        ),
    ]
    time: Annotated[
        float,
        fields.measured(
            Kind.DURATION, "1 min", "60 d", example="12 h", about="How long they soak."
        ),
    ]
    carrier: Annotated[
        str,
        words.shelved(
            lambda name: liquids.carrier(name).id,
            example="glycerol",
            about="What it is dissolved in; left out, not known.",
        ),
    ] = CARRIER
    strength: Annotated[
        str | None,
        words.one_of(liquids.strengths(), about="As of a liquid; left out, by its carrier."),
    ] = None
    density: Annotated[
        float | None, fields.density(0.5, 3.0, about="Weighed; left out, that of its carrier.")
    ] = None
    hazards: Annotated[tuple[str, ...], hazard_codes(about="Codes on its safety data sheet.")] = ()
    flash_point: Annotated[float | None, flashes_at(about="As its safety data sheet has it.")] = (
        None
    )


class CoatTable(Table):
    """A powder the boiled baits are rolled in while they are wet."""

    ingredient: Annotated[
        str,
        words.shelved(
            lambda name: powders.ingredient(name).id,
            example="liver powder",
            about="What they are rolled in.",
        ),
    ]
    share: Annotated[
        float | None,
        fields.measured(
            Kind.SHARE, "0.1 %", "20 %", example="3 %", about="Powder offered, of their weight."
        ),
    ] = None
    layer: Annotated[
        float | None,
        fields.measured(
            Kind.LENGTH,
            "0.01 mm",
            "10 mm",
            example="0.2 mm",
            about="Instead of a share: the loose layer offered.",
        ),
    ] = None


def as_glug(table: GlugTable | None) -> Glug | None:
    """The glug of a file, or none."""
    if table is None:
        return None
    thick = is_thick(table.carrier, table.strength, None)
    strength = taken_as(table.carrier, table.strength, thick=thick)
    volume, per = table.amount
    return Glug(
        *(table.name, table.carrier, strength, volume, per, table.time),
        density=table.density,
        hazards=table.hazards,
        flash_point=table.flash_point,
    )


def as_coat(table: CoatTable | None, diameter: float) -> Coat | None:
    """The coat of a file, or none.

    Raises
    ------
    InputError: neither or both of share and layer, or a layer too thick for the bait [m].
    """
    if table is None:
        return None
    if (table.share is None) == (table.layer is None):
        given = "neither" if table.share is None else "both"
        raise InputError("coat", given, "either a share of the bait's weight or a layer")
    thickest = _THICKEST * diameter
    if table.layer is not None and table.layer > thickest * (1.0 + 1e-9):
        accepted = f"{show(thickest, 'mm')} at most for a bait of {show(diameter, 'mm')}"
        raise InputError("coat.layer", show(table.layer, "mm"), accepted)
    return Coat(table.ingredient, table.share, table.layer)
