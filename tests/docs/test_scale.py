"""The arithmetic of `docs/scale.md` is that of its own figures."""

from __future__ import annotations

import math
import re

import pytest

from tests.architecture.tree import ROOT

TEXT = (ROOT / "docs" / "scale.md").read_text(encoding="utf-8")
DAY, KIB_TO_GIB, MIB_TO_GIB = 86_400.0, 1.0 / 1024**2, 1.0 / 1024


def table(heading: str) -> dict[str, float]:
    """The figures of the first table under a heading, by what they are."""
    below = TEXT.split(f"\n### {heading}\n")[1].split("\n### ")[0]
    return {
        name: float(figure)
        for name, figure in re.findall(r"^\| ([^|]+) \| ([\d.]+) \| [^|]+ \|$", below, re.M)
    }


MEASURED, ASSUMED, TOLD = map(table, ("Measured", "Assumed", "What it comes to"))


def seconds(found: float) -> float:
    """Of a core for an answer, where such a share is found again."""
    return MEASURED["page"] + (1.0 - found) * MEASURED["plan"] + 1e-3 * MEASURED["found"]


def cores(found: float) -> int:
    """In the busiest hour."""
    busiest = ASSUMED["askers"] / DAY * ASSUMED["busiest hour"]
    return math.ceil(busiest * seconds(found) / (ASSUMED["a core works"] / 100.0))


def price(found: float) -> float:
    """Of a thousand answers, cores paid by use."""
    hours = 1000.0 * seconds(found) / 3600.0 / (ASSUMED["a core works"] / 100.0)
    return hours * ASSUMED["price"]


def worked_out() -> dict[str, float]:
    found, askers = ASSUMED["found again"] / 100.0, ASSUMED["askers"]
    many = cores(found)
    return {
        "on the mean": askers / DAY,
        "in the busiest hour": askers / DAY * ASSUMED["busiest hour"],
        "an answer": seconds(found),
        "cores": many,
        "memory": many * MEASURED["process"] * MIB_TO_GIB,
        "kept anew": (1.0 - found) * askers * MEASURED["kept"] * KIB_TO_GIB,
        "a thousand answers": price(found),
        "a thousand answers, all day": many * 24.0 * ASSUMED["price"] / askers * 1000.0,
    }


def as_told(value: float, told: str) -> bool:
    """Whether a figure is the value in as many places as it is told in."""
    places = len(told.partition(".")[2])
    return abs(value - float(told)) <= 0.5 * 10.0**-places + 1e-12


@pytest.mark.parametrize("name", worked_out())
def test_each_figure_follows_from_those_before_it(name: str) -> None:
    (told,) = re.findall(
        rf"^\| {re.escape(name)} \| ([\d.]+) \|", TEXT.split("### What it comes")[1], re.M
    )
    assert as_told(worked_out()[name], told), worked_out()[name]


def test_nothing_is_told_that_is_not_worked_out() -> None:
    assert TOLD.keys() == worked_out().keys()
    assert MEASURED.keys() == {"plan", "page", "found", "kept", "process"}


def test_what_hangs_on_finding_answers_again_is_worked_out_too() -> None:
    rows = re.findall(r"^\| (\d+) \| ([\d.]+) \| (\d+) \| ([\d.]+) \|$", TEXT, re.M)
    assert len(rows) == 6
    for share, took, many, paid in rows:
        found = float(share) / 100.0
        assert as_told(seconds(found), took), seconds(found)
        assert cores(found) == int(many)
        assert as_told(price(found), paid), price(found)


def test_a_figure_that_is_off_would_be_seen() -> None:
    assert as_told(0.6356, "0.636")
    assert not as_told(0.6356, "0.635")
    assert not as_told(36.5, "37.1")


def test_a_million_designs_follow_from_the_pace() -> None:
    """1,000,000 / pace: in hours of two cores, and as cores for an hour."""
    names = (
        "designs a second of one core",
        "a million, on 2 cores",
        "a million, cores for an hour",
    )
    rows = [
        re.findall(rf"^\| {name} \| ([\d.]+)[ h]* \| ([\d.]+)", TEXT, re.M)[0] for name in names
    ]
    for pace, two, many in zip(*rows, strict=True):
        hours = 1e6 / float(pace) / 3600.0
        assert as_told(hours / 2.0, two)
        assert as_told(hours, many)
