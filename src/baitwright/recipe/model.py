"""A recipe as the maker decides it, in SI: no file format and no defaults here."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from baitwright.physics.packing import cluster_diameter
from baitwright.recipe.finish import Coat, Glug
from baitwright.recipe.liquid import Liquid

LARGEST_CORE = 0.9
THINNEST_SHELL = 0.75e-3
"""A core is no more than this share of the bait, and under at least so much paste [m]: sizes
scatter, and some core would be larger than its bait (judgement)."""
MOST_FILLED = 0.3
"""Light grains take no more than this share of the paste's room (judgement)."""


def largest_core(diameter: float) -> float:
    """Diameter of the largest core, or of the ball round a few, that a bait [m] takes [m]."""
    return min(LARGEST_CORE * diameter, diameter - 2.0 * THINNEST_SHELL)


class BaitKind(StrEnum):
    """What a bait is wanted to do. The meanings stand in the table of bait kinds."""

    POP_UP = "pop-up"
    WAFTER = "wafter"
    SINKER = "sinker"


class Hardness(StrEnum):
    """How hard a bait is wanted."""

    NORMAL = "normal"
    HARD = "hard"
    EXTRA_HARD = "extra hard"


class HardenerBasis(StrEnum):
    """What a share of hardener is counted on: two different weighings, never confused."""

    ON_TOP = "on top of the base"
    OF_FINISHED = "of the finished mix"


@dataclass(frozen=True, slots=True)
class Part:
    """One ingredient of a base mix and its share of the mix by weight."""

    ingredient: str
    share: float


@dataclass(frozen=True, slots=True)
class Analysis:
    """A bought mix's declared analysis: shares by weight, None where the bag says nothing."""

    water: float | None = None
    protein: float | None = None
    fat: float | None = None
    fibre: float | None = None
    ash: float | None = None


@dataclass(frozen=True, slots=True)
class BaseMix:
    """A base mix by its parts, by its declared analysis, or by its name alone."""

    name: str
    parts: tuple[Part, ...] = ()
    analysis: Analysis | None = None
    milk_protein: bool = False


@dataclass(frozen=True, slots=True)
class Hardener:
    """The stiffener, usually egg albumen, and on what its share is counted."""

    share: float
    basis: HardenerBasis
    ingredient: str


@dataclass(frozen=True, slots=True)
class Core:
    """A core by its material (a row of the cores table), diameter, and how many sit in one bait."""

    material: str
    diameter: float
    count: int = 1

    @property
    def across(self) -> float:
        """Diameter of the ball round all of them [m]."""
        return cluster_diameter(self.count, self.diameter)


@dataclass(frozen=True, slots=True)
class Filler:
    """Light grains in the paste (a row of the fillers table), by their share of its room."""

    material: str
    share: float


@dataclass(frozen=True, slots=True)
class WantedBait:
    """The bait wanted: what it does, its diameter as rolled, core, hardness, and light fillers."""

    kind: BaitKind
    diameter: float
    core: Core | None
    hardness: Hardness
    fillers: tuple[Filler, ...] = ()


@dataclass(frozen=True, slots=True)
class FreeBait:
    """The free bait to match: its diameter, its level beside the hookbait's, and how much of it."""

    diameter: float
    level_share: float
    dry_mix: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """Everything the maker decides about a bait."""

    name: str
    bait: WantedBait
    base: BaseMix
    hardener: Hardener | None
    sieve: str | None
    liquids: tuple[Liquid, ...]
    free_bait: FreeBait | None
    invented: bool = False
    coat: Coat | None = None
    glug: Glug | None = None
