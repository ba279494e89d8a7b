"""How a factor moves: the normal-inverse-gamma update, with a memory that fades.

Only medians and quantiles of a factor are ever reported: the mean of e to a Student t variable is
infinite.
"""

from __future__ import annotations

from dataclasses import replace

from baitwright.terms.factors import Factor

MEMORY = 20.0
"""Batches a belief is worth at most, so that a new supplier can still move it."""


def with_batches(factor: Factor, *, mean: float, variance: float, count: int) -> Factor:
    """A factor after so many batches whose own log ratios are known.

    Parameters
    ----------
    factor: the belief before.
    mean, variance: of the batches' log ratios; the variance with n - 1 below the line.
    count: how many batches.

    Notes
    -----
    kappa' = kappa + n; mu' = (kappa mu + n mean) / kappa'; nu' = nu + n;
    nu' sigma2' = nu sigma2 + (n - 1) variance + kappa n (mean - mu)^2 / kappa'.

    Reference: hoff-2009, section 5.3.
    """
    kappa, nu = factor.kappa + count, factor.nu + count
    between = factor.kappa * count * (mean - factor.mu) ** 2 / kappa
    squares = factor.nu * factor.sigma2 + (count - 1) * variance + between
    mu = (factor.kappa * factor.mu + count * mean) / kappa
    return _moved(factor, mu, squares / nu, worth=(kappa, nu), batches=count)


def with_one_batch(factor: Factor, *, log_ratio: float, share: float) -> Factor:
    """A factor after one batch whose log ratio was seen through readings that blur it.

    Parameters
    ----------
    factor: the belief before.
    log_ratio: the batch's log ratio as the readings give it, their blur not taken off.
    share: part of the readings' spread that goes with this factor, above 0 and up to 1.

    Notes
    -----
    The readings carry the batch's log ratio with an error whose variance is (1 - share) / share of
    its own. A batch so blurred is worth n = kappa share / (kappa + 1 - share) of one seen clearly:
    with that count the centre moves as far as the exact posterior mean does, share / (kappa + 1)
    of the way. The squared distance is blurred too, and n takes its blur off again: over invented
    kitchens a band of 80 % then holds 79.6 to 79.9 % at any share, where the share itself as the
    count would make it hold 84 to 93 %. At share 1 all of it is `with_batches` for one batch.

    Reference: hoff-2009, section 5.3; derived here for the blurred batch.
    """
    worth = factor.kappa * share / (factor.kappa + 1.0 - share)
    kappa, nu = factor.kappa + worth, factor.nu + worth
    distance = log_ratio - factor.mu
    squares = factor.nu * factor.sigma2 + factor.kappa * (worth * distance) ** 2 / kappa
    mu = factor.mu + worth / kappa * distance
    return _moved(factor, mu, squares / nu, worth=(kappa, nu), batches=1)


def _moved(
    factor: Factor, mu: float, sigma2: float, *, worth: tuple[float, float], batches: int
) -> Factor:
    """The factor elsewhere, worth its memory's batches at most."""
    kappa, nu = worth
    return replace(
        factor,
        mu=mu,
        sigma2=sigma2,
        kappa=min(MEMORY, kappa),
        nu=min(MEMORY, nu),
        batches=factor.batches + batches,
    )
