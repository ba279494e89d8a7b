"""The lake against the outside world: the sphere's series, particles leached, a winter's night."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from scipy.integrate import trapezoid
from scipy.special import erf

from baitwright.batch.soak import Lake, SoakStage, soak
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.physics.diffusion import HINDRANCE_RANGE, hayduk_laudie
from baitwright.physics.release import layer_remaining, shell_remaining
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.bands import band_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import planned

pytestmark = pytest.mark.published

DRAWS = Draws(batches=256, baits=4)
HOUR = 3600.0


@pytest.mark.parametrize(("fourier", "taken"), [(0.1, 0.7704787380), (0.25, 0.9484368978)])
def test_a_solid_sphere(fourier: float, taken: float) -> None:
    """crank-1975, p. 91, as printed to ten digits by an open package's worked examples."""
    left = shell_remaining(fourier * 1e-6, outer_radius=1e-3)
    assert 1.0 - left == pytest.approx(taken, abs=2e-9)


@pytest.mark.parametrize(
    ("diffused", "left"), [(1e-6, 0.552106), (2e-6, 0.397292), (5e-6, 0.159929), (1e-5, 0.035498)]
)
def test_a_shell_on_a_sealed_core(diffused: float, left: float) -> None:
    """17 mm on 10 mm: a closed form derived elsewhere, six digits; half of the last one."""
    made = shell_remaining(diffused, outer_radius=8.5e-3, core_radius=5e-3)
    assert made == pytest.approx(left, abs=1e-6)


@pytest.mark.parametrize("reach", [0.05, 0.2, 1.0])
def test_a_thin_layer_on_a_large_ball_is_a_layer_on_a_flat_bed(reach: float) -> None:
    """crank-1975, sec. 2.2.3 and 3.3: sources spread in 0 < x < h and mirrored for a bare surface.

    c = C/2 (2 erf(x/s) - erf((x + h)/s) - erf((x - h)/s)), s = 2 sqrt(D t), summed by quadrature.
    """
    depth, spread = 1e-4, 2.0 * np.sqrt(reach) * 1e-4
    there = np.linspace(0.0, 40.0 * depth, 400_001)
    held = 0.5 * (
        2.0 * erf(there / spread) - erf((there + depth) / spread) - erf((there - depth) / spread)
    )
    flat = trapezoid(held, there) / depth
    ball = layer_remaining(
        (0.5 * spread) ** 2, layer=depth, outer_radius=1.0, core_radius=1.0 - 60.0 * depth
    )
    assert ball == pytest.approx(flat, rel=2e-4)


def test_the_slow_end_of_the_hindrance_is_that_of_heat_set_particles() -> None:
    """kvale-2006: particles under 0.3 mm lose 43 to 54 % of small protein in 5 minutes.

    The radius is the upper one and the solute's size is not told: a peptide of 500 cm3/mol. So the
    slow end has to give a loss of that order, not the figure.
    """
    moves = HINDRANCE_RANGE[0] * hayduk_laudie(500e-6, 288.15)
    lost = 1.0 - shell_remaining(moves * 300.0, outer_radius=0.15e-3)
    assert 0.43 / 1.5 < lost < 0.54 * 1.5


@cache
def winter() -> SoakStage:
    plan = planned(draws=DRAWS)
    lake = Lake(278.15, 48 * HOUR, plan.water.hook, "wafter")
    return soak(plan.dry.bait, lake, unknowns=Unknowns(DRAWS, prior_factors()))


def test_a_good_flavour_still_tells_after_a_winter_night() -> None:
    """Common practice, no source: 14 h at 5 C. A quarter left is taken as the least that tells.

    In the middle half of a flavour in glycol is left, and practice is met. At the fast end of the
    hindrance it is not: in about 1 case of 5 less than a quarter is left. Practice says so for
    every batch, so the upper end of the hindrance is suspected; it is not tuned away.
    """
    flavour = winter().at(14 * HOUR).flavours[0]
    band = band_of(flavour.left)
    assert band.median == pytest.approx(0.52, abs=0.04)
    assert band.low80 < 0.25 < band.high80
    missed = float(np.mean(unwrap(flavour.left.value) < 0.25))
    assert missed == pytest.approx(0.21, abs=0.05)
    print(f"disagreement: {100 * missed:.0f} % of cases keep under a quarter; suspect: hindrance")


def test_water_taken_up_ends_where_a_wet_bait_is_half_water() -> None:
    """Pasta and pulses end at 50 to 60 % water; the skin's judged content stands within it."""
    plan, stage = planned(draws=DRAWS), winter()
    wet = unwrap(plan.dry.bait.water.value) + unwrap(stage.curve[-1].taken.value)
    dry = unwrap(plan.dry.bait.solids.value) + unwrap(plan.dry.bait.solute_mass.value)
    assert 0.45 < float(np.median(wet / (wet + dry))) < 0.60
