"""What baits weighed dry and then soaked teach: how fast water moves in the bait."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.soak import COLDEST, WARMEST
from baitwright.batch.soak_gain import gains_by_pace
from baitwright.batch.state import BaitState, Inclusion, Solute
from baitwright.batch.unknowns import Unknowns
from baitwright.learning.plain_evidence import WEIGHED
from baitwright.learning.propose import Proposal, TellsLittle
from baitwright.learning.seen import Log, Seen, moved_by, refuse_absurd
from baitwright.materials.defaults import default
from baitwright.physics import water
from baitwright.quantities import show
from baitwright.terms.band import Band
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor, FactorSet
from baitwright.terms.quantity import Quantity, rewrap, unwrap
from baitwright.terms.records import BottleTest, Soaked
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.gum import WIDEST
from baitwright.uncertainty.importance import EFFECTIVE, Posterior, weighted_band
from baitwright.uncertainty.spreads import Floats

_SETS = 2048
"""Sets of unknowns the gain is worked out for at once, the factor aside."""
_MORE = 4
"""So many times the sets are drawn anew, where too few of them make the test likely."""
_NODES = 9
"""Factors the gain is worked out at; between them a polynomial holds it within 0.001."""
_TRAYS = 64
"""Trays that tell how the gain scatters from bait to bait."""
_GRID: Floats = np.linspace(-1.0, 1.0, 201)
"""The log of the factor about its middle, in `WIDEST` of its scales."""
_LIGHTEST, _HEAVIEST = 0.7, 3.0
"""Weight after over weight before that a soak can lead to (judgement)."""


@dataclass(frozen=True, slots=True)
class Gained:
    """One weighing, and the gain over the weight before that the plan expected [1]."""

    soaked: Soaked
    expected: Band


@dataclass(frozen=True, slots=True)
class SoakLesson:
    """The soak factor of this tray before and after the weighings.

    ``effective`` says how many independent sets of all else that is not known the belief rests on.
    """

    gained: tuple[Gained, ...]
    before: Band
    after: Band
    effective: float
    seen: Seen

    def moved(self, factors: FactorSet, *, today: FactorSet) -> Proposal | TellsLittle:
        """The factor moved on from today's, as the plan's own factors met the test."""
        return moved_by(self.seen, "", planned=factors.find("soak"), today=today.find("soak"))


@dataclass(frozen=True, slots=True)
class GainChart:
    """Gain over the weight before at every factor of the grid, for the times of a test.

    ``gain`` is [time, factor, set of unknowns], ``scatter`` from bait to bait [time, factor],
    ``film`` what wiping leaves or takes over the weight before, as a standard deviation [set].
    """

    factor: Factor
    gain: Floats
    scatter: Floats
    film: Floats

    def log_likelihood(self, soaked: Sequence[Soaked]) -> Floats:
        """Of the weighings, one for each time of the chart: [factor, set of unknowns].

        Notes
        -----
        The gain is normal about that of the tray's mean bait, with the scatter of the baits over
        the root of their count, both readings of the scale, and the wiping, alike for all baits of
        a weighing and anew for each weighing.
        """
        total = np.zeros(self.gain.shape[1:])
        for one, gain, scatter in zip(soaked, self.gain, self.scatter, strict=True):
            read = 2.0 * (WEIGHED * (1.0 + gain)) ** 2
            variance = read + scatter[:, None] ** 2 / one.count + self.film**2
            total -= 0.5 * ((one.gain - gain) ** 2 / variance + np.log(variance))
        return total


def learn_from_soaked(plan: BatchPlan, test: BottleTest) -> SoakLesson:
    """What the baits of a test that were weighed dry and soaked say of the soak factor.

    Parameters
    ----------
    plan: as it was made.
    test: with at least one such weighing.
    """
    times = tuple(one.after for one in test.soaked)
    charts = [gain_chart(plan, test.water_temperature, times=times)]
    for again in range(1, _MORE):
        worth = _worth(charts, test.soaked)
        beyond_reach = worth / len(charts) * _MORE < EFFECTIVE
        if worth >= EFFECTIVE or beyond_reach:
            break
        charts.append(gain_chart(plan, test.water_temperature, times=times, again=again))
    return soak_lesson(charts, test.soaked)


def soak_lesson(charts: Sequence[GainChart], soaked: Sequence[Soaked]) -> SoakLesson:
    """The factor by Bayes on a grid, all else that is not known averaged over its sets.

    Notes
    -----
    p(factor | gain) is p(factor) times the mean over the sets of p(gain | factor, set); exact but
    for the grid and the number of sets. Where too few sets make the test likely the factor is left
    where it was: the share it was seen by is then none.

    Reference: gelman-bda, section 3.1, nuisance parameters averaged out.
    """
    factor = charts[0].factor
    prior = _prior(factor)
    likelihood = _likelihood(charts, soaked)
    after = prior * likelihood.mean(axis=1)
    after /= after.sum()
    effective = _kish(prior @ likelihood)
    logs = factor.mu + factor.scale * WIDEST * _GRID
    seen = Seen.between(Log(logs, prior), Log(logs, after))
    if effective < EFFECTIVE:
        seen = replace(seen, share=0.0)
    return SoakLesson(
        gained=tuple(Gained(one, _expected(charts, prior, at=at)) for at, one in enumerate(soaked)),
        before=_band(logs, prior, effective),
        after=_band(logs, after, effective),
        effective=effective,
        seen=seen,
    )


def gain_chart(
    plan: BatchPlan, temperature: float, *, times: Sequence[float], again: int = 0
) -> GainChart:
    """The gain of a plan's baits in water of a temperature [K] after some times [s].

    Parameters
    ----------
    plan: its trays are each met by as many sets of soaking's own unknowns as fill the chart.
    temperature: of the water.
    times: in the water.
    again: a number for each further chart of the same, so that its unknowns are drawn anew.
    """
    request, factor = plan.request, plan.request.factors.find("soak")
    nodes = np.cos(np.pi * (np.arange(_NODES) + 0.5) / _NODES)
    paces = np.exp(factor.mu + factor.scale * WIDEST * nodes)
    draws, dried = request.draws, plan.tray.dried.bait

    def gains(state: BaitState, batches: int, baits: int) -> Floats:
        own = replace(draws, batches=batches, baits=baits, seed=draws.seed + again)
        unknowns = Unknowns(own, request.factors)
        return gains_by_pace(state, temperature, times=times, paces=paces, unknowns=unknowns)

    sets = math.ceil(_SETS / draws.batches)
    middle = _reshaped(dried, lambda value: np.tile(value.mean(axis=1, keepdims=True), (sets, 1)))
    trays = min(_TRAYS, draws.batches)
    few = _reshaped(dried, lambda value: value[:trays])
    scatter = np.zeros((len(times), _NODES))
    if draws.baits > 1:
        scatter = np.sqrt(gains(few, trays, draws.baits).var(axis=3, ddof=1).mean(axis=2))
    diameter, mass = (np.asarray(unwrap(one.value)) for one in (middle.diameter, middle.mass))
    film = np.pi * diameter**2 * default("wiped_film").value * float(water.density(temperature))
    return GainChart(
        factor=factor,
        gain=_on_grid(nodes, gains(middle, sets * draws.batches, 1)[..., 0]),
        scatter=_on_grid(nodes, scatter[..., None])[..., 0],
        film=(film / mass)[:, 0],
    )


def refuse_soaked(test: BottleTest, plan: BatchPlan) -> None:
    """Refuse weighings of soaked baits that cannot be.

    Raises
    ------
    InputError: water warmer than any lake, a slip of the unit, or a gain or loss no soak leads to.
    """
    if test.soaked and not COLDEST <= test.water_temperature <= WARMEST:
        accepted = f"{show(COLDEST, 'C')} to {show(WARMEST, 'C')} for baits weighed soaked"
        raise InputError("water", show(test.water_temperature, "C"), accepted)
    expected = median_of(plan.tray.dried.mass)
    for at, one in enumerate(test.soaked, start=1):
        field = f"soaked[{at}]"
        refuse_absurd(f"{field}.weight_before", one.before, one.count * expected)
        if not _LIGHTEST <= one.mass / one.before <= _HEAVIEST:
            low, high = (show(share * one.before, "g") for share in (_LIGHTEST, _HEAVIEST))
            accepted = f"{low} to {high} for baits of {show(one.before, 'g')} before"
            hint = "Check the unit, and that the same baits were weighed."
            raise InputError(f"{field}.weight", show(one.mass, "g"), accepted, hint=hint)


def _prior(factor: Factor) -> Floats:
    """Student t on the grid, kept within `WIDEST`."""
    density = (1.0 + (WIDEST * _GRID) ** 2 / factor.nu) ** (-0.5 * (factor.nu + 1.0))
    return np.asarray(density / density.sum())


def _likelihood(charts: Sequence[GainChart], soaked: Sequence[Soaked]) -> Floats:
    """[factor, set of unknowns], all charts side by side, the highest 1."""
    logs = np.concatenate([chart.log_likelihood(soaked) for chart in charts], axis=1)
    return np.asarray(np.exp(logs - logs.max()))


def _worth(charts: Sequence[GainChart], soaked: Sequence[Soaked]) -> float:
    return _kish(_prior(charts[0].factor) @ _likelihood(charts, soaked))


def _kish(weights: Floats) -> float:
    """How many sets of equal weight these are worth (kish-1965)."""
    return float(weights.sum() ** 2 / np.sum(weights**2))


def _band(logs: Floats, weights: Floats, effective: float) -> Band:
    found = Posterior(logs[:, None], weights)
    band = weighted_band(np.exp(logs), found, name="soak_factor", unit="")
    return replace(band, draws=int(effective))


def _expected(charts: Sequence[GainChart], prior: Floats, *, at: int) -> Band:
    gain = np.concatenate([chart.gain[at] for chart in charts], axis=1)
    weights = np.broadcast_to(prior[:, None] / gain.shape[1], gain.shape).ravel()
    found = Posterior(gain.reshape(-1, 1), weights)
    band = weighted_band(gain.ravel(), found, name="weight_gained", unit="")
    return replace(band, draws=gain.shape[1])


def _on_grid(nodes: Floats, values: Floats) -> Floats:
    """Values [time, node, set] between the nodes, at the grid."""
    chebyshev = np.polynomial.chebyshev
    return np.stack(
        [
            chebyshev.chebval(_GRID, chebyshev.chebfit(nodes, one, len(nodes) - 1)).T
            for one in values
        ]
    )


def _reshaped(state: BaitState, how: Callable[[Floats], Floats]) -> BaitState:
    """A bait with every draw of it put into another shape."""
    wide = np.asarray(unwrap(state.diameter.value)).shape

    def of(quantity: Quantity) -> Quantity:
        value = np.broadcast_to(np.asarray(unwrap(quantity.value), dtype=float), wide)
        return replace(quantity, value=rewrap(how(value)))

    def within(one: Inclusion) -> Inclusion:
        return replace(one, mass=of(one.mass), volume=of(one.volume))

    def dissolved(one: Solute) -> Solute:
        depth = None if one.depth is None else of(one.depth)
        return replace(one, mass=of(one.mass), depth=depth)

    return replace(
        state,
        diameter=of(state.diameter),
        core_diameter=of(state.core_diameter),
        core_mass=of(state.core_mass),
        solids=of(state.solids),
        water=of(state.water),
        solutes=tuple(dissolved(one) for one in state.solutes),
        air=of(state.air),
        fillers=tuple(within(one) for one in state.fillers),
        corks=None if state.corks is None else within(state.corks),
    )
