"""The radial engine and its peers on the same balls: errors, then times in turns, then ratios.

A side that misses the error gets no ratio. Peers are timed on a seeded 256 of the balls, a share of
them in each round, ours on all in every round; one thread each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from importlib.util import find_spec
from statistics import median
from time import perf_counter

import numpy as np

from baitwright.physics import compiled
from baitwright.physics.compiled import Backend
from baitwright.physics.radial import Transported
from baitwright.physics.series import sphere_series
from benchmarks import c_kernel, peers
from benchmarks.balls import Array, Balls, even_balls, steep_balls
from benchmarks.peers import Setting, Solver
from benchmarks.radial_engine_calls import ours

COUNTS = (1, 256, 4096, 65_536)
MANY = 4096
JUDGED = 256
ROUNDS = 4


@dataclass(frozen=True)
class Peer:
    """A general solver and the cheapest setting found that reaches the error."""

    name: str
    solver: Solver
    setting: Setting
    goal: float | None = None  # times ours, of 4,096 balls
    share: float = 1.0  # of the judged balls it is timed on; slow ones take fewer


@dataclass(frozen=True)
class Problem:
    """Balls, the error to reach, who judges it, and who takes part."""

    title: str
    error: float
    balls: Callable[[int], Balls]
    judge: Callable[[Balls], Array]
    peers: tuple[Peer, ...]
    backends: tuple[Backend | None, ...]
    counts: tuple[int, ...] = COUNTS


def by_series(balls: Balls) -> Array:
    """Excess at wall, surface and on average by the exact series, (draws, 3, outputs)."""
    found = []
    for draw in range(len(balls)):
        outer, core = float(balls.outer[draw]), float(balls.core[draw])
        series = sphere_series(outer, core, biot=float(balls.biot[draw]), terms=150)
        gone = balls.diffusivity[draw] * balls.times
        found.append([series.innermost(gone), series.surface(gone), series.mean(gone)])
    return np.array(found)


def _read_ours(balls: Balls, backend: Backend | None) -> Array:
    """Wall, surface and mean, as the judge gives them."""
    run: Transported = ours(balls, backend)
    return np.array([run.innermost_shell, run.surface, run.shell_mean]).transpose(2, 0, 1)


_LSODA = "LSODA"
EVEN = (
    Peer(_LSODA, peers.lsoda, Setting(88, 1.45, 1e-5), goal=1500.0),
    Peer("BDF", peers.bdf, Setting(80, 1.5, 3e-6), goal=5000.0, share=0.25),
    Peer("Radau", peers.radau, Setting(80, 1.5, 1e-5), share=0.125),
    Peer("CVODE", peers.cvode, Setting(88, 1.45, 1e-6)),
)
SOLID = (Peer(_LSODA, peers.lsoda, Setting(150, 1.5, 1e-5), goal=1500.0),)
ROUGH = (Peer(_LSODA, peers.lsoda, Setting(28, 1.3, 1e-4)),)
STEEP = (
    Peer(_LSODA, peers.lsoda, Setting(52, 1.9, 1e-4), goal=300.0),
    Peer("BDF", peers.bdf, Setting(44, 1.9, 5e-5), goal=850.0, share=0.25),
    Peer("Radau", peers.radau, Setting(44, 1.9, 1e-3), share=0.25),
    Peer("CVODE", peers.cvode, Setting(56, 1.9, 1e-5)),
)
NUMPY_GOALS = {_LSODA: 50.0}  # of the nonlinear march; the others are goals of its machine code
ALONE = {Backend.NUMPY: 1.0, Backend.NUMBA: 5.0}  # one warm ball against LSODA

PROBLEMS = {
    "sealed": Problem(
        "constant D, sealed core, exact modes", 1e-4, even_balls, by_series, EVEN, (None,)
    ),
    "solid": Problem(
        "constant D, solid, exact modes",
        1e-4,
        partial(even_balls, solid=True),
        by_series,
        SOLID,
        (None,),
        (MANY,),
    ),
    "rough": Problem(
        "constant D, sealed core, exact modes against LSODA at a tenfold error",
        1e-3,
        even_balls,
        by_series,
        ROUGH,
        (None,),
        (MANY,),
    ),
    "steep": Problem(
        "D(u), sealed core, finite volumes",
        1e-3,
        steep_balls,
        peers.fine,
        STEEP,
        (Backend.NUMPY, Backend.NUMBA),
    ),
}


def taking_part(problem: Problem) -> tuple[list[Peer], list[Backend | None], list[str]]:
    """Who is there, and a line for each who is not."""
    absent = []
    present = [peer for peer in problem.peers if peer.name != "CVODE" or find_spec("sksundae")]
    if len(present) < len(problem.peers):
        absent.append("  CVODE left out: scikit-sundae is not installed")
    backends = list(problem.backends)
    if Backend.NUMBA in backends and not compiled.installed():
        backends.remove(Backend.NUMBA)
        absent.append("  machine code left out: numba is not installed")
    return present, backends, absent


def seconds(work: Callable[[], object]) -> float:
    """Wall time of one call."""
    began = perf_counter()
    work()
    return perf_counter() - began


def figure(times: list[float]) -> str:
    """Median and spread in microseconds."""
    low, middle, high = (1e6 * value for value in (min(times), median(times), max(times)))
    return f"{middle:9.2f} us ({low:.2f} to {high:.2f})"


def report(name: str, *, quick: bool = False) -> Iterator[str]:
    """The comparison of one problem, line by line."""
    problem = PROBLEMS[name]
    judged_count, rounds = (32, 2) if quick else (JUDGED, ROUNDS)
    counts = tuple(count for count in problem.counts if count <= MANY or not quick)
    yield f"{problem.title}; error to reach {problem.error:.0e}, {len(counts)} sizes"
    present, backends, absent = taking_part(problem)
    yield from absent
    judged = problem.balls(judged_count)
    truth = problem.judge(judged)
    missed = set()
    for label, answer in _answers(judged, present, backends):
        found = answer()
        error = float(np.abs(found - truth[: len(found)]).max())
        if not error <= problem.error:
            missed.add(label)
        yield f"  error {label:14}{error:8.1e} on {len(found)} balls" + (
            "  MISSED" if label in missed else ""
        )
    mine, theirs = _timed(problem, present, backends, counts=counts, rounds=rounds, judged=judged)
    for peer in present:
        yield f"  {peer.name:8}{figure(theirs[peer.name])} a ball"
    for backend in backends:
        for count in counts:
            times = mine[backend, count]
            yield f"  ours, {_label(backend):6}{count:6} balls {figure(times)} a ball"
            if count in (1, MANY):
                yield from _ratios(backend, count, times, theirs=theirs, peers=present, no=missed)


def _label(backend: Backend | None) -> str:
    return "modes" if backend is None else backend.value


def _answers(
    judged: Balls, present: list[Peer], backends: list[Backend | None]
) -> Iterator[tuple[str, Callable[[], Array]]]:
    for backend in backends:
        yield "ours, " + _label(backend), partial(_read_ours, judged, backend)
    for peer in present:
        few = judged.some(max(16, round(peer.share * len(judged))))
        yield peer.name, partial(peers.follow, few, peer.solver, peer.setting)


def _timed(
    problem: Problem,
    present: list[Peer],
    backends: list[Backend | None],
    *,
    counts: tuple[int, ...],
    rounds: int,
    judged: Balls,
) -> tuple[dict[tuple[Backend | None, int], list[float]], dict[str, list[float]]]:
    """Seconds a ball of both sides, in turns."""
    mine: dict[tuple[Backend | None, int], list[float]] = {}
    theirs: dict[str, list[float]] = {peer.name: [] for peer in present}
    for turn in range(rounds):
        for backend in backends:
            for count in counts:
                balls = problem.balls(count)
                work = partial(ours, balls, backend)
                if turn == 0:
                    work()  # compiled, laid out and warm
                repeats = 5 if count <= MANY else 1
                took = min(seconds(work) for _ in range(repeats))
                mine.setdefault((backend, count), []).append(took / count)
        for peer in present:
            each = max(4, round(peer.share * len(judged) / rounds))
            part = replace(judged, **_slice(judged, turn * each, each))
            work = partial(peers.follow, part, peer.solver, peer.setting)
            theirs[peer.name].append(seconds(work) / len(part))
    return mine, theirs


def _slice(balls: Balls, first: int, count: int) -> dict[str, Array]:
    names = ("outer", "core", "diffusivity", "steepness", "biot")
    return {name: getattr(balls, name)[first : first + count] for name in names}


def _ratios(
    backend: Backend | None,
    count: int,
    times: list[float],
    *,
    theirs: dict[str, list[float]],
    peers: list[Peer],
    no: set[str],
) -> Iterator[str]:
    for peer in peers:
        label = "ours, " + _label(backend)
        if label in no or peer.name in no:
            yield f"    {peer.name}: no ratio, an error was missed"
            continue
        turns = [them / us for them, us in zip(theirs[peer.name], times, strict=True)]
        goal = peer.goal
        if backend is Backend.NUMPY:
            goal = NUMPY_GOALS.get(peer.name)
        if count == 1:
            goal = ALONE[backend] if backend and peer.name == _LSODA else None
        reached = goal is not None and median(turns) >= goal
        beside = f"; goal {goal:g} {'reached' if reached else 'MISSED'}" if goal else ""
        yield (
            f"    {peer.name} / ours = {median(turns):.4g}"
            f" ({min(turns):.4g} to {max(turns):.4g}){beside}"
        )


def kernel_report(*, quick: bool = False) -> Iterator[str]:
    """Machine code by numba against C by hand: the same arrays, scheme and steps."""
    yield "D(u), the march alone: numba against C by hand"
    if not compiled.installed():
        yield "  left out: numba is not installed"
        return
    library = c_kernel.library()
    if isinstance(library, str):
        yield f"  left out: {library}"
        return
    held: list[tuple[tuple[Array, Array], dict[str, object]]] = []
    plain = compiled.march

    def keep(*arrays: Array, **rest: object) -> tuple[Array, Array]:
        held.append((arrays, rest))  # type: ignore[arg-type]
        return plain(*arrays, **rest)  # type: ignore[arg-type]

    compiled.march = keep  # type: ignore[assignment]
    try:
        ours(steep_balls(1024), Backend.NUMBA)
    finally:
        compiled.march = plain
    arrays, rest = held[0]
    sides = {"numba": plain, "C": c_kernel.march}
    found = [side(*arrays, **rest) for side in sides.values()]  # type: ignore[arg-type]
    apart = max(float(np.abs(one - other).max()) for one, other in zip(*found, strict=True))
    yield f"  apart {apart:.1e}"
    turns: dict[str, list[float]] = {name: [] for name in sides}
    for _ in range(4 if quick else 12):
        for name, side in sides.items():
            best = min(seconds(partial(side, *arrays, **rest)) for _ in range(5))  # type: ignore[arg-type]
            turns[name].append(best / 1024)
    for name, times in turns.items():
        yield f"  {name:6}{figure(times)} a ball"
    ratio = median(one / other for one, other in zip(turns["numba"], turns["C"], strict=True))
    yield f"  numba / C = {ratio:.3g}; goal 2.2 {'reached' if ratio <= 2.2 else 'MISSED'}"
