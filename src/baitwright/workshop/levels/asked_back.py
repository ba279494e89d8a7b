"""A level that leaves out what it is counted on: asked back, with the range of its answers."""

from __future__ import annotations

import re

from baitwright.materials.eggs import contents_volume, egg_form, grades_of
from baitwright.quantities import from_si, tidy, to_si
from baitwright.recipe.dosing import per_egg
from baitwright.recipe.levels import ACCEPTED, Bridge, Level, Measure, Reference, read_level
from baitwright.terms.errors import InputError
from baitwright.workshop.levels.bridges import USUAL_DRY_MIX
from baitwright.workshop.levels.quick_lines import USUAL_EGG
from baitwright.workshop.typed.unstated import SHOWN

_UNSIZED = re.compile(r"(?P<amount>.+?) per (?:each )?eggs?")
_OUNCE = re.compile(r"(?:fl\.? ?)?\boz\b", re.IGNORECASE)
_OUNCES = ("UK fl oz", "US fl oz", "oz weight")
_MEANT = (
    (Reference.EGG_VOLUME, USUAL_EGG),
    (Reference.EGG_MASS, 0.5),
    (Reference.DRY_MIX, 1.0),
    (Reference.DRY_MIX, to_si(1.0, "lb")),
    (Reference.PASTE, 1.0),
)
"""What makers count on who do not say what."""


def read_asked(text: str, field: str) -> Level:
    """A level as it is asked.

    Raises
    ------
    InputError: whatever cannot be read; where only the basis or the size of its egg is missing,
        with the range that the answer would have.
    """
    plain = " ".join(text.split())
    unsized = _UNSIZED.fullmatch(plain)
    if unsized:
        hint = _which_egg(unsized["amount"], text, field)
        raise InputError(field, text, f"its egg too, such as '{plain} of 50 ml'", hint=hint)
    if plain and " per " not in plain and "%" not in plain:
        hint = _per_what(plain, text, field)
        wanted = f"its basis too, such as '{plain} per egg of 50 ml' or '{plain} per kg dry mix'"
        raise InputError(field, text, wanted, hint=hint)
    try:
        return read_level(text, field)
    except InputError as error:
        raise _with_ounces(error, plain, field) from None


def _with_ounces(error: InputError, plain: str, field: str) -> InputError:
    """Where only the ounce is missing, the same with the range that the answer would have."""
    if _OUNCE.search(plain) is None or not (error.hint or "").startswith("Which ounce?"):
        return error
    told = [read_level(_OUNCE.sub(one, plain, count=1), field) for one in _OUNCES]
    ends = [
        _span(
            measure,
            [per_egg(one, each) for one in told for each in _bridges() if one.measure is measure],
        )
        for measure in (Measure.VOLUME, Measure.MASS)
    ]
    hint = f"{error.hint} For an egg of 50 ml it could be {ends[0]}, or {ends[1]}."
    return InputError(field, error.got, error.accepted, hint=hint)


def _bridges() -> list[Bridge]:
    density = egg_form("whole").density
    return [Bridge(USUAL_EGG, USUAL_EGG * density, dry) for dry in USUAL_DRY_MIX]


def _per_what(amount: str, text: str, field: str) -> str:
    asked = _on_anything(amount, text, field)
    found = [
        per_egg(Level(asked.amount, asked.measure, reference, per, amount), bridge)
        for reference, per in _MEANT
        for bridge in _bridges()
    ]
    return f"Per what? For an egg of 50 ml it could be {_span(asked.measure, found)}."


def _which_egg(amount: str, text: str, field: str) -> str:
    asked = _on_anything(amount, text, field)
    eggs = [contents_volume(mass) for row in grades_of("eu") for mass in (row.low, row.high)]
    found = [asked.amount * USUAL_EGG / egg for egg in eggs]
    sizes, span = _span(Measure.VOLUME, eggs), _span(asked.measure, found)
    return f"Eggs differ: with eggs of {sizes} it could be {span} for 50 ml of egg."


def _on_anything(amount: str, text: str, field: str) -> Level:
    """An amount read as one on any basis, so that its unit is known."""
    try:
        return read_level(f"{amount} per kg dry mix", field)
    except InputError as error:
        hint = error.hint or "It names no basis: say per what, for example 'per egg of 50 ml'."
        raise InputError(field, text, ACCEPTED, hint=hint) from None


def _span(measure: Measure, amounts: list[float]) -> str:
    unit = SHOWN[measure]
    ends = (min(amounts), max(amounts))
    low, high = (one if measure is Measure.DROPS else from_si(one, unit) for one in ends)
    return f"{tidy(low, 2)} to {tidy(high, 2)} {unit}"
