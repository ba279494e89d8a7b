"""What lies under a levels answer: its eggs and its dry mix, as told or as the tables have them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.advice.grades import TOLD, Footing, grade_of, weakest
from baitwright.materials.eggs import egg_form, egg_part, egg_systems, grade
from baitwright.materials.tables import Row
from baitwright.recipe.eggs import Eggs
from baitwright.recipe.levels import Reference
from baitwright.workshop.levels.bridges import DRY_MIX_EVIDENCE
from baitwright.workshop.levels.levels import Levels
from baitwright.workshop.levels.levels_request import LevelsRequest


@dataclass(frozen=True, slots=True)
class Under:
    """An answer with what it was asked."""

    request: LevelsRequest
    found: Levels

    @property
    def eggs(self) -> Footing:
        """The ml in the bowl: as measured, as weighed in the shell, or as a grade tells."""
        return weakest(footing for lot in self.request.eggs for footing in _of_eggs(lot))

    @property
    def dry_mix(self) -> Footing:
        """The dry mix of an egg."""
        if self.request.dry_mix.is_known:
            return TOLD
        return Footing(grade_of(DRY_MIX_EVIDENCE), "dry mix an egg takes up", "common-practice")

    def on(self, reference: Reference) -> Footing:
        """What is counted on a basis."""
        if reference in (Reference.EGG_VOLUME, Reference.EGG_MASS):
            return self.eggs
        return (
            self.dry_mix if reference is Reference.DRY_MIX else weakest((self.eggs, self.dry_mix))
        )


def _of_eggs(lot: Eggs) -> Iterator[Footing]:
    yield TOLD
    if lot.contents_volume is not None:
        return
    if lot.contents_mass is not None:
        yield of_row(egg_form(lot.kind.value), "density of egg")
        return
    yield of_row(egg_part("shell_share"), "shell of an egg")
    yield of_row(egg_part("residue"), "egg left in the shell")
    if lot.shell_mass is None and lot.grade is not None:
        row = grade(lot.grade)
        yield of_row(row, f"limits of grade {row.name}")
        yield of_row(egg_systems()[row.system], f"grades of the {row.system.upper()}")


def of_row(row: Row, rests_on: str) -> Footing:
    """What a row of a table says of itself."""
    return Footing(grade_of(row.evidence), rests_on, row.source)
