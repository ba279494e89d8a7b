"""Sieves and a carp's food beside a mix, in words for text and page alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.blending.carp import Beside
from baitwright.blending.meshes import ThroughMesh
from baitwright.quantities import from_si, show, tidy
from baitwright.sheets.wording import unit_word
from baitwright.sources import sources
from baitwright.workshop.mixes.mix_cells import with_band


@dataclass(frozen=True, slots=True)
class CarpTold:
    """One published figure of a carp's food, ours beside it, and what stands behind it."""

    label: str
    published: str
    ours: str
    verdict: str
    source: str
    citation: str
    evidence: str
    note: str


def mesh_heads(meshes: Sequence[ThroughMesh]) -> tuple[str, ...]:
    """The heads of the table of sieves."""
    return ("sieve", "stays back", *_figures(meshes), "sets by heat", "g/ml")


def mesh_rows(meshes: Sequence[ThroughMesh]) -> list[tuple[str, ...]]:
    """The same mix through sieve after sieve; an empty cell is not known."""
    return [
        (
            one.name,
            show(one.held_back, "%"),
            *(
                show(one.figures[name], "%") if name in one.figures else ""
                for name in _figures(meshes)
            ),
            "" if one.setting is None else show(one.setting, "%"),
            "" if one.density is None else tidy(from_si(one.density, "g/ml"), 4),
        )
        for one in meshes
    ]


def _figures(meshes: Sequence[ThroughMesh]) -> list[str]:
    return list(dict.fromkeys(name for one in meshes for name in one.figures))


def carp_told(carp: Sequence[Beside]) -> tuple[CarpTold, ...]:
    """Each published figure in words."""
    return tuple(_told(one) for one in carp)


def _told(one: Beside) -> CarpTold:
    seen = one.published
    ends = f"{seen.low:g}" if seen.low == seen.high else f"{seen.low:g} to {seen.high:g}"
    return CarpTold(
        label=seen.label,
        published=f"{ends} {unit_word(seen.unit)}",
        ours="" if one.ours is None else with_band(one.ours),
        verdict=one.verdict,
        source=seen.source,
        citation=sources()[seen.source].citation,
        evidence=seen.evidence.value,
        note=seen.note,
    )
