"""Everything a plan does not know for sure: the maker's factors, the judged defaults, the draws."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from baitwright.materials.defaults import Default, default
from baitwright.materials.factors import factor_priors
from baitwright.quantities import si_unit
from baitwright.terms.evidence import Evidence
from baitwright.terms.factors import FactorSet
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import PLAIN, Unit
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.spreads import LogNormal, Normal


@dataclass(frozen=True, slots=True)
class Unknowns:
    """The draws of one plan and the factor set it stands on."""

    draws: Draws
    factors: FactorSet

    def factor(self, key: str, about: str = "") -> Quantity:
        """The maker's own factor for something, drawn once per batch."""
        factor = self.factors.find(key, about)
        values = self.draws.student_log(
            f"factor/{key}", mu=factor.mu, scale=factor.scale, nu=factor.nu
        )
        records = f"{factor.batches} of your batches" if factor.batches else "no batch of yours yet"
        evidence = Evidence.MEASURED if factor.batches else Evidence.JUDGEMENT
        return given(
            f"factor:{key}",
            values,
            label=f"your factor: {key.replace('_', ' ')}",
            backing=Backing(Origin.FACTOR, factor.source, evidence, records),
        )

    def base(self, key: str) -> Quantity:
        """What a factor multiplies: the table's value before any kitchen has its say."""
        row = factor_priors()[key]
        return given(
            f"base:{key}",
            row.base_value,
            label=f"{row.label}, by the table",
            unit=Unit(si_unit(row.base_unit), row.base_unit),
            backing=Backing(Origin.DEFAULT, row.source, row.evidence, row.note),
        )

    def default(self, key: str, *, of_kind: float | None = None) -> Quantity:
        """A judged default, at its middle; the maker's own where the set has a factor for it.

        ``of_kind`` is what a table has for this kind of thing; it stands in for the middle [SI].
        """
        row = default(key)
        row = row if of_kind is None else replace(row, value=of_kind)
        return self._own(row) if self.factors.has(key) else self._quantity(row, row.value)

    def drawn_default(self, key: str) -> Quantity:
        """A judged default, drawn once per batch from its range as a 95 % band, or as learned."""
        row = default(key)
        if self.factors.has(key):
            return self._own(row)
        return self._quantity(row, self.draws.per_batch(key, _between(row)))

    def _own(self, row: Default) -> Quantity:
        """A default times the maker's own factor for it."""
        own = own_value(table=self._quantity(row, row.value), factor=self.factor(row.id))
        unit = _unit(row)
        return replace(own, name=row.id, label=row.label, unit=unit.si, shown=unit.shown)

    def scatter(self, key: str, *, of_kind: float | None = None) -> Quantity:
        """Bait-to-bait scatter about nothing, by the default's or the kind's standard deviation."""
        spread = self.default(key, of_kind=of_kind)
        values = self.draws.per_bait(key, Normal(0.0, median_of(spread)))
        return replace(spread, name=f"{key}_of_bait", value=values)

    def stated(self, key: str, value: float | None) -> Quantity:
        """What the maker stated, or the default when nothing was."""
        row = default(key)
        if value is None:
            return self._quantity(row, row.value)
        return given(key, value, label=row.label, unit=_unit(row))

    @staticmethod
    def _quantity(row: Default, value: Any) -> Quantity:
        return given(
            row.id,
            value,
            label=row.label,
            unit=_unit(row),
            backing=Backing(Origin.DEFAULT, row.source, row.evidence, row.note),
        )


@declared(
    "own_value",
    label="a default as this kitchen has it",
    equation="value = table x factor",
    source="definition",
    note="any judged default moves with a factor of its name, once the set holds one",
)
def own_value(table: Any, factor: Any) -> Any:
    """A judged default times the factor learned for it."""
    return table * factor


def _unit(row: Default) -> Unit:
    return PLAIN if row.unit == "1" else Unit(si_unit(row.unit), row.unit)


def _between(row: Default) -> LogNormal:
    """A positive default whose range holds it in 19 cases of 20, as likely doubled as halved."""
    return LogNormal.between(row.low, row.high, median=row.value)
