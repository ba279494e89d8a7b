"""Numbers are shown with the digits a kitchen can use, and never rounded into a promise."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from baitwright.materials.tools import draw as drawn
from baitwright.materials.tools import syringes
from baitwright.sheets.wording import (
    clock,
    day,
    defaults_in,
    figure,
    is_number,
    span,
    stated,
    to_the_mark,
    to_the_minute,
    weekday,
)
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, PerBait, PerBatch, Quantity, given
from baitwright.terms.units import (
    CELSIUS,
    GRAMS,
    HOURS,
    KILOGRAMS,
    MILLILITRES,
    MILLIMETRES,
    PERCENT,
    PLAIN,
    SECONDS,
    Unit,
)


def number(value: object, unit: Unit = PLAIN, name: str = "x") -> Quantity:
    return given(name, value, label="x", unit=unit)


def worked_out(value: object, unit: Unit = PLAIN, name: str = "x") -> Quantity:
    return replace(number(value, unit, name), origin=Origin.COMPUTED)


def spread(low: float, high: float, unit: Unit = PLAIN, name: str = "x") -> Quantity:
    return number(PerBatch(np.linspace(low, high, 101)[:, None]), unit, name)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.2594, GRAMS, "259 g"),
        (0.001563, GRAMS, "1.56 g"),
        (54.04e-6, MILLILITRES, "54 ml"),
        (2.594e-6, MILLILITRES, "2.59 ml"),
        (1.14e-6, GRAMS, "0.0011 g"),
        (373.15, CELSIUS, "100 °C"),
        (90.0, SECONDS, "90 s"),
        (0.1, PERCENT, "10 %"),
        (0.0909, PERCENT, "9.1 %"),
        (0.05, PERCENT, "5 %"),
        (1.0, PERCENT, "100 %"),
        (0.0, PERCENT, "0 %"),
        (0.999, PERCENT, "over 99 %"),
        (1e-5, PERCENT, "under 0.1 %"),
        (0.015, MILLIMETRES, "15 mm"),
        (0.0143, MILLIMETRES, "14.3 mm"),
        (28800.0, HOURS, "8 h"),
        (float("inf"), HOURS, "never"),
        (3.0, PLAIN, "3"),
        (4.06, PLAIN, "4.1"),
    ],
)
def test_digits_follow_the_unit(value: float, unit: Unit, text: str) -> None:
    assert figure(worked_out(value, unit)).text == text


def test_a_band_has_the_digits_of_its_middle() -> None:
    assert figure(spread(0.2, 0.3, GRAMS)).with_band == "250 g (210 to 290)"
    assert figure(spread(0.0095, 0.0115, GRAMS)).with_band == "10 g (10 to 11)"
    assert figure(spread(0.014, 0.016, MILLIMETRES)).with_band == "15.0 mm (14.2 to 15.8)"


def test_a_band_that_shows_no_width_is_left_out() -> None:
    assert figure(spread(0.25001, 0.25002, GRAMS)).band == ""


@pytest.mark.parametrize("name", ["lift", "rig_lift", "lift_on_core"])
def test_a_lift_shows_its_sign(name: str) -> None:
    lift = spread(-1e-4, 3e-4, GRAMS, name)
    assert figure(lift).with_band == "+0.10 g (-0.06 to +0.26)"
    assert figure(worked_out(-1e-9, GRAMS, name)).text == "0.00 g"
    assert figure(spread(1e-4, 3e-4, GRAMS)).number == "0.20"


def test_a_pinch_is_told_by_the_trays_mean_and_a_bait_by_itself() -> None:
    baits = PerBait(np.linspace(1.0, 2.0, 400).reshape(4, 100).T / 1e3)
    assert figure(number(baits, GRAMS)).band == "1.10 to 1.90"
    assert figure(number(baits, GRAMS, "pinch")).band == "1.40 to 1.60"
    assert stated(number(baits, GRAMS, "pinch")) == "1.50 g (1.40 to 1.60)"


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.052, "5 %"), (0.996, "over 99 %"), (1.0, "100 %"), (0.004, "under 1 %"), (0.0, "0 %")],
)
def test_a_share_of_baits_is_a_whole_percent(value: float, text: str) -> None:
    for name in ("word_share", "wish_share", "set_share"):
        assert figure(worked_out(value, PERCENT, name)).text == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [(0.1635, GRAMS, "163.5 g"), (290.65, CELSIUS, "17.5 °C"), (2.0, KILOGRAMS, "2 kg")],
)
def test_what_somebody_gave_is_printed_as_it_was_given(value: float, unit: Unit, text: str) -> None:
    assert figure(number(value, unit)).text == stated(number(value, unit)) == text


def test_what_was_taken_is_stated_in_a_word() -> None:
    assert stated(number(293.15, CELSIUS)) == "20 °C"
    assert stated(number(0.05, Unit("1/min", "1/min"))) == "3 a minute"
    assert stated(number(25.0, Unit("", "1"))) == "25"
    assert stated(spread(-5e-4, 5e-4, MILLIMETRES)) == "±0.4 mm"
    assert stated(number("wafter")) == ""


def test_only_numbers_count_as_numbers() -> None:
    assert is_number(number(1.0))
    assert is_number(spread(0.0, 1.0))
    assert not is_number(number(True))
    assert not is_number(number("wafter"))
    assert not is_number(number(object()))


@pytest.mark.parametrize(
    ("name", "dose", "mark"),
    [("syringe-1", 0.654e-6, "0.65"), ("syringe-5", 2.59e-6, "2.6"), ("syringe-10", 7.3e-6, "7.5")],
)
def test_a_fill_is_told_to_the_graduation(name: str, dose: float, mark: str) -> None:
    assert to_the_mark(drawn(syringes()[name], dose)).text == f"{mark} ml"


def test_moments_are_told_alike_on_every_machine() -> None:
    moment = datetime(2026, 3, 1, 5, 7, 29)
    assert (day(moment), clock(moment)) == ("Sun 1 Mar 2026", "05:07")
    late = datetime(2026, 2, 28, 23, 59, 30)
    assert (day(late), weekday(late), clock(late)) == ("Sun 1 Mar 2026", "Sun", "00:00")
    assert to_the_minute(late) == datetime(2026, 3, 1)
    assert span(timedelta(minutes=125)) == "2 h 05 min"
    assert span(timedelta(minutes=45)) == "45 min"


def test_defaults_are_found_through_everything_a_number_stands_on() -> None:
    room = Quantity(
        name="room",
        label="room",
        value=293.15,
        unit="K",
        shown="C",
        origin=Origin.DEFAULT,
        source="judgement",
        evidence=Evidence.JUDGEMENT,
    )
    top = Quantity(
        name="top",
        label="top",
        value=1.0,
        unit="",
        shown="",
        origin=Origin.COMPUTED,
        source="definition",
        evidence=Evidence.COMPUTED,
        inputs=(("room", room),),
    )
    assert list(defaults_in((number(1.0), top)).values()) == [room]
