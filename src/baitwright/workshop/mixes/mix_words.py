"""A mix taken apart, as a maker reads it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from baitwright.blending.bases import Basis
from baitwright.blending.carp import CAVEAT, Beside
from baitwright.blending.meshes import ThroughMesh
from baitwright.sheets.layout import bullet, heading, paragraph, row, table
from baitwright.sheets.wording import Figure
from baitwright.sources import key_said
from baitwright.terms.notes import Note, Weight
from baitwright.workshop.mixes.mix_analysis import Analysed
from baitwright.workshop.mixes.mix_cells import bare, cell, unit_in
from baitwright.workshop.mixes.mix_parts import PartShown
from baitwright.workshop.mixes.mix_shown import MixShown, mix_shown
from baitwright.workshop.mixes.mix_tellings import carp_told, mesh_heads, mesh_rows
from baitwright.workshop.told.number_shown import Number

_WIDTHS = (22, -20, -20, -20, -22)
_FIGURES = {
    **{known: f"figures {known}" for known in ("measured", "read", "computed")},
    "memory": "figures from memory",
    "judgement": "figures judged",
    "practice": "figures of common practice",
}
_SIGNS = {Weight.REMARK: "-", Weight.DOUBT: "?", Weight.CAUTION: "!"}


def mix_text(found: Analysed) -> str:
    """Everything of a mix, for its maker."""
    shown = mix_shown(found)
    lines = [shown.name, *paragraph(shown.about)]
    lines += [*heading("In the dry mix"), *_parts(shown)]
    lines += [*heading("What it holds (8 in 10 lots)"), *_bases(shown)]
    lines += [*heading("By class"), *_numbers(one for _, one, _ in shown.classes)]
    if not shown.classes:
        lines += bullet("not known: its parts are not")
    lines += [*heading("Weight and room"), *_numbers(shown.weights)]
    lines += [*heading("What sets it"), *_numbers(shown.binding)]
    lines += [*_notes(one for one in shown.remarks if one.stage == "hardener")]
    lines += [*heading("Sieved finer"), *mesh_lines(found.meshes)]
    lines += [*heading("Cost"), *_cost(shown)]
    lines += [*heading("Allergens, its egg among them"), *allergen_lines(shown)]
    if shown.held:
        lines += [*heading("What it must hold"), *_held(shown)]
    lines += [*heading("Remarks"), *_notes(n for n in shown.remarks if n.stage != "hardener")]
    lines += [*heading("In cold water"), *_notes(shown.cold)]
    if found.carp:
        lines += [*heading("Beside a carp's food as published"), *carp_lines(found.carp)]
    return "\n".join(lines) + "\n"


def _parts(shown: MixShown) -> Iterator[str]:
    for one in shown.parts:
        yield from row(one.name, _as_figure(one.share), after=_after(one))
        for said in one.labelled:
            yield from bullet(said)


def _after(one: PartShown) -> str:
    price = f"at {one.price}" if one.price else ""
    return ", ".join(filter(None, (one.role, price, _FIGURES.get(one.evidence, ""))))


def _bases(shown: MixShown) -> list[str]:
    heads = ("", *(str(basis) for basis in Basis))
    rows = [(f"{name}, {unit_in(cells)}", *map(bare, cells)) for name, cells in shown.bases]
    lines = table([heads, *rows], _WIDTHS)
    for said in shown.unknown:
        lines += bullet(said, "?")
    return lines


def _numbers(numbers: Iterator[Number] | Sequence[Number]) -> Iterator[str]:
    for one in numbers:
        yield from row(one.label, _as_figure(one))


def _as_figure(one: Number) -> Figure:
    return Figure(one.number, one.unit, one.bands.of_8 if one.bands else "")


def _notes(notes: Iterator[Note] | Sequence[Note]) -> Iterator[str]:
    for note in notes:
        yield from bullet(note.text, _SIGNS[note.weight])


def _cost(shown: MixShown) -> Iterator[str]:
    yield from _numbers(shown.cost)
    if shown.unpriced:
        yield from bullet(f"not known: no price of {'; '.join(shown.unpriced)}")
    else:
        yield from bullet("in your own money, without the egg")


def _held(shown: MixShown) -> Iterator[str]:
    for text, chance, figure in shown.held:
        yield from row(text, _as_figure(chance), after=f"it holds {cell(figure)}")


def allergen_lines(shown: MixShown) -> Iterator[str]:
    """What it contains and may contain."""
    yield from bullet(f"contains {', '.join(shown.contains)}")
    if shown.may_contain:
        yield from bullet(f"may contain {', '.join(shown.may_contain)}")
    if not shown.allergens_known:
        yield from bullet("and whatever its bought parts hold: read their labels", "?")


def mesh_lines(meshes: Sequence[ThroughMesh]) -> list[str]:
    """The same mix through sieve after sieve."""
    heads = mesh_heads(meshes)
    return table([heads, *mesh_rows(meshes)], (20, *(-8 for _ in heads[1:])))


def carp_lines(carp: Sequence[Beside]) -> Iterator[str]:
    """Each published figure, ours beside it, and where it is from."""
    yield from bullet(CAVEAT, "!")
    for one in carp_told(carp):
        ours = f"; this bait {one.ours}, {one.verdict}" if one.ours else ""
        text = f"{one.label}: {one.published}{ours} [{key_said(one.source)}, {one.evidence}]"
        yield from bullet(f"{text} {one.note}".strip())
