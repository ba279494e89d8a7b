"""The answer of the mix's page: its form, and the mix taken apart in the order of the page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.blending.bases import Basis
from baitwright.sheets.picture_shares import Slice, picture_shares
from baitwright.sheets.svg import Picture
from baitwright.terms.notes import Note
from baitwright.workshop.forms.asked_fields import Asked, Group
from baitwright.workshop.forms.asked_places import Wrong
from baitwright.workshop.mixes.mix_analysis import Analysed
from baitwright.workshop.mixes.mix_shown import MixShown, mix_shown
from baitwright.workshop.mixes.mix_tellings import CarpTold, carp_told, mesh_heads, mesh_rows
from baitwright.workshop.told.number_shown import Number, number_of

_HARDENER = "hardener"


@dataclass(frozen=True, slots=True)
class MixAnswer:
    """The form of a mix, and the mix taken apart or what is wrong with it."""

    form: Group
    hold: str
    carp: bool
    query: tuple[tuple[str, str], ...]
    found: Analysed | None = None
    error: Wrong | None = None

    @property
    def shown(self) -> MixShown | None:
        """What is shown of it."""
        return None if self.found is None else mix_shown(self.found)

    @property
    def drawn(self) -> Picture | None:
        """The shares of it as bars."""
        if self.found is None:
            return None
        parts = mix_shown(self.found).parts
        return picture_shares(
            [Slice(one.name, one.role, one.size, f"{one.share.number} %") for one in parts]
        )

    @property
    def bases(self) -> tuple[str, ...]:
        """What the columns are counted on."""
        return tuple(map(str, Basis))

    @property
    def headlines(self) -> tuple[Number, ...]:
        """The numbers a maker looks for first."""
        if self.found is None:
            return ()
        made = self.found.made
        protein = made.bases.figures[Basis.BAIT].get("protein")
        setting = None if made.binding is None else made.binding.setting
        wanted = (protein, made.bowl.dry_mix, setting, made.cost.per_kilogram)
        return tuple(number_of(one) for one in wanted if one is not None)

    @property
    def stages(self) -> tuple[tuple[str, Sequence[Number], Sequence[Note]], ...]:
        """Everything else, under its headings: numbers, and remarks."""
        shown = self.shown
        if shown is None:
            return ()
        by_class = [one for _, one, _ in shown.classes]
        on_hardener = [one for one in shown.remarks if one.stage == _HARDENER]
        others = [one for one in shown.remarks if one.stage != _HARDENER]
        return (
            ("Remarks", (), others),
            ("In cold water", (), shown.cold),
            ("By class", by_class, ()),
            ("What sets it", shown.binding, on_hardener),
            ("Weight and room", shown.weights, ()),
            ("Cost", shown.cost, self._unpriced(shown)),
        )

    @staticmethod
    def _unpriced(shown: MixShown) -> list[Note]:
        if not shown.unpriced:
            return []
        names = "; ".join(shown.unpriced)
        return [Note("cost", f"Not known: no price of {names} on the shelf.", "")]

    @property
    def sieved(self) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
        """Heads and rows of the table of sieves."""
        meshes = () if self.found is None else self.found.meshes
        return mesh_heads(meshes), mesh_rows(meshes)

    @property
    def beside(self) -> tuple[CarpTold, ...]:
        """The bait beside what is published of a carp's food, where that was asked for."""
        return () if self.found is None else carp_told(self.found.carp)

    @property
    def parts(self) -> tuple[Group, ...]:
        """The rows of its parts."""
        return tuple(one for one in self.form.groups if one.name.startswith("parts["))

    @property
    def others(self) -> tuple[Group, ...]:
        """Analysis and hardener."""
        return tuple(one for one in self.form.groups if not one.name.startswith("parts["))

    def field(self, name: str) -> Asked:
        """One field of the form."""
        return next(one for one in self.form.walk() if one.name == name)
