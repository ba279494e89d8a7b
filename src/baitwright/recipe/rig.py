"""What the bait is fished on: hook-link, parts, hole, water, wishes and the box of shot, in SI."""

from __future__ import annotations

from dataclasses import dataclass, field

from baitwright.materials.hooks import shots, weight

LINK_DIAMETER = 0.45e-3
"""Hook-link taken where nobody says, m (judgement)."""
MARGIN = 0.02e-3
"""Pull past balance that a counterweight is chosen for, kg (common practice)."""
USUAL_METAL = "tin"
"""Shot is taken as not toxic unless somebody says otherwise."""


@dataclass(frozen=True, slots=True)
class Link:
    """A hook-link by material, length between bait and counterweight, and thickness."""

    material: str
    length: float
    diameter: float = LINK_DIAMETER


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole drilled through bait and core, and whether its ends are sealed."""

    diameter: float
    sealed: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """One kind of shot in the box: its mass in air [kg], its metal by id, and how many there are.

    ``count`` is None where there is no limit.
    """

    name: str
    mass: float
    metal: str
    count: int | None = None

    def pull(self, water_density: float) -> float:
        """What it weighs under water [kg]."""
        return weight(self.metal).submerged(self.mass, water_density)


def every_size(metal: str = USUAL_METAL) -> tuple[Piece, ...]:
    """A box with every trade size of shot, of a metal by its id."""
    return tuple(Piece(row.name, row.mass, metal) for row in shots().values())


@dataclass(frozen=True, slots=True)
class Rig:
    """What the bait is fished on, where, and what is wished of it there.

    ``depth`` [m], ``salinity`` [kg/kg] and ``current`` [m/s] are the water's; ``margin`` [kg] is
    the pull past balance; ``putty`` [kg] is what the bait is to hold up besides; ``slowest`` and
    ``fastest`` [m/s] are how it may sink with its hook; ``stock`` is the box of shot.
    """

    link: Link | None = None
    parts: tuple[str, ...] = ()
    hole: Hole | None = None
    depth: float = 0.0
    salinity: float = 0.0
    current: float | None = None
    margin: float = MARGIN
    putty: float = 0.0
    slowest: float | None = None
    fastest: float | None = None
    stock: tuple[Piece, ...] = field(default_factory=every_size)
