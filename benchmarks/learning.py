"""What a maker's records teach: every factor fitted anew, and many baits drawn together.

The peer of the second is what a statistician without a program for it would write over scipy: the
same multinomial of each night's split, effects drawn together by a normal spread, its spread
by the highest of Laplace's marginal likelihood, each mode by L-BFGS with its gradient. The answers
are held against each other in the same run; no time counts where they differ.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from statistics import median
from time import perf_counter

import numpy as np
from scipy.optimize import minimize, minimize_scalar

from baitwright.learning.history import Seen, history_of
from baitwright.learning.pooling import Pooled, SideBySide, pooled
from baitwright.learning.rates import Fished
from baitwright.materials.factors import prior_factors
from baitwright.uncertainty.spreads import Floats

BATCHES, BAITS, NIGHTS, RODS, ROUNDS = 10_000, 30, 5_000, 3, 5
SPREAD, BITES_AN_HOUR = 0.4, 0.06
GOAL_S, GOAL_TIMES = 1.0, 2.0
EQUAL = 0.02
"""How far, in log rates, the answers may lie apart: the peer takes one spread for all of them."""


def invented_batches(batches: int) -> list[Seen]:
    """What so many batches of two mixes showed of every factor, each through a blur of its own."""
    random = np.random.default_rng(20261127)
    factors = prior_factors().factors
    shares = random.uniform(0.2, 1.0, (batches, len(factors)))
    bells = random.standard_normal(shares.shape)
    return [
        Seen(
            str(batch),
            one.key,
            ("Copper", "Chalk")[batch % 2],
            0.05 + math.sqrt(one.sigma2 / share) * bell,
            one.sigma2 * (1.0 - share) / share,
        )
        for batch, rows in enumerate(zip(shares.tolist(), bells.tolist(), strict=True))
        for one, share, bell in zip(factors, *rows, strict=True)
    ]


def invented_nights(nights: int) -> list[dict[int, Fished]]:
    """Nights on which three of the baits fished, better and worse nights among them."""
    random = np.random.default_rng(20261127)
    rates = BITES_AN_HOUR * np.exp(random.normal(0.0, SPREAD, BAITS))
    made = []
    for _ in range(nights):
        mood = random.gamma(1.5, 1.0 / 1.5)
        out = random.choice(BAITS, RODS, replace=False)
        hours = random.choice([10.0, 11.0, 12.0, 13.5], RODS)
        bites = random.poisson(mood * rates[out] * hours)
        made.append(
            {int(b): Fished(int(k), float(h)) for b, k, h in zip(out, bites, hours, strict=True)}
        )
    return made


def by_scipy(nights: list[dict[int, Fished]]) -> tuple[Floats, Floats]:
    """Effects about their own mean and their standard errors, over scipy alone."""
    told = [one for one in nights if any(fished.bites for fished in one.values())]
    which = np.array([list(one) for one in told])
    bites = np.array([[fished.bites for fished in one.values()] for one in told], dtype=float)
    hours = np.array([[fished.rod_hours for fished in one.values()] for one in told])
    totals, flat = bites.sum(axis=1), which.ravel()
    of_bait = np.bincount(flat, bites.ravel(), BAITS)
    of_hours = float((bites * np.log(hours)).sum())
    about = np.eye(BAITS) - 1.0 / BAITS
    start = np.zeros(BAITS)

    def split(effects: Floats) -> tuple[float, Floats]:
        expected = hours * np.exp(effects)[which]
        sums = expected.sum(axis=1)
        means = expected * (totals / sums)[:, None]
        value = of_hours + of_bait @ effects - totals @ np.log(sums)
        return value, of_bait - np.bincount(flat, means.ravel(), BAITS)

    def mode(spread: float) -> Floats:
        def off(effects: Floats) -> tuple[float, Floats]:
            value, slope = split(effects)
            drawn = about @ effects / spread**2
            return 0.5 * effects @ drawn - value, drawn - slope

        found = minimize(off, start, jac=True, method="L-BFGS-B", options={"ftol": 1e-12})
        start[:] = found.x
        return about @ found.x

    def curvature(effects: Floats, spread: float) -> Floats:
        shares = hours * np.exp(effects)[which]
        shares /= shares.sum(axis=1)[:, None]
        placed = np.zeros((len(which), BAITS))
        np.put_along_axis(placed, which, shares, axis=1)
        means = totals[:, None] * placed
        data = np.diag(means.sum(axis=0)) - means.T @ placed
        return data + about / spread**2 + np.full((BAITS, BAITS), 1.0 / BAITS)

    def unlikely(log_spread: float) -> float:
        spread = math.exp(log_spread)
        effects = mode(spread)
        value, _ = split(effects)
        _, log = np.linalg.slogdet(curvature(effects, spread))
        height = value - 0.5 * effects @ effects / spread**2
        return -(height - 0.5 * log - (BAITS - 1) * log_spread)

    best = minimize_scalar(unlikely, bounds=(-4.0, 0.4), method="bounded").x
    spread = math.exp(best)
    effects = mode(spread)
    errors = np.sqrt(np.diag(about @ np.linalg.inv(curvature(effects, spread)) @ about))
    return effects, errors


def ours(nights: list[dict[int, Fished]]) -> Pooled:
    """The same by the program."""
    return pooled(SideBySide.of(nights, count=BAITS))


def apart(made: Pooled, peer: tuple[Floats, Floats]) -> float:
    """The farthest that middles or their standard errors lie from each other."""
    middles = made.middles
    squares = made.weights @ (made.errors**2 + made.means**2)
    errors = np.sqrt(squares - middles**2)
    return float(max(np.abs(middles - peer[0]).max(), np.abs(errors - peer[1]).max()))


def _took(work: Callable[[], object], rounds: int) -> float:
    times = []
    for _ in range(rounds):
        began = perf_counter()
        work()
        times.append(perf_counter() - began)
    return median(times)


def report(*, quick: bool = False) -> Iterator[str]:
    """A refit beside its goal, then many baits beside the peer."""
    batches, nights = (BATCHES // 10, NIGHTS // 10) if quick else (BATCHES, NIGHTS)
    rounds = 1 if quick else ROUNDS
    seen, prior = invented_batches(batches), prior_factors()
    seconds = _took(lambda: history_of(seen, prior=prior), rounds)
    said = f"{len(prior.factors)} factors of two mixes over {batches} batches fitted anew"
    yield f"{said}: {seconds:.2f} s, goal {GOAL_S:g} s"
    fished = invented_nights(nights)
    far = apart(ours(fished), by_scipy(fished))
    if far > EQUAL:
        yield f"{BAITS} baits over {nights} nights: answers {far:.3f} apart, no time counts"
        return
    mine, peer = _took(lambda: ours(fished), rounds), _took(lambda: by_scipy(fished), rounds)
    yield f"{BAITS} baits over {nights} nights, answers within {far:.4f} of a log rate:"
    yield f"  ours {1e3 * mine:.0f} ms, by scipy {1e3 * peer:.0f} ms"
    yield f"  {mine / peer:.2f} x its time, goal {GOAL_TIMES:g} x"
