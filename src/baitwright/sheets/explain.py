"""Any number opened: its formula, its source, what moves it most, and what it was made from."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, field

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.on_rig import OnRig
from baitwright.physics.constants import STANDARD_GRAVITY
from baitwright.quantities import percent
from baitwright.sheets.wording import is_number, stated
from baitwright.sources import sources
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, Quantity, identity
from baitwright.uncertainty.bands import band_of, movers_of

_WIDTH = 100
_STEP = "  "
_DEEPEST = 24
"""Levels that are still indented further; deeper ones stay under each other."""


def explain(quantity: Quantity) -> str:
    """A quantity as a tree: itself, then each of its inputs, every one written out once."""
    return _told([quantity])


def in_short(quantity: Quantity) -> tuple[str, ...]:
    """What a number is, and its formula, source, note and what moves it most, a line each."""
    tree = _Tree()
    about = tree._about(quantity)
    cited = (sources()[key].citation for key in sorted(tree.cited))
    return (f"{quantity.label}{_kind(quantity)}", *about, *cited)


def explain_all(quantities: list[Quantity]) -> str:
    """Several quantities as trees, what they share written out once."""
    return _told(quantities)


def explain_plan(plan: BatchPlan) -> str:
    """The plan's headline numbers opened, what they share written out once."""
    return _told(headlines(plan))


def headlines(plan: BatchPlan) -> list[Quantity]:
    """The numbers a maker acts on, in the order of the stages."""
    return [
        plan.eggs.volume,
        plan.mix.dry_mix,
        plan.mix.per_egg,
        *(one.volume for one in plan.doses.doses),
        *(one.error for one in plan.doses.doses if one.error is not None),
        plan.rolled.pinch,
        plan.rolled.baits,
        plan.boil.seconds,
        plan.boil.loss,
        plan.dry.time,
        plan.dry.loss,
        *(place.life for place in plan.keep.places),
        plan.keep.freezing.starts,
        plan.water.dried,
        plan.water.rig,
        plan.water.wish,
        *(() if plan.rig is None else on_rig(plan.rig)),
        plan.tub_left,
        *(reading.predicted for reading in plan.prove),
    ]


def on_rig(made: OnRig) -> tuple[Quantity, ...]:
    """What a maker acts on at the water."""
    stage = made.stage
    shot = () if made.counterweight is None else (made.counterweight.settles.time,)
    return (stage.net, stage.balance_point, stage.putty, made.settles.time, *shot)


def _told(roots: list[Quantity]) -> str:
    tree = _Tree()
    for quantity in roots:
        tree.add(quantity, role="", level=0)
        tree.lines.append("")
    return "\n".join([*tree.lines, *tree.bibliography()]) + "\n"


@dataclass(slots=True)
class _Tree:
    """Lines written so far, what was written out already, and the sources met on the way."""

    lines: list[str] = field(default_factory=list)
    seen: set[tuple[object, ...]] = field(default_factory=set)
    cited: set[str] = field(default_factory=set)

    def add(self, quantity: Quantity, *, role: str, level: int) -> None:
        """Write a quantity and what it stands on; a second meeting only points back."""
        key = identity(quantity)
        name = f"{role} = " if role and role != quantity.name else ""
        value = f"{stated(quantity)}{_as_force(quantity)}" or _word(quantity)
        head = f"{name}{quantity.label}{': ' if value else ''}{value}"
        if key in self.seen:
            self._write(f"{head} (see above)", level)
            return
        self.seen.add(key)
        self._write(f"{head}{_kind(quantity)}", level)
        for line in self._about(quantity):
            self._write(line, level + 2)
        for part_role, part in quantity.inputs:
            self.add(part, role=part_role, level=level + 1)

    def _about(self, quantity: Quantity) -> list[str]:
        lines = []
        if quantity.equation:
            lines.append(quantity.equation)
        if quantity.source in sources():
            self.cited.add(quantity.source)
            lines.append(f"source: {quantity.source} ({quantity.evidence})")
        if quantity.note:
            lines.append(f"note: {quantity.note}")
        if quantity.origin is Origin.COMPUTED and is_number(quantity):
            moved = [f"{one.label} {percent(one.share)}" for one in movers_of(quantity)]
            if moved:
                lines.append(f"moved most by: {', '.join(moved)}")
        return lines

    def _write(self, text: str, level: int) -> None:
        indent = _STEP * min(level, _DEEPEST)
        self.lines += textwrap.wrap(
            text,
            _WIDTH,
            initial_indent=indent,
            subsequent_indent=indent + _STEP * 2,
            break_on_hyphens=False,
        )

    def bibliography(self) -> list[str]:
        """Every source met, in full."""
        if not self.cited:
            return []
        lines = ["Sources"]
        for key in sorted(self.cited):
            lines += textwrap.wrap(
                f"{key}: {sources()[key].citation}",
                _WIDTH,
                initial_indent=_STEP,
                subsequent_indent=_STEP * 3,
                break_on_hyphens=False,
            )
        return lines


_PULLS = frozenset(
    ("lift", "rig_lift", "lift_on_core", "hook_pull", "part_pull", "link_pull", "shot_pull")
)
"""Lifts and weights under water: forces, told as the mass that would pull as much."""


def _as_force(quantity: Quantity) -> str:
    """A pull in millinewtons beside its grams."""
    if quantity.name not in _PULLS:
        return ""
    return f" = {1e3 * STANDARD_GRAVITY * band_of(quantity).median:.2f} mN"


def _kind(quantity: Quantity) -> str:
    """How the number came to be, where it was not computed."""
    match quantity.origin:
        case Origin.COMPUTED:
            return ""
        case Origin.GIVEN:
            return " [given]" if quantity.evidence is Evidence.MEASURED else " [given, table]"
        case other:
            return f" [{other}]"


def _word(quantity: Quantity) -> str:
    """What is said of a value that is a word; nothing of a solver's record."""
    return quantity.value if isinstance(quantity.value, str) else ""
