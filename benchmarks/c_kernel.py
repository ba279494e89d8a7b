"""The hand-written C kernel, compiled on the spot, in the place of the engine's machine code."""

from __future__ import annotations

import ctypes
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from baitwright.physics.moist_shells import CELLS
from benchmarks.balls import Array

SOURCE = Path(__file__).with_name("kernel.c")
OPTIONS = "-O3 -march=native -ffp-contract=fast -fno-math-errno -fno-trapping-math -fopenmp-simd"


@cache
def library() -> ctypes.CDLL | str:
    """The compiled kernel, or why there is none."""
    compiler = shutil.which("cc")
    if compiler is None:
        return "there is no C compiler (cc)"
    target = Path(tempfile.mkdtemp()) / "kernel.so"
    sizes = [f"-DCELLS={CELLS}"]
    command = [compiler, *OPTIONS.split(), *sizes, "-shared", "-fPIC", str(SOURCE)]
    done = subprocess.run([*command, "-o", str(target)], capture_output=True, check=False)
    if done.returncode:
        return f"cc could not compile it: {done.stderr.decode()[:200]}"
    return ctypes.CDLL(str(target))


def march(
    per_cell: Array, per_draw: Array, *, schedule: tuple[float, int, int, Any, Array], outputs: int
) -> tuple[Array, Array]:
    """What ``compiled.march`` does, in C."""
    kernel = library()
    assert not isinstance(kernel, str)
    size, steps, corrected, firsts, shares = schedule
    draws = per_draw.shape[1]
    series, final = np.empty((outputs, 5, draws)), np.empty((per_cell.shape[1] + 1, draws))
    places = np.ascontiguousarray(firsts, dtype=np.int64)
    kept = [np.ascontiguousarray(array) for array in (per_cell, per_draw, shares)]

    def at(array: Array) -> ctypes.c_void_p:
        return ctypes.c_void_p(array.ctypes.data)

    kernel.march(
        at(kept[0]), at(kept[1]), draws, ctypes.c_double(size), steps, corrected,
        at(places), at(kept[2]), outputs, at(series), at(final),
    )  # fmt: skip
    return series, final
