"""Profiles for every test: a small, repeatable sample by default, the long one with ``--long``."""

from __future__ import annotations

import os
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, settings

from baitwright.batch.batch_plan import PlanRequest
from baitwright.uncertainty.draws import Draws

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

ALL, FEW = Draws(), Draws(batches=48)
"""A maker's draws, and those for rooms that carry a plan's numbers, or ask what holds for any."""
FEW_IN = ("advice", "batch", "cli", "faults", "learning", "notebook", "sheets", "web", "workshop")

LEANS_ON = ("all_draws", "simulation")
"""Marks of tests that judge a plan's bands."""


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="the whole of every simulation and fuzz")


def pytest_configure(config: pytest.Config) -> None:
    settings.load_profile("long" if config.getoption("--long") else "ci")


@pytest.fixture(scope="session")
def sample_size(pytestconfig: pytest.Config) -> Callable[[int, int], int]:
    """How many repetitions a simulation takes: ``sample_size(few, many)``, many with ``--long``."""
    long = bool(pytestconfig.getoption("--long"))
    return lambda few, many: many if long else few


@pytest.hookimpl(tryfirst=True)  # before any fixture, which may plan too
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Imagine fewer batches where no test leans on them; `LEANS_ON` marks those that do."""
    leans = any(item.get_closest_marker(mark) for mark in LEANS_ON)
    few = item.path.parent.name in FEW_IN and not leans
    drawn = FEW if few else ALL
    Draws.__init__.__defaults__ = (drawn.batches, drawn.baits, drawn.seed)
    PlanRequest.__init__.__defaults__ = (drawn,)
