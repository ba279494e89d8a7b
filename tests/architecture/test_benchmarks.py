"""The benchmark compares like with like: every side reaches the error it is timed at."""

from __future__ import annotations

from importlib.util import find_spec

import numpy as np
import pytest

from baitwright.physics import compiled
from baitwright.physics.compiled import Backend
from benchmarks import c_kernel, mixes, peers, radial_engine
from benchmarks.balls import steep_balls
from benchmarks.radial_engine import PROBLEMS, Peer, Problem
from benchmarks.radial_engine_calls import ours

FEW = 6
SIDES = [
    pytest.param(problem, peer, id=f"{name}-{peer.name}")
    for name, problem in PROBLEMS.items()
    for peer in problem.peers
]


@pytest.mark.bench
@pytest.mark.parametrize(("problem", "peer"), SIDES)
def test_a_peer_reaches_the_error(problem: Problem, peer: Peer) -> None:
    if peer.name == "CVODE" and find_spec("sksundae") is None:
        pytest.skip("scikit-sundae is not installed")
    balls = problem.balls(FEW)
    found = peers.follow(balls, peer.solver, peer.setting)
    assert np.abs(found - problem.judge(balls)).max() <= problem.error


@pytest.mark.bench
@pytest.mark.parametrize("name", PROBLEMS)
def test_ours_reaches_the_error(name: str) -> None:
    problem = PROBLEMS[name]
    balls = problem.balls(FEW)
    run = ours(balls, Backend.NUMPY)
    found = np.array([run.innermost_shell, run.surface, run.shell_mean]).transpose(2, 0, 1)
    assert np.abs(found - problem.judge(balls)).max() <= problem.error


@pytest.mark.bench
def test_who_misses_the_error_gets_no_ratio() -> None:
    rough = Peer("LSODA", peers.lsoda, peers.Setting(8, 1.0, 1e-2), goal=1.0, share=0.1)
    times = {"LSODA": [1.0, 1.0]}
    lines = radial_engine._ratios(
        None, 4096, [1e-6, 1e-6], theirs=times, peers=[rough], no={"LSODA"}
    )
    assert "no ratio" in next(lines)


@pytest.mark.bench
def test_the_kernel_in_c_does_what_ours_does() -> None:
    if isinstance(library := c_kernel.library(), str):
        pytest.skip(library)
    if not compiled.installed():
        pytest.skip("numba is not installed")
    balls = steep_balls(40)
    plain = ours(balls, Backend.NUMBA)
    kept, compiled.march = compiled.march, c_kernel.march
    try:
        by_hand = ours(balls, Backend.NUMBA)
    finally:
        compiled.march = kept
    assert by_hand.surface == pytest.approx(plain.surface, abs=1e-11)
    assert by_hand.shell_mean == pytest.approx(plain.shell_mean, abs=1e-11)


@pytest.mark.bench
def test_mixes_and_the_bare_solver_find_the_same() -> None:
    lines = list(mixes.report(quick=True))
    assert len(lines) == 3
    for line in lines:
        apart = float(line.rsplit(" apart", 1)[0].rsplit(" ", 1)[1])
        assert apart <= 1e-8
