"""Dry baits weighed against a lake and a rig, with their glug, and laid into it for a night."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baitwright.batch.balance import BalanceStage, Tray, balance
from baitwright.batch.glug import GlugStage, glug
from baitwright.batch.rig import RigStage, hang
from baitwright.batch.soak import NIGHT, SoakStage, lake_of, soak
from baitwright.batch.to_tray import OnTray
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import WantedBait


@dataclass(frozen=True, slots=True)
class InLake:
    """Baits in a lake.

    ``bare`` is their lift before any glug; ``tray``, ``hung`` and ``water`` are of the bait as it
    is fished.
    """

    bare: BalanceStage
    glugged: GlugStage | None
    tray: Tray
    hung: RigStage | None
    water: BalanceStage


def in_lake(made: OnTray, bench: Bench) -> InLake:
    """Weigh dry baits against the lake and the rig of a bench.

    Raises
    ------
    InputError: anything that a stage refuses.
    """
    recipe, unknowns, tray = made.request.recipe, made.unknowns, made.tray
    hung, bare = _weighed(tray, recipe.bait, bench=bench, unknowns=unknowns)
    if recipe.glug is None:
        return InLake(bare, None, tray, hung, bare)
    glugged = glug(tray, recipe, recipe.glug, before=bare, bench=bench, unknowns=unknowns)
    tray = replace(tray, dried=glugged.dried)
    hung, water = _weighed(tray, recipe.bait, bench=bench, unknowns=unknowns)
    return InLake(bare, glugged, tray, hung, water)


def through_the_night(lying: InLake, made: OnTray, bench: Bench) -> SoakStage:
    """The night of such baits.

    Raises
    ------
    InputError: water that is ice or no lake.
    """
    kind = made.request.recipe.bait.kind.value
    lake = lake_of(bench, lying.water, time=NIGHT, kind=kind)
    return soak(lying.tray.dried.bait, lake, unknowns=made.unknowns)


def _weighed(
    tray: Tray, wanted: WantedBait, *, bench: Bench, unknowns: Unknowns
) -> tuple[RigStage | None, BalanceStage]:
    """The bait on its rig, where the bench tells one, and the same in the words for a lift."""
    if bench.rig is None:
        return None, balance(tray, wanted, bench=bench, unknowns=unknowns)
    hung = hang(tray, bench.rig, bench=bench, unknowns=unknowns)
    return hung, balance(tray, wanted, bench=bench, unknowns=unknowns, burden=hung.burden)
