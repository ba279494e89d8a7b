"""The recipe of a free bait from that of its hookbait: nothing of it is decided in silence."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from baitwright.materials.defaults import default
from baitwright.materials.mix_rules import mix_rules
from baitwright.materials.powders import ingredient
from baitwright.materials.sieves import retained_share
from baitwright.quantities import show
from baitwright.recipe.base_mix import shares_of
from baitwright.recipe.dosing import FREE_BAIT_LEVEL
from baitwright.recipe.model import (
    BaitKind,
    BaseMix,
    FreeBait,
    Hardness,
    Part,
    Recipe,
    WantedBait,
)
from baitwright.terms.errors import InputError
from baitwright.terms.notes import Note


@dataclass(frozen=True, slots=True)
class Matching:
    """What is wanted of a free bait besides its recipe.

    ``coarse`` is what the hookbait's sieve left [kg], to be stirred back in.
    """

    free_bait: FreeBait
    hardness: Hardness = Hardness.NORMAL
    coarse: float = 0.0

    @property
    def coarse_share(self) -> float:
        """What of the dry mix is that coarse part; no more than all of it."""
        return min(self.coarse / self.free_bait.dry_mix, 1.0)


def free_recipe(hookbait: Recipe, wanted: Matching) -> Recipe:
    """The free bait as a recipe of its own: solid, unsieved, without hardener, coat and glug.

    Raises
    ------
    InputError: no dry mix, or a level or a diameter of nothing.
    """
    free = wanted.free_bait
    for name in ("dry_mix", "level_share", "diameter"):
        if getattr(free, name) <= 0.0:
            raise InputError(f"free_bait.{name}", getattr(free, name), "more than nothing")
    return replace(
        hookbait,
        name=f"{hookbait.name}, free bait",
        bait=WantedBait(BaitKind.SINKER, free.diameter, None, wanted.hardness),
        base=stirred_back(hookbait.base, hookbait.sieve, wanted.coarse_share),
        hardener=None,
        sieve=None,
        liquids=tuple(
            replace(one, level=one.level.scaled(free.level_share)) for one in hookbait.liquids
        ),
        free_bait=None,
        coat=None,
        glug=None,
    )


def stirred_back(base: BaseMix, sieve: str | None, share: float) -> BaseMix:
    """A base unsieved, with so much of the mix being what a sieve held of it before.

    A base that nobody can take apart stays as it is: what its sieve holds is taken to be alike.
    """
    if not base.parts:
        return base
    raw = shares_of(base)
    held = {name: one * retained_share(ingredient(name), sieve) for name, one in raw.items()}
    whole = math.fsum(held.values())
    if whole == 0.0:
        return base
    parts = tuple(
        Part(name, (1.0 - share) * one + share * held[name] / whole) for name, one in raw.items()
    )
    return replace(base, parts=parts)


def left_out(hookbait: Recipe) -> tuple[str, ...]:
    """What the hookbait has and its free bait does not, in the maker's words."""
    bait = hookbait.bait
    told = (
        ("sieve", hookbait.sieve is not None),
        ("hardener", hookbait.hardener is not None),
        ("core", bait.core is not None),
        ("fillers", bool(bait.fillers)),
        ("coat", hookbait.coat is not None),
        ("glug", hookbait.glug is not None),
    )
    return tuple(name for name, is_there in told if is_there)


def on_level(hookbait: Recipe, share: float) -> tuple[Note, ...]:
    """What is to be said of a level: outside the usual, or of what goes by its own label."""
    row = default(FREE_BAIT_LEVEL)
    notes = []
    if not row.low - 1e-9 <= share <= row.high + 1e-9:
        text = (
            f"{show(share, '%')} of the hookbait's level; usual is {show(row.low, '%')} to "
            f"{show(row.high, '%')}, and a half in the middle (common practice, no source)."
        )
        notes.append(Note("match", text, row.source))
    labelled = [one.name for one in hookbait.liquids if one.is_by_label]
    if labelled and share != 1.0:
        text = (
            f"{', '.join(labelled)}: {show(share, '%')} like the rest. What a dye or a "
            "preservative needs stands on its own label."
        )
        notes.append(Note("match", text, "common-practice"))
    return tuple(notes)


def on_coarse(wanted: Matching, grains: float) -> tuple[Note, ...]:
    """What is to be said of a coarse part that is more than its mix, or makes it too coarse.

    Parameters
    ----------
    wanted: the free bait.
    grains: what of its dry mix would stay on a sieve of 1 mm [1].
    """
    notes, dry_mix = [], wanted.free_bait.dry_mix
    if wanted.coarse > dry_mix:
        over = show(wanted.coarse - dry_mix, "g")
        text = f"{over} of the coarse part are more than this mix takes: they are left over."
        notes.append(Note("match", text, "definition"))
    row = mix_rules()["coarse"]
    if wanted.coarse > 0.0 and row.high is not None and grains > row.high:
        text = (
            f"{show(grains, '%')} of its dry mix is grains over 1 mm, above the usual "
            f"{show(row.high, '%')}: spread the coarse part over more kilograms."
        )
        notes.append(Note("match", text, row.source))
    return tuple(notes)
