"""A base mix made over for cold water by the rules makers go by; every share that moves is told."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.blending.rounding import in_steps
from baitwright.materials.mix_rules import mix_rules
from baitwright.materials.powders import allergens_in, ingredient
from baitwright.quantities import show
from baitwright.recipe.base_mix import hardener_on_top, shares_of
from baitwright.recipe.cold import OIL, SOLUBLE, Turn
from baitwright.recipe.model import BaseMix, Part
from baitwright.terms.errors import InputError

THICKEN = frozenset({"cod-liver-oil", "salmon-oil", "sardine-oil"})
"""Fish oils, which thicken in cold water and hold flavour back."""
USUAL_SOLUBLE = "milk-powder-skimmed"
_NO_FOOD = ("mineral soluble", "sugar soluble", "amino soluble")
"""Groups that dissolve and are used by the percent: no mix is filled up with them."""
_RICH = 0.15
"""Fat from which a part is one to take less of for its fat (judgement)."""
_STEP = Fraction(1, 1000)

_Shares = dict[str, float]
_Belongs = Callable[[Candidate], bool]


@dataclass(frozen=True, slots=True)
class ColdBase:
    """A base made over: what was turned and why, and what was looked at and left."""

    base: BaseMix
    turns: tuple[Turn, ...]
    left: tuple[str, ...]


def cold_base(
    told: MixTold, *, soluble: str | None = None, keep: frozenset[str] = frozenset()
) -> ColdBase:
    """The base of a mix with less oil, fish meal and fat, and more that dissolves.

    What is taken out makes room for the soluble part; what it needs beyond that comes off the
    others alike, and what is over goes to binders and lean proteins.

    Parameters
    ----------
    told: the mix with the maker's own ingredients.
    soluble: what to raise or add; the mix's own largest, or skimmed milk powder, where None.
    keep: ``oil`` or ``soluble`` to leave that as it is.

    Raises
    ------
    InputError: shares that do not sum to 100 %, names on no shelf, or a part that does not dissolve
        as what is to be raised.
    """
    if not told.base.parts:
        text = "The base: its parts are not known, so none of it is exchanged. Ask for its oil."
        return ColdBase(told.base, (), (text,))
    before = shares_of(told.base)
    raised = _raised(told, before, soluble)
    known = {name: told.candidate(name) for name in (*before, raised.id)}
    making = _Making(known, dict(before), raised.id, 1.0 + hardener_on_top(told.hardener))
    if OIL not in keep:
        making.take_out("oil-cold", OIL, lambda one: one.id in THICKEN, most=0.0)
        making.take_out("oil-cold", OIL, lambda one: one.id in mix_rules()["oil-cold"].names)
        making.take_out("fish-meals-cold", "fish meals", _is_marine)
    if SOLUBLE not in keep:
        making.dissolve(told)
    making.fill()
    if OIL not in keep:
        making.slim()
    return _made(told.base, making)


@dataclass(slots=True)
class _Making:
    """Shares of the base in the making; what is missing to 1 is yet to be filled.

    Rules go by the dry mix, hardener and all: ``bowl`` is how much of that a kilogram of base is.
    """

    known: dict[str, Candidate]
    shares: _Shares
    raised: str
    bowl: float
    turns: list[Turn] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)

    def over(self, belongs: _Belongs) -> float:
        return math.fsum(self.shares.get(name, 0.0) for name in self.names(belongs))

    def names(self, belongs: _Belongs) -> list[str]:
        return [name for name, one in self.known.items() if belongs(one)]

    def held(self, belongs: _Belongs) -> str:
        used = (name for name in self.names(belongs) if self.shares.get(name))
        return ", ".join(self.known[name].name for name in used)

    def told(self, share: float) -> str:
        return show(share / self.bowl, "%") if share > 5e-5 else "none"

    @property
    def room(self) -> float:
        return 1.0 - math.fsum(self.shares.values())

    def scale(self, belongs: _Belongs, factor: float) -> None:
        for name in self.names(belongs):
            self.shares[name] = self.shares.get(name, 0.0) * factor

    def take_out(
        self, rule: str, about: str, belongs: _Belongs, *, most: float | None = None
    ) -> None:
        row = mix_rules()[rule]
        limit = self.bowl * ((row.high or 0.0) if most is None else most)
        now, held = self.over(belongs), self.held(belongs)
        if now <= limit + 1e-9:
            return
        self.scale(belongs, limit / now)
        self.taken.update(self.names(belongs))
        why = f"{held}: {row.note[0].lower()}{row.note[1:]}"
        self.turns.append(Turn(about, self.told(now), self.told(limit), why, row.source))

    def dissolve(self, told: MixTold) -> None:
        row = mix_rules()["soluble-cold"]
        low, now = self.bowl * (row.low or 0.0), self.over(_dissolves)
        if now >= low - 1e-9:
            self.left.append(f"The soluble part: {self.told(now)} of the mix is enough.")
            return
        need = low - now
        short = need - self.room
        if short > 0.0:
            self.scale(self._gives, 1.0 - short / self.over(self._gives))
        new = self.shares.get(self.raised, 0.0) == 0.0
        self.shares[self.raised] = self.shares.get(self.raised, 0.0) + need
        one = self.known[self.raised]
        why = f"{row.note}: {one.name}{_brings(told, one) if new else ''}"
        self.turns.append(Turn("soluble part", self.told(now), self.told(low), why, row.source))

    def fill(self) -> None:
        """What is still missing goes to the lean, or where there are none to what dissolves."""
        room = self.room
        if room <= 1e-12:
            return
        lean = self.over(self._is_lean)
        if lean > 0.0:
            self.scale(self._is_lean, 1.0 + room / lean)
        else:
            self.shares[self.raised] = self.shares.get(self.raised, 0.0) + room

    def slim(self) -> None:
        """Fat brought down by exchanging the parts rich in it for the lean."""
        row, lacking = mix_rules()["fat-cold"], self.names(lambda one: one.figure("fat") is None)
        used = [name for name in lacking if self.shares.get(name)]
        if used:
            self.left.append(f"Fat: nobody tells that of {', '.join(used)}.")
            return
        high, now = self.bowl * (row.high or 0.0), self._fat(lambda one: True)
        rich, lean = self.over(self._is_rich), self.over(self._is_lean)
        if now <= high + 1e-9:
            return
        if rich and lean:
            gain = self._fat(self._is_rich) / rich - self._fat(self._is_lean) / lean
            moved = min(rich, (now - high) / gain)
            held = self.held(self._is_rich)
            self.scale(self._is_rich, 1.0 - moved / rich)
            self.scale(self._is_lean, 1.0 + moved / lean)
            after = self._fat(lambda one: True)
            why = f"{row.note} (our own figure): less {held}"
            self.turns.append(Turn("fat", self.told(now), self.told(after), why, row.source))
            now = after
        if now > high + 1e-9:
            self.left.append(f"Fat stays at {self.told(now)}: it has no lean part to take instead.")

    def _fat(self, belongs: _Belongs) -> float:
        told = ((self.shares.get(name, 0.0), self.known[name]) for name in self.names(belongs))
        return math.fsum(share * (one.figure("fat") or 0.0) for share, one in told)

    def _gives(self, one: Candidate) -> bool:
        return not _dissolves(one) and one.id not in self.taken

    def _is_rich(self, one: Candidate) -> bool:
        held = self.shares.get(one.id, 0.0) > 0.0 and not _dissolves(one)
        return held and (one.figure("fat") or 0.0) > _RICH

    def _is_lean(self, one: Candidate) -> bool:
        held = self.shares.get(one.id, 0.0) > 0.0 and not _is_marine(one)
        fat = one.figure("fat")
        lean = fat is not None and fat <= 0.5 * _RICH
        return held and lean and one.ingredient.role in ("binder", "protein", "coarse")


def _is_marine(one: Candidate) -> bool:
    return one.ingredient.group in mix_rules()["fish-meals-cold"].names


def _dissolves(one: Candidate) -> bool:
    return one.ingredient.role == "soluble"


def _raised(told: MixTold, before: _Shares, wanted: str | None) -> Candidate:
    if wanted is not None:
        found = told.shelf.get(wanted) or Candidate(ingredient=ingredient(wanted, SOLUBLE))
        if not _dissolves(found):
            raise InputError(SOLUBLE, wanted, "an ingredient that dissolves, such as whey powder")
        return found
    own = [told.candidate(name) for name in before]
    food = [one for one in own if _dissolves(one) and one.ingredient.group not in _NO_FOOD]
    usual = told.candidate(USUAL_SOLUBLE)
    return max(food, key=lambda one: before[one.id], default=usual)


def _brings(told: MixTold, one: Candidate) -> str:
    """Allergens that the mix had not before."""
    rows = [told.candidate(part.ingredient).ingredient for part in told.base.parts]
    before = {group.id for group in allergens_in(rows)[0]}
    new = [group.name for group in allergens_in([one.ingredient])[0] if group.id not in before]
    return f", which brings {' and '.join(new)} into the base" if new else ""


def _made(base: BaseMix, making: _Making) -> ColdBase:
    if not making.turns:
        return ColdBase(base, (), (*making.left, "The base: nothing of it is to be exchanged."))
    exact = in_steps({name: one for name, one in making.shares.items() if one > 0.0}, _STEP)
    parts = tuple(Part(name, float(share)) for name, share in exact.items())
    made = replace(base, name=f"{base.name}, winter", parts=parts)
    return ColdBase(made, tuple(making.turns), tuple(making.left))


def moved(before: BaseMix, after: BaseMix) -> Iterator[tuple[str, float, float]]:
    """Every part of two bases with its share in each [1]."""
    was, now = ({one.ingredient: one.share for one in base.parts} for base in (before, after))
    for name in dict.fromkeys((*was, *now)):
        yield name, was.get(name, 0.0), now.get(name, 0.0)
