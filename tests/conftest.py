"""Profiles for every test: a small, repeatable sample by default, the long one with ``--long``."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import HealthCheck, settings

# Workers share the cores: a matrix that takes them all waits for others, up to 20 times as long.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# Shared cores make single examples slow now and then; time is the benchmark's business.
settings.register_profile("ci", max_examples=12, deadline=None, derandomize=True, database=None)
settings.register_profile(
    "long",
    max_examples=4000,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
# The mutation run collects the tests again and again in one process: new classes, same tests.
settings.register_profile(
    "mutation",
    settings.get_profile("ci"),
    suppress_health_check=[HealthCheck.differing_executors],
)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="the whole of every simulation and fuzz")


def pytest_configure(config: pytest.Config) -> None:
    short = "mutation" if _mutating() else "ci"
    settings.load_profile("long" if config.getoption("--long") else short)
    if _mutating():  # what was kept from before the mutation would hide it
        _forget("baitwright", "tests")


def pytest_unconfigure() -> None:
    if _mutating():  # or every mutant's process begins by clearing away what mutmut's own kept
        _forget("baitwright", "tests")


@pytest.fixture(autouse=True)
def _each_test_shows_what_it_reaches() -> None:
    """While mutmut notes which test reaches which function, no test lives on another's results."""
    if os.environ.get("MUTANT_UNDER_TEST") == "stats":
        _forget("baitwright.physics", "tests")


def _mutating() -> bool:
    return "MUTANT_UNDER_TEST" in os.environ


def _forget(*rooms: str) -> None:
    """Empty every cache of the functions of these rooms."""
    kept = type(cache(_mutating))
    for name in [name for name in sys.modules if name.startswith(rooms)]:
        for value in vars(sys.modules[name]).values():
            if isinstance(value, kept):
                value.cache_clear()


@pytest.fixture(scope="session")
def sample_size(pytestconfig: pytest.Config) -> Callable[[int, int], int]:
    """How many repetitions a simulation takes: ``sample_size(few, many)``, many with ``--long``."""
    long = bool(pytestconfig.getoption("--long"))
    return lambda few, many: many if long else few
