"""What a docstring says a number may be is what the function takes, and what its refusal says.

The docstring is the promise, the code is held to it: just inside the limits there is an answer,
just outside the error names the number, the limits and their unit as the docstring does.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from baitwright import physics
from baitwright.physics.air import AirFilm, AirState
from baitwright.physics.food import Composition
from baitwright.physics.freezing import FreezingBody, FreezingCourse
from baitwright.terms.errors import RangeError

NUMBER = r"-?[\d. ]+(?:e-?\d+)?"
RANGE = re.compile(rf"^(\w+):(?!.*plausible).*?(?<![\w.])({NUMBER}) to ({NUMBER}) \[(\S+)\]$")
BARE = ("1", "m3/m3", "kg/kg")
"""A share of like things goes without a unit in the message."""
ROOM = AirState(293.15, 0.6, 0.2)
USUAL: dict[str, Any] = {
    "film": AirFilm(0.01, 10.0, 5.0),
    "composition": Composition(0.3, 0.2, 0.1, 0.35, 0.03, 0.02),
    "body": FreezingBody(1100.0, 2e5, 1.2, 271.0),
    "core_diameter": 0.0,
    "time": 3600.0,
    "diffusivity": 1e-10,
    "water_density": 999.0,
    "water_lost": 1e-5,
    "mass": 0.002,
    "carried": 1e-4,
    "shell_density": 1150.0,
    "core_density": 200.0,
    "speed": 0.2,
    "air_temperature": 240.0,
    "viscosity": 1.3e-3,
    "low": 280.0,
    "high": 300.0,
    "density": 1100.0,
}
"""Ordinary values of what has no range of its own."""


@dataclass(frozen=True)
class Promise:
    """A function, arguments it takes, and the range that its docstring gives one of them."""

    function: Callable[..., Any]
    good: dict[str, Any]
    name: str
    low: float
    high: float
    unit: str

    def __str__(self) -> str:
        return f"{self.function.__module__.rpartition('.')[2]}.{self.function.__name__}-{self.name}"

    def called(self, value: float) -> Any:
        with np.errstate(all="ignore"):
            return self.function(**{**self.good, self.name: value})


def ranges(function: Callable[..., Any]) -> dict[str, tuple[float, float, str]]:
    """Limits and unit of the parameters whose docstring gives them."""
    section = re.search(r"Parameters\n-+\n(.*?)(?:\n\n|\Z)", inspect.getdoc(function) or "", re.S)
    lines = re.sub(r"\n\s+", " ", section[1]).splitlines() if section else []
    found = {}
    for match in filter(None, map(RANGE.match, lines)):
        low, high = (float(text.replace(" ", "")) for text in match.group(2, 3))
        found[match[1]] = low, high, match[4]
    return found


def promises() -> list[Promise]:
    """Every range of every public function whose other arguments are known."""
    made = []
    for path in sorted(Path(physics.__path__[0]).glob("*.py")):
        if path.stem in ("__init__", "compiled_kernels"):
            continue
        module = import_module(f"baitwright.physics.{path.stem}")
        for name, function in vars(module).items():
            public = callable(function) and not name.startswith("_")
            if not public or getattr(function, "__module__", "") != module.__name__:
                continue
            limits = ranges(function)
            usual = USUAL | {"air": 212.0 if function is FreezingCourse else ROOM}
            good = {
                key: usual[key] for key in inspect.signature(function).parameters if key in usual
            }
            good |= {key: (low + high) / 2 for key, (low, high, _) in limits.items()}
            needed = {
                key
                for key, one in inspect.signature(function).parameters.items()
                if one.default is inspect.Parameter.empty
            }
            if limits and needed <= set(good):
                made += [Promise(function, good, key, *limit) for key, limit in limits.items()]
    return made


@pytest.mark.parametrize("promise", promises(), ids=str)
def test_what_is_promised_is_taken(promise: Promise) -> None:
    step = 1e-9 * (promise.high - promise.low)
    for inside in (promise.low + step, promise.high - step):
        promise.called(inside)


@pytest.mark.parametrize("promise", promises(), ids=str)
def test_the_refusal_names_what_is_promised(promise: Promise) -> None:
    step = 1e-6 * (promise.high - promise.low)
    for outside in (promise.low - step, promise.high + step, float("nan")):
        with pytest.raises(RangeError) as refusal:
            promise.called(outside)
        error = refusal.value
        assert error.field.split(".")[-1].endswith(promise.name.split("_")[-1])
        assert (error.low, error.high) == pytest.approx((promise.low, promise.high), rel=1e-12)
        assert error.unit == promise.unit or (promise.unit in BARE and not error.unit)
        assert error.got == pytest.approx(outside, nan_ok=True)
