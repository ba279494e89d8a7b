"""Set of egg and heat's effect on bacteria against papers, rules and worked examples."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from baitwright.physics.lethality import (
    decimal_reduction_time,
    equivalent_time,
    log_reduction,
    spore_time,
)
from baitwright.physics.protein_set import albumen_rate, set_extent, whey_rate, yolk_rate

ICE_POINT = 273.15
MINUTE = 60.0


def held(celsius: float, seconds: float, effect: Callable[..., object]) -> float:
    """The running effect at the end of a time at one temperature."""
    times = np.linspace(0.0, seconds, 21)
    return float(np.asarray(effect(times, np.full(21, celsius + ICE_POINT)))[-1])


def salmonella(celsius: float, minutes: float) -> float:
    return held(celsius, minutes * MINUTE, log_reduction)


def equivalent(celsius: float, seconds: float, *, at: float, z: float) -> float:
    return held(celsius, seconds, lambda t, k: equivalent_time(t, k, reference=at + ICE_POINT, z=z))


def set_after(celsius: float, seconds: float, rate: Callable[..., object]) -> float:
    return held(celsius, seconds, lambda t, k: set_extent(t, k, rate))  # type: ignore[arg-type]


EXACT = [
    pytest.param(
        "doyle-mazzotta-2000",
        "abstract: log10 D = 11.7 - 0.188 T, D in minutes, at 60 C",
        lambda: decimal_reduction_time(333.15) / MINUTE,
        10.0**0.42,
        1e-9,
        "the printed line itself",
        id="decimal-time-60C",
    ),
    pytest.param(
        "doyle-mazzotta-2000",
        "abstract: z = 5.3 C",
        lambda: 10.0 * np.log10(decimal_reduction_time(333.15) / decimal_reduction_time(343.15)),
        10.0 * 10.0 / 5.3,
        5e-3,
        "z is printed with two digits",
        id="decimal-time-slope",
    ),
    pytest.param(
        "dairy-science-page",
        "15 min at 85 C with z 8.7 C is 0.167 min at 102 C",
        lambda: equivalent(85.0, 15 * MINUTE, at=102.0, z=8.7) / MINUTE,
        0.167,
        3e-3,
        "three digits are printed",
        id="equivalent-time",
    ),
    pytest.param(
        "dairy-science-page",
        "lethal rate at 110 C against 121.11 C with z 10 C is 0.077",
        lambda: equivalent(110.0, 1.0, at=121.11, z=10.0),
        0.077,
        7e-3,
        "two digits are printed",
        id="lethal-rate",
    ),
]

UK_TIMES = [
    pytest.param(
        "fsa-cooking-times",
        f"{celsius:g} C for {printed:g} s stands for 70 C for 2 min (z 7.5 C)",
        lambda t=celsius, s=printed: equivalent(t, s, at=70.0, z=7.5),
        120.0,
        rel,
        "the printed times are rounded up to handy figures, the short one most",
        id=f"two-minutes-at-70-from-{celsius:g}C",
    )
    for celsius, printed, rel in [
        (60.0, 2700.0, 0.05),
        (65.0, 600.0, 0.08),
        (75.0, 30.0, 0.17),
        (80.0, 6.0, 0.08),
    ]
]


SPORES = [
    pytest.param(
        "fsa-vacuum-packing",
        f"table: {celsius} C for {printed:g} min stands for 90 C for 10 min",
        lambda t=celsius, m=printed: held(t, m * MINUTE, spore_time) / MINUTE,
        10.0,
        rel,
        "the printed minutes are rounded to two digits, or to whole ones",
        id=f"ten-minutes-at-90-from-{celsius}C",
    )
    for celsius, printed, rel in [
        (80, 129.0, 0.005),
        (82, 77.0, 0.01),
        (84, 46.0, 0.015),
        (86, 28.0, 0.01),
        (88, 17.0, 0.03),
        (90, 10.0, 1e-9),
        (92, 6.3, 0.005),
        (94, 4.0, 0.01),
        (96, 2.5, 0.01),
        (98, 1.6, 0.015),
        (100, 1.0, 0.005),
    ]
]


@pytest.mark.published
@pytest.mark.parametrize(
    ("source", "locator", "got", "expected", "rel", "why"), [*EXACT, *UK_TIMES, *SPORES]
)
def test_time_and_temperature(
    source: str, locator: str, got: Callable[[], float], expected: float, rel: float, why: str
) -> None:
    assert got() == pytest.approx(expected, rel=rel), f"{source}, {locator}: {why}"


BOUNDS = [
    *(
        pytest.param(
            "gurtler-2019",
            f"abstract: {minutes:g} min at {celsius:g} C for six decades in liquid whole egg",
            lambda t=celsius, m=minutes: salmonella(t, m),
            0.0,
            6.0,
            "our line is drawn above all measurements, so it must promise less than was measured",
            id=f"six-decades-{celsius:g}C",
        )
        for celsius, minutes in [(56.0, 45.0), (60.0, 3.5), (64.0, 0.39)]
    ),
    pytest.param(
        "cfr-9-590-570",
        "table I: whole egg 60 C for 3.5 min; the rule's authors counted more than 3 decades",
        lambda: salmonella(60.0, 3.5),
        1.0,
        3.0,
        "conservative, but of the same order as the rule",
        id="whole-egg-rule",
    ),
    pytest.param(
        "salmonella-capillary-abstract",
        "six strains in liquid whole egg: D at 56.7 C is 3.05 to 4.09 min",
        lambda: decimal_reduction_time(56.7 + ICE_POINT) / MINUTE,
        4.09,
        15.0,
        "our line must lie above every measured value",
        id="measured-56.7C",
    ),
    pytest.param(
        "fsis-appendix-a",
        "seven decades at 65.0 C take 91 s in beef",
        lambda: salmonella(65.0, 91.0 / MINUTE),
        3.5,
        7.0,
        "another food, a less cautious line: ours must not promise more",
        id="seven-decades-65C",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "an egg held an hour at 65 C: the yolk is set",
        lambda: set_after(65.0, 3600.0, yolk_rate),
        0.95,
        1.0,
        "a word, not a number: set means nearly all",
        id="yolk-sets-at-65C",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "an egg held an hour at 65 C: the albumen is not",
        lambda: set_after(65.0, 3600.0, albumen_rate),
        0.0,
        0.5,
        "a word, not a number: not set means less than half",
        id="albumen-stays-soft-at-65C",
    ),
    pytest.param(
        "belitz-2009",
        "table 11.4: ovalbumin, over half of the white, goes at 84.5 C in a scan of minutes",
        lambda: set_after(84.5, 60.0, albumen_rate),
        0.99,
        1.0,
        "a scan spends about a minute in the last degrees",
        id="albumen-sets-at-84.5C",
    ),
    pytest.param(
        "belitz-2009",
        "table 11.4: ovotransferrin, the first to go, needs 61.5 C; below it nothing sets soon",
        lambda: set_after(58.0, 600.0, albumen_rate),
        0.0,
        0.05,
        "ten minutes, 3.5 C below the first of its proteins",
        id="albumen-waits-at-58C",
    ),
]


@pytest.mark.published
@pytest.mark.parametrize(("source", "locator", "got", "low", "high", "why"), BOUNDS)
def test_within_what_was_measured(
    source: str, locator: str, got: Callable[[], float], low: float, high: float, why: str
) -> None:
    assert low <= got() <= high, f"{source}, {locator}: {why}"


@pytest.mark.published
def test_a_second_printed_figure_of_the_line_is_rounded() -> None:
    """doyle-mazzotta-2000 prints 1.2 s per decade at 71 C; its own line gives 1.35 s.

    The coefficients are printed with three digits, and the third of 0.188 alone moves the time by
    8 % there. Our time at 71 C is the one at 70 C, 2.08 s: higher than both.
    """
    line = 60.0 * 10.0 ** (11.7 - 0.188 * 71.0)
    assert line == pytest.approx(1.35, abs=0.01)
    assert decimal_reduction_time(71.0 + ICE_POINT) > line > 1.2


def native_whey(celsius: float) -> float:
    """Share of whey protein still native after half an hour."""
    times = np.linspace(0.0, 1800.0, 21)
    kelvin = np.full(21, celsius + ICE_POINT)
    return float(1.0 - set_extent(times, kelvin, whey_rate, order=1.5)[-1])


@pytest.mark.published
@pytest.mark.parametrize(
    ("celsius", "found", "worked_out"),
    [
        (62.0, 0.92, 0.98),
        (66.0, 0.89, 0.93),
        (70.0, 0.70, 0.81),
        (74.0, 0.47, 0.59),
        (77.0, 0.32, 0.38),
        (82.0, 0.07, 0.14),
    ],
)
def test_native_whey_protein_after_half_an_hour(
    celsius: float, found: float, worked_out: float
) -> None:
    """lyster-1970: beta-lactoglobulin found native in milk, and what its author worked out.

    Ours was fitted to what was found, so the first line tests the fit: 0.03 is what a curve of
    one slope leaves. The second is another's curve from other measurements, up to 0.12 above
    what was found; ours must not lie farther from it than those two from each other.
    """
    assert native_whey(celsius) == pytest.approx(found, abs=0.03)
    assert native_whey(celsius) == pytest.approx(worked_out, abs=0.13)


PRINTED_RATES = [
    # Celsius, yolk and albumen, 1/s: worked out from the constants with R = 8.314462618 J/mol/K
    (60.0, 2.836e-4, 1.18e-5),
    (65.0, 1.782e-3, 1.10e-4),
    (70.0, 1.061e-2, 9.61e-4),
    (75.0, 6.006e-2, 7.90e-3),
    (80.0, 0.3235, 6.11e-2),
    (85.0, 1.663, 0.447),
    (90.0, 8.17, 3.10),
]


@pytest.mark.published
@pytest.mark.parametrize(("celsius", "yolk", "albumen"), PRINTED_RATES)
def test_rates_of_egg(celsius: float, yolk: float, albumen: float) -> None:
    """di-lorenzo-2025: A and Ea of both proteins; a rounded R would shift these by one percent.

    Three digits are held where four were worked out; 0.5 % is the third digit.
    """
    assert yolk_rate(celsius + ICE_POINT) == pytest.approx(yolk, rel=2e-3)
    assert albumen_rate(celsius + ICE_POINT) == pytest.approx(albumen, rel=5e-3)
