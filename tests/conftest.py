"""Profiles for every test: a small, repeatable sample by default, the long one with ``--long``."""

from __future__ import annotations

import os
from collections.abc import Callable

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
    short = "mutation" if "MUTANT_UNDER_TEST" in os.environ else "ci"
    settings.load_profile("long" if config.getoption("--long") else short)


@pytest.fixture(scope="session")
def sample_size(pytestconfig: pytest.Config) -> Callable[[int, int], int]:
    """How many repetitions a simulation takes: ``sample_size(few, many)``, many with ``--long``."""
    long = bool(pytestconfig.getoption("--long"))
    return lambda few, many: many if long else few
