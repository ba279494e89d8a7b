"""Profiles for every test: a small, repeatable sample by default, the long one with ``--long``."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import HealthCheck, settings

# Shared cores make single examples slow now and then; time is the benchmark's business.
settings.register_profile("ci", max_examples=40, deadline=None, derandomize=True, database=None)
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
    if _mutating():
        _forget("baitwright")


@pytest.fixture(autouse=True)
def _each_mutant_plans_anew() -> None:
    """A plan kept from before the mutation would hide it, so each test makes its own."""
    if _mutating():
        _forget("tests")


def _mutating() -> bool:
    return "MUTANT_UNDER_TEST" in os.environ


def _forget(package: str) -> None:
    """Empty every cache of a package's functions."""
    kept = type(cache(_mutating))
    for name in [name for name in sys.modules if name.split(".")[0] == package]:
        for value in vars(sys.modules[name]).values():
            if isinstance(value, kept):
                value.cache_clear()


@pytest.fixture(scope="session")
def sample_size(pytestconfig: pytest.Config) -> Callable[[int, int], int]:
    """How many repetitions a simulation takes: ``sample_size(few, many)``, many with ``--long``."""
    long = bool(pytestconfig.getoption("--long"))
    return lambda few, many: many if long else few
