"""What sieving to a finer mesh changes: how much stays back, and what passes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from baitwright.blending.blend import density_of, held
from baitwright.blending.components import MixTold, held_back_of, in_bowl
from baitwright.blending.shares import binding_of, by_class
from baitwright.materials.sieves import sieve as sieve_of
from baitwright.terms.quantity import IDENTITY, given, unwrap

FINER = (None, "iso-1.40", "kitchen", "iso-0.80", "iso-0.50")
"""Meshes set beside each other: none, and from a coarse one to a fine one."""
_TOLD = ("protein", "fat", "fibre")


@dataclass(frozen=True, slots=True)
class ThroughMesh:
    """A mix through one sieve, by the middle of what is believed of it.

    ``held_back`` is the share of the raw base that stays on the sieve; ``figures`` are of the dry
    mix, classes among them; ``density`` [kg/m3] and ``setting`` are None where they are unknown.
    """

    sieve: str | None
    name: str
    held_back: float
    figures: Mapping[str, float]
    density: float | None
    setting: float | None


def through_meshes(told: MixTold, extra: str | None = None) -> tuple[ThroughMesh, ...]:
    """The same mix through sieve after sieve, its own and another one among them.

    Raises
    ------
    InputError: there is no such sieve, or nothing passes the mix's own.
    """
    wanted = dict.fromkeys((*FINER, told.sieve, extra))
    ordered = sorted(wanted, key=lambda one: -_opening(one))
    return tuple(_through(told, one) for one in ordered)


def _opening(sieve: str | None) -> float:
    return float("inf") if sieve is None else sieve_of(sieve).opening


def _through(told: MixTold, sieve: str | None) -> ThroughMesh:
    mix = in_bowl(replace(told, sieve=sieve), None)
    dry, classes = held(mix.parts), by_class(mix.parts) or {}
    figures = {name: dry[name] for name in _TOLD if name in dry}
    figures |= {name: classes[name] for name in ("binder", "coarse", "soluble") if name in classes}
    sure = given("mix_density_doubt", 1.0, label="as it is", backing=IDENTITY)
    density, bound = density_of(mix.parts, sure), binding_of(mix.parts)
    return ThroughMesh(
        sieve=sieve,
        name="not sieved" if sieve is None else sieve_of(sieve).name,
        held_back=held_back_of(told, sieve),
        figures={name: float(unwrap(one.value)) for name, one in figures.items()},
        density=None if density is None else float(unwrap(density.value)),
        setting=None if bound is None else float(unwrap(bound.setting.value)),
    )
