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
from baitwright.quantities import to_si

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


def half_set_on_a_ramp(rate: Callable[..., object]) -> float:
    """Celsius at which half has set, warmed by a kelvin a minute from 45 C."""
    times = np.linspace(0.0, 45.0 * MINUTE, 2701)
    celsius = 45.0 + times / MINUTE
    extent = set_extent(times, celsius + ICE_POINT, rate)  # type: ignore[arg-type]
    return float(np.interp(0.5, extent, celsius))


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
            f"abstract: {minutes:g} min at {celsius:g} C for {decades} decades in whole egg",
            lambda t=celsius, m=minutes: salmonella(t, m),
            decades / 8.0,
            float(decades),
            "our line is drawn above all measurements, so it must promise less than was measured; "
            "its slope is flatter (z 5.3 against 3.7 to 4.2 K), so the gap widens to sevenfold",
            id=f"{decades}-decades-{celsius:g}C",
        )
        for celsius, row in [
            (56.0, (33.2, 39.0, 45.0)),
            (60.0, (2.7, 3.1, 3.5)),
            (64.0, (0.31, 0.34, 0.39)),
        ]
        for decades, minutes in zip((4, 5, 6), row, strict=True)
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
        "salmonella-capillary-abstract",
        "the same strains in the centre of a shell egg: D at 57.2 C is 5.19 to 6.12 min",
        lambda: decimal_reduction_time(57.2 + ICE_POINT) / MINUTE,
        6.12,
        15.0,
        "our line must lie above every measured value",
        id="measured-57.2C-in-the-shell",
    ),
    *(
        pytest.param(
            "fsis-appendix-a",
            f"seven decades at {celsius:g} C take {seconds:g} s in beef",
            lambda t=celsius, s=seconds: salmonella(t, s / MINUTE),
            4.0,
            7.0,
            "another food, a less cautious line: ours must not promise more",
            id=f"seven-decades-{celsius:g}C",
        )
        for celsius, seconds in [
            (60.0, 720.0),
            (62.8, 240.0),
            (65.0, 91.0),
            (65.6, 72.0),
            (67.2, 37.0),
            (68.9, 19.0),
            (69.4, 15.0),
        ]
    ),
    pytest.param(
        "fsis-appendix-a",
        "seven decades at 70.0 C and above take no time in beef",
        lambda: 7.0 * decimal_reduction_time(70.0 + ICE_POINT),
        10.0,
        20.0,
        "ours is held from 70 C up and never promises them at once; the row before asks 15 s",
        id="seven-decades-70C",
    ),
    pytest.param(
        "yolk-gel-2025",
        "summary: yolk gels at 64.3 to 68.8 C by the method",
        lambda: half_set_on_a_ramp(yolk_rate),
        64.3,
        68.8,
        "half set on a ramp of one kelvin a minute, by judgement: the ramps were not read",
        id="yolk-gels",
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


@pytest.mark.published
@pytest.mark.parametrize(("celsius", "native"), [(74.0, 0.75), (77.0, 0.51), (82.0, 0.32)])
def test_the_other_whey_protein_holds_out(celsius: float, native: float) -> None:
    """lyster-1970: alpha-lactalbumin after half an hour, a quarter or so of the whey's protein.

    Ours stands for beta-lactoglobulin alone, which goes first: a known miss of 0.2 to 0.3 on the
    smaller part of whey, told as information only. The order must hold, and the distance stay
    what the two columns of the same paper have (0.19 to 0.28) within the fit's 0.03.
    """
    assert 0.16 < native - native_whey(celsius) < 0.31


CFR_ROWS = {
    # product: Fahrenheit and minutes, and the same at two degrees less
    "white": ((134.0, 3.5), (132.0, 6.2)),
    "blends": ((142.0, 3.5), (140.0, 6.2)),
    "fortified": ((144.0, 3.5), (142.0, 6.2)),
    "salted whole": ((146.0, 3.5), (144.0, 6.2)),
    "sugared whole": ((142.0, 3.5), (140.0, 6.2)),
    "plain yolk": ((142.0, 3.5), (140.0, 6.2)),
    "sugared or salted yolk": ((146.0, 3.5), (144.0, 6.2)),
}


def held_as_printed(fahrenheit: float, minutes: float) -> float:
    return salmonella(to_si(fahrenheit, "F") - ICE_POINT, minutes)


@pytest.mark.published
@pytest.mark.parametrize("product", list(CFR_ROWS))
def test_both_rows_of_the_rule_do_the_same(product: str) -> None:
    """cfr-9-590-570, table I: two holdings stand for each other.

    The rule's pairs lie on z 4.5 K, ours on 5.3 K: over 1.1 K they part by 9 %; minutes printed
    with two digits leave 1 to 2 % on that.
    """
    hotter, cooler = (held_as_printed(*row) for row in CFR_ROWS[product])
    assert hotter / cooler == pytest.approx(0.913, abs=0.015)


@pytest.mark.published
def test_what_the_rule_asks_more_of() -> None:
    """cfr-9-590-570, table I, and the note that plain whole egg at 140 F gets over 3 decades.

    Ours, drawn above all measurements in egg, gives it 1.33; rows for sugar, salt and solids are
    hotter because those protect, which our line does not know: by it they get 2 to 6 decades.
    White takes less heat than it: 0.3, where the rule thinks it enough. So ours is no reading of
    the rule: it is cautious on plain egg, and must not be used for what is salted or sugared.
    """
    plain = held_as_printed(140.0, 3.5)
    assert plain == pytest.approx(1.33, abs=0.01)
    for product, rows in CFR_ROWS.items():
        done = held_as_printed(*rows[0])
        assert (done < plain) is (product == "white")
        assert 0.3 < done < 6.0


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
