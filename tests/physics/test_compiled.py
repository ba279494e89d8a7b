"""Machine code takes the same steps as numpy: within 1e-9, and only where it was asked or pays."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from baitwright.physics import compiled
from baitwright.physics.compiled import PAYS_FROM, Backend
from baitwright.physics.limits import Array
from baitwright.physics.radial import (
    ExponentialLaw,
    How,
    Medium,
    Sphere,
    Stretch,
    Transported,
    transport,
)
from baitwright.terms.errors import InputError
from benchmarks.balls import steep_balls

needs_numba = pytest.mark.skipif(
    not compiled.installed(), reason="numba, the extra `fast`, is not installed"
)
SERIES = ("innermost_shell", "surface", "shell_mean", "flux", "taken_up")


def followed(backend: Backend | None, *, count: int, solid: bool, legs: int = 1) -> Transported:
    balls = steep_balls(count, solid=solid)
    law = ExponentialLaw(balls.diffusivity, balls.steepness, 1.0)
    stretches = [
        Stretch(0.4 * balls.duration, 0.0, balls.film),
        Stretch(0.3 * balls.duration, 0.8, balls.film),
        Stretch(0.3 * balls.duration, 0.1),
    ][:legs]
    end = sum(stretch.duration for stretch in stretches)
    return transport(
        Sphere(balls.outer, balls.core, Medium(law)),
        stretches,
        start=1.0,
        times=np.linspace(0.0, end, 31),
        how=How(backend=backend),
    )


@needs_numba
@pytest.mark.parametrize("count", [1, 2, 31, 32, 33, 200])
@pytest.mark.parametrize("solid", [True, False], ids=["solid", "sealed core"])
def test_both_are_the_same(count: int, solid: bool) -> None:
    ours, theirs = (followed(one, count=count, solid=solid, legs=3) for one in Backend)
    for name in SERIES:
        one, other = getattr(ours, name)[1:], getattr(theirs, name)[1:]
        scale = np.abs(one).max()
        assert np.abs(one - other).max() < 1e-9 * scale, name
    assert ours.final.cells == pytest.approx(theirs.final.cells, abs=1e-9)


@needs_numba
def test_both_print_the_same() -> None:
    ours, theirs = (followed(one, count=64, solid=False) for one in Backend)

    def printed(run: Transported) -> list[str]:
        return [f"{value:.6g}" for value in (1e3 * run.shell_mean).ravel()]

    assert printed(ours) == printed(theirs)


@needs_numba
def test_a_steep_law_is_left_to_numpy() -> None:
    """The polynomial in place of exp is made for ratios of conductivity up to e to the 16th."""

    def last(backend: Backend) -> Array:
        sphere = Sphere(0.008, 0.005, Medium(ExponentialLaw(1e-10, 20.0, 1.0)))
        how = How(backend=backend)
        run = transport(sphere, [Stretch(4e4, 0.0)], start=1.0, times=np.array([4e4]), how=how)
        return run.shell_mean

    assert last(Backend.NUMBA) == pytest.approx(last(Backend.NUMPY), abs=0.0)


def test_the_size_of_the_work_decides() -> None:
    assert compiled.chosen(None, PAYS_FROM - 1) is Backend.NUMPY
    expected = Backend.NUMBA if compiled.installed() else Backend.NUMPY
    assert compiled.chosen(None, PAYS_FROM) is expected
    assert compiled.chosen(Backend.NUMPY, 10**6) is Backend.NUMPY


def test_without_numba_it_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiled, "installed", lambda: False)
    assert compiled.chosen(None, 10**6) is Backend.NUMPY
    with pytest.raises(InputError, match=r"baitwright\[fast\]"):
        compiled.chosen(Backend.NUMBA, 10)


def test_numba_is_not_loaded_for_little_work() -> None:
    code = (
        "import sys, numpy as np\n"
        "from baitwright.physics.radial import *\n"
        "law = Medium(ExponentialLaw(1e-10, 2.0, 1.0))\n"
        "transport(Sphere(0.008, 0.005, law), [Stretch(60.0, 0.0)], start=1.0, times=np.ones(1))\n"
        "sys.exit('numba' in sys.modules or 'scipy' in sys.modules)\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
