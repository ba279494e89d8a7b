"""Profiles for every test: a small, repeatable sample by default, the long one with ``--long``."""

from __future__ import annotations

import os
from collections.abc import Callable

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


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="the whole of every simulation and fuzz")


def pytest_configure(config: pytest.Config) -> None:
    settings.load_profile("long" if config.getoption("--long") else "ci")


@pytest.fixture(scope="session")
def sample_size(pytestconfig: pytest.Config) -> Callable[[int, int], int]:
    """How many repetitions a simulation takes: ``sample_size(few, many)``, many with ``--long``."""
    long = bool(pytestconfig.getoption("--long"))
    return lambda few, many: many if long else few
