"""One figure of a table of foods, in grams in 100 g: numbers, traces, limits, brackets, nothing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from baitwright.terms.errors import InputError

_IN_GRAMS = {
    **dict.fromkeys(("", "g", "%", "g/100g", "g/100 g"), Decimal(1)),
    **dict.fromkeys(("mg", "mg/100g", "mg/100 g"), Decimal("0.001")),
    **dict.fromkeys(("µg", "μg", "ug", "mcg"), Decimal("0.000001")),
}
_MISSING = {"", "-", "–", "n", "na", "n/a", "null"}
_TRACES = {"tr", "tr.", "trace", "traces"}
_TRACE = Decimal("0.05")
"""A trace counts as nothing, and is this much at most, g (judgement)."""
_FINEST = Decimal("0.005")
"""Figures are taken to be rounded to this much at least, however many digits they show, g."""
_LIMIT = re.compile(r"^<\s*(?P<limit>.+)$")
_BRACKETED = re.compile(r"^[\[(]\s*(?P<inside>[^\[\]()]*?)\s*[\])]$")
_NUMBER = re.compile(r"(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?", re.ASCII)
_DIGITS = 20
"""A number of more digits, or as large or small as that, is no figure of a food (judgement)."""
_ACCEPTED = "grams in 100 g such as 12.3, tr, <0.1 or [12.3]"


@dataclass(frozen=True, slots=True)
class Figure:
    """Grams in 100 g, how far off they may be by rounding, and what the table says of them."""

    grams: Decimal
    off: Decimal
    note: str = ""


def figure_in(text: str, unit: str) -> Figure | None:
    """A figure as a table has it; none where it is missing, which is never taken for nothing.

    Parameters
    ----------
    text: with a point before its decimals.
    unit: such as "g" or "mg"; none is grams.

    Raises
    ------
    InputError: no figure, one below nothing, or more than 100 g in 100 g.

    Notes
    -----
    "tr" is a trace, "<0.1" is taken as half of its limit, and brackets or parentheses mark an
    estimate or one of lesser quality (recalled from the tables of INFOODS and of McCance and
    Widdowson, which use them so).
    """
    scale = _IN_GRAMS.get(unit.strip().lower())
    if scale is None:
        raise InputError("", f"{text} {unit}", "grams, milligrams or micrograms in 100 g")
    plain = text.strip()
    bracketed = _BRACKETED.match(plain)
    if bracketed:
        inside = figure_in(bracketed["inside"], unit)
        return None if inside is None else Figure(inside.grams, inside.off, "estimated")
    if plain.lower() in _MISSING:
        return None
    if plain.lower() in _TRACES:
        return Figure(Decimal(0), _TRACE, "a trace")
    limit = _LIMIT.match(plain)
    if limit:
        half = _number(limit["limit"], text) * scale / 2
        return Figure(half, max(half, _FINEST), f"below {(2 * half).normalize():f} g")
    number = _number(plain, text)
    return Figure(number * scale, max(_rounding(number) * scale, _FINEST))


def _number(plain: str, text: str) -> Decimal:
    if not _NUMBER.fullmatch(plain) or len(plain) > 2 * _DIGITS:
        raise InputError("", text, _ACCEPTED)
    number = Decimal(plain)
    if max(abs(number.adjusted()), len(number.as_tuple().digits)) > _DIGITS:
        raise InputError("", text, _ACCEPTED)
    return number


def _places(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    return -exponent if isinstance(exponent, int) else 0


def _rounding(number: Decimal) -> Decimal:
    """Half of the last place that a number shows, and half a gram at most."""
    return Decimal("0.5").scaleb(-max(0, _places(number)))
