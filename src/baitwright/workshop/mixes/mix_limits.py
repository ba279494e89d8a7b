"""What a mix must hold, as a maker says it: "protein at least 34 % of the dry mix"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from baitwright.blending.bases import Basis
from baitwright.blending.blend import GROSS
from baitwright.materials.tables import CONSTITUENTS
from baitwright.quantities import Kind, read, read_number, to_si
from baitwright.terms.errors import InputError

_SAID = re.compile(
    r"(?P<figure>[a-z ]+?)\s+(?P<sense>at least|at most|>=|<=)\s+(?P<value>\S.*?)"
    r"(?:\s+of\s+(?:the\s+)?(?P<basis>[a-z ]+))?",
    re.IGNORECASE,
)
_BASES = {
    "dry mix": Basis.DRY_MIX,
    "mix": Basis.DRY_MIX,
    "paste": Basis.PASTE,
    "bait": Basis.BAIT,
    "finished bait": Basis.BAIT,
    "dry matter": Basis.DRY_MATTER,
    "dry matter of the bait": Basis.DRY_MATTER,
}
_ENERGY = "kJ/100g"
ACCEPTED = "a figure with its limit and basis, such as 'protein at least 34 % of the dry mix'"


@dataclass(frozen=True, slots=True)
class Limit:
    """A floor or a ceiling [mass fraction or J/kg] on a figure of one basis."""

    figure: str
    value: float
    is_floor: bool
    basis: Basis
    text: str


def read_limit(text: str, field: str) -> Limit:
    """A limit as it is typed; the basis is the dry mix where none is named.

    Raises
    ------
    InputError: it is none, or of a figure or basis that is not known.
    """
    plain = " ".join(text.split())
    found = _SAID.fullmatch(plain)
    if found is None:
        raise InputError(field, text, ACCEPTED)
    figure = found["figure"].lower()
    if figure not in (*CONSTITUENTS, GROSS):
        raise InputError(field, text, f"one of: {', '.join((*CONSTITUENTS, GROSS))}")
    basis = _BASES.get((found["basis"] or "dry mix").lower().strip())
    if basis is None:
        raise InputError(field, text, f"a basis: {', '.join(_BASES)}")
    value = _energy(found["value"], field) if figure == GROSS else _share(found["value"], field)
    floor = found["sense"].lower() in ("at least", ">=")
    return Limit(figure, value, floor, basis, plain)


def _share(text: str, field: str) -> float:
    value = read(text, Kind.SHARE, field)
    if not 0.0 <= value <= 1.0:
        raise InputError(field, text, "a share from 0 % to 100 %")
    return value


def _energy(text: str, field: str) -> float:
    accepted = f"an energy such as 1800 {_ENERGY}"
    typed = read_number(text, field, accepted)
    if typed.unit.replace(" ", "") != _ENERGY or typed.number < 0.0:
        raise InputError(field, text, accepted)
    return to_si(typed.number, _ENERGY)
