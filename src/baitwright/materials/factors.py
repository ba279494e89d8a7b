"""The maker's own factors before any batch was recorded: the table's priors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from baitwright.materials.defaults import default
from baitwright.materials.tables import Row, in_si, load
from baitwright.terms.band import log_sd
from baitwright.terms.factors import Factor, FactorSet

PRIOR_NAME = "priors"
_ALONE = "the tables alone"


def set_said(name: str) -> str:
    """What a set of factors is called where a maker reads it."""
    return _ALONE if name == PRIOR_NAME else name


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorPrior(Row):
    """What is believed of one factor, and what it multiplies, in SI.

    ``log_sd`` is the scale of the next batch's log ratio; ``kappa`` and ``nu`` count the batches
    the belief is worth. ``measurement`` is the reading that moves it.
    """

    label: str
    base_value: float
    base_unit: str
    log_median: float
    log_sd: float
    kappa: float
    nu: float
    measurement: str

    @property
    def factor(self) -> Factor:
        """The belief as a factor."""
        return Factor(
            key=self.id,
            about="",
            mu=self.log_median,
            kappa=self.kappa,
            nu=self.nu,
            sigma2=self.log_sd**2 / (1.0 + 1.0 / self.kappa),
            source=self.source,
        )


@cache
def factor_priors() -> Mapping[str, FactorPrior]:
    """Every factor's prior by key."""
    return {
        row.id: replace(row, base_value=in_si(row.base_value, row.base_unit))
        for row in load("factors", FactorPrior).values()
    }


def prior_of_default(key: str) -> Factor:
    """The factor a judged default starts from: its middle and its range as a 95 % band.

    A set need not hold it; a plan draws the default from its own range until it does.
    """
    row = default(key)
    scale = log_sd(row.low, row.high)
    kappa, nu = 1.0, 4.0
    return Factor(key, "", 0.0, kappa, nu, scale**2 / (1.0 + 1.0 / kappa), row.source)


LEARNED_DEFAULTS = ("diameter_spread", "flavour_strength")
"""Judged defaults that batches and records tell; a set holds a factor for one once they did."""


def label_of_factor(key: str) -> str:
    """What a factor multiplies, in words."""
    return default(key).label if key in LEARNED_DEFAULTS else factor_priors()[key].label


def prior_of(key: str) -> Factor:
    """What is believed of a factor before any batch, be it of the table's or of a default."""
    return prior_of_default(key) if key in LEARNED_DEFAULTS else factor_priors()[key].factor


@cache
def prior_factors() -> FactorSet:
    """The set of factors a new workshop starts from."""
    return FactorSet(
        name=PRIOR_NAME,
        made_on=None,
        factors=tuple(row.factor for row in factor_priors().values()),
    )
