"""What leaves a bait in the lake, by its carrier: how large it is and how much fat holds of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, find, load


@dataclass(frozen=True, slots=True, kw_only=True)
class Solute(Row):
    """What a liquid of one carrier gives off, by the carrier's id.

    Molar volume by LeBas [cm3/mol]; ``partition`` is its concentration in fat over that in water,
    with the ends of a band of about 95 %; ``carrier_leaves`` whether the liquid's own weight goes
    with the flavour.
    """

    name: str
    molar_volume_cm3_per_mol: float
    partition: float
    partition_low: float
    partition_high: float
    carrier_leaves: bool

    @property
    def molar_volume(self) -> float:
        """Molar volume at the boiling point [m3/mol]."""
        return 1e-6 * self.molar_volume_cm3_per_mol


def solutes() -> Mapping[str, Solute]:
    """What each carrier's liquids give off, by the carrier's id."""
    return load("solutes", Solute)


def solute(carrier: str, field: str = "liquid.carrier") -> Solute:
    """What a carrier's liquids give off.

    Raises
    ------
    InputError: there is no such carrier.
    """
    return find(solutes(), carrier, field)
