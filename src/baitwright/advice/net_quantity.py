"""A pack's weight against what it states: what one may lack, and a sample checked by three rules.

The rules are those for prepackages by weight; whether they apply is for the authority to say.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.materials.prepackages import prepackages
from baitwright.quantities import show
from baitwright.terms.errors import InputError

MOST_SHORT = 0.025  # uk-packers-rules: the share of packs that may lie below the first limit
_TENTH = 1e-4  # kg
_SLACK = 1e-12


@dataclass(frozen=True, slots=True)
class Limits:
    """What a pack of a stated weight may lack [kg].

    ``error`` is the tolerable negative error as it is used, ``exact`` before it is rounded up;
    ``low`` and ``lowest`` are the weights below which few packs and none may lie.
    """

    nominal: float
    exact: float
    error: float

    @property
    def low(self) -> float:
        """Stated weight less the error [kg]; often called T1."""
        return self.nominal - self.error

    @property
    def lowest(self) -> float:
        """Stated weight less twice the error [kg]; often called T2."""
        return self.nominal - 2.0 * self.error


@dataclass(frozen=True, slots=True)
class Checked:
    """Weighed packs beside what they state; masses in kg."""

    limits: Limits
    weighed: tuple[float, ...]
    mean: float
    short: int
    far_short: int

    @property
    def mean_holds(self) -> bool:
        """Whether the mean of the sample reaches what is stated."""
        return self.mean >= self.limits.nominal - _SLACK

    @property
    def few_short(self) -> bool:
        """Whether no more than 2.5 % of the sample lie below the first limit."""
        return self.short <= MOST_SHORT * len(self.weighed)

    @property
    def holds(self) -> bool:
        """Whether this sample keeps all three rules; a small sample proves little."""
        return self.mean_holds and self.few_short and not self.far_short


def limits_for(nominal: float) -> Limits:
    """What a pack of a stated weight [kg] may lack (eec-76-211, annex I, 2.4).

    A share is rounded up to the next tenth of a gram (recalled).

    Raises
    ------
    InputError: a weight that the table does not reach.
    """
    rows = tuple(prepackages().values())
    row = next((one for one in rows if one.low <= nominal <= one.high), None)
    if row is None:
        accepted = f"{show(rows[0].low, 'g')} to {show(rows[-1].high, 'kg')}"
        raise InputError("stated weight", show(nominal, "g"), accepted)
    if row.share is None:
        return Limits(nominal, row.mass or 0.0, row.mass or 0.0)
    exact = row.share * nominal
    tenths = math.ceil(exact / _TENTH - 1e-9)
    return Limits(nominal, exact, tenths * _TENTH)


def check_packs(nominal: float, weighed: Sequence[float]) -> Checked:
    """A sample of packs, weighed without their bags [kg].

    Raises
    ------
    InputError: no pack was weighed, one of nothing, or a stated weight beyond the table.
    """
    limits = limits_for(nominal)
    if not weighed:
        raise InputError("weighed", None, "the weight of at least one pack, without its bag")
    for at, one in enumerate(weighed, start=1):
        if not (math.isfinite(one) and one > 0.0):
            raise InputError(f"weighed {at}", f"{1000.0 * one:g} g", "more than nothing")
    return Checked(
        limits,
        tuple(weighed),
        math.fsum(weighed) / len(weighed),
        sum(one < limits.low - _SLACK for one in weighed),
        sum(one < limits.lowest - _SLACK for one in weighed),
    )
