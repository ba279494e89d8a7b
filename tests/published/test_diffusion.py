"""Diffusion against exact series of others, measured diffusivities and a soaking fit."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from baitwright.physics.diffusion import (
    at_temperature,
    fraction_leached,
    hayduk_laudie,
    mackie_meares,
    moisture_diffusivity,
    peleg,
    solids_volume,
    wilke_chang,
)

EXACT = [
    *(
        pytest.param(
            "crank-1975",
            f"p. 91, as worked by the package polykin: D {diffusivity:g}, a {radius:g}, 100 s",
            lambda d=diffusivity, a=radius: fraction_leached(d, a, 100.0),
            printed,
            2e-10,
            "sixteen digits are printed; ours drops terms below 1e-10",
            id=f"uptake-{printed:.3f}",
        )
        for diffusivity, radius, printed in [
            (1e-11, 1e-4, 0.7704787380259631),
            (1e-10, 2e-4, 0.9484368978658284),
        ]
    ),
    *(
        pytest.param(
            "peleg-1988",
            f"teff at {celsius} C: M0 + t / (k1 + k2 t), final gain 1 / k2",
            lambda k1=first, k2=second: peleg(1e9, rate_constant=k1, capacity_constant=k2),
            final,
            3e-3,
            "the final gains are printed with three digits",
            id=f"peleg-{celsius}C",
        )
        for celsius, first, second, final in [(20, 0.714, 0.043, 23.3), (50, 0.272, 0.025, 40.0)]
    ),
    pytest.param(
        "litchfield-okos-1992",
        "pasta at X 0.2: activation 26.24 kJ/mol takes 6.72e-12 at 20 C to 3.31e-11 at 71 C",
        lambda: moisture_diffusivity(344.15, at_20C=6.72e-12, activation=26.24e3),
        3.31e-11,
        5e-3,
        "three digits, from the coefficients in a public code",
        id="pasta-warms",
    ),
]

# Molar volumes at the boiling point by LeBas in cm3/mol, diffusivities at 25 C in m2/s.
SOLUTES = [
    ("ethanol", 59.2, 1.24e-9),
    ("glycerol", 96.2, 1.06e-9),
    ("glycine", 78.0, 1.05e-9),
    ("glucose", 162.6, 0.67e-9),
]

MEASURED = [
    *(
        pytest.param(
            "crc-handbook",
            f"diffusivity of {name} in water at 25 C",
            lambda v=volume: hayduk_laudie(1e-6 * v, 298.15),
            measured,
            0.15,
            "the correlation's own error is 6 to 10 %, and measured values scatter by some 5 %",
            id=f"hayduk-laudie-{name}",
        )
        for name, volume, measured in SOLUTES
    ),
    *(
        pytest.param(
            "crc-handbook",
            f"diffusivity of {name} in water at 25 C",
            lambda v=volume: wilke_chang(1e-6 * v, 298.15),
            measured,
            0.20,
            "the older correlation runs high by up to a fifth in water",
            id=f"wilke-chang-{name}",
        )
        for name, volume, measured in SOLUTES
    ),
    *(
        pytest.param(
            "holz-2000",
            f"self-diffusion of water, 2.299e-9 at 25 C, taken to {celsius:g} C",
            lambda t=celsius: at_temperature(2.299e-9, t + 273.15),
            measured,
            0.06,
            "Stokes and Einstein had large bodies in mind: water itself strays by 5 %",
            id=f"stokes-einstein-{celsius:g}C",
        )
        for celsius, measured in [(5.0, 1.313e-9), (15.0, 1.766e-9), (45.0, 3.575e-9)]
    ),
]


@pytest.mark.published
@pytest.mark.parametrize(
    ("source", "locator", "got", "expected", "rel", "why"), [*EXACT, *MEASURED]
)
def test_diffusion(
    source: str, locator: str, got: Callable[[], float], expected: float, rel: float, why: str
) -> None:
    assert got() == pytest.approx(expected, rel=rel), f"{source}, {locator}: {why}"


@pytest.mark.published
def test_obstruction_and_heat_set_protein_disagree() -> None:
    """Two published lines on how a set solid slows a solute cannot both hold for one body.

    kvale-2006: peptides leave heat-coagulated particles below 0.3 mm half gone in 5 min, which
    asks for about 2e-12 m2/s; mackie-meares-1955 gives a solid with 35 % water a tenth of
    7e-10. The factor of twenty to forty between them is why hindrance has a wide prior.
    """
    obstruction = 7e-10 * mackie_meares(solids_volume(0.35))
    leached = fraction_leached(2e-12, 0.15e-3, 300.0)
    assert 0.43 < leached < 0.54
    assert 15.0 < obstruction / 2e-12 < 40.0
    assert np.isfinite(obstruction)
