"""The words of a chart of levels, so that each language has its own; sentences stay as they are."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from baitwright.materials.tools import Draw, syringes
from baitwright.quantities import show
from baitwright.workshop.levels.bases import Basis
from baitwright.workshop.levels.level_lines import between, mark
from baitwright.workshop.levels.levels import Answer, Levels

TITLE, RESTS_ON = "Levels", "Rests on"
EGGS, DOSE, DRAW_TO, SOLD_AS = "eggs", "dose", "draw to", "sold as"
OF_SIZE = "%(level)s, eggs of %(size)s"
BY_GRADE, FOR_ONE_EGG = "%(liquid)s, by grade", "%(unit)s for one egg"
THE_SAME, TO = "the same", "%(least)s to %(most)s"
IN_TOOL, OF_THESE = "%(amount)s in the %(tool)s", "per egg of these (%(size)s)"
ABOUT = {
    ("hookbait", True): "1 level for a hookbait",
    ("hookbait", False): "%(count)s levels for a hookbait",
    ("free bait", True): "1 level for a free bait",
    ("free bait", False): "%(count)s levels for a free bait",
}
ENDS = {
    False: "The middle of each grade; the ends are up to %(off)s %% off.",
    True: "The middle of each grade and of the dry mix; the ends are up to %(off)s %% off.",
}
DRY_MIX = {
    True: "Dry mix: %(amount)s an egg, as you say.",
    False: "Dry mix: %(amount)s an egg (common practice, no source). "
    "Weigh the tub before and after to know yours.",
}
HEADS = ("strength", "judged", "carrier", "flagged", "free bait", "hookbait", "makers", "in lake")
PER = (
    *("per egg of 50 ml", "per 500 g egg", "per kg dry mix", "per lb dry mix", "per kg paste"),
    "of paste",
)


def words_of_charts() -> Iterator[str]:
    """Everything a chart says in words of its own."""
    yield from (TITLE, RESTS_ON, EGGS, DOSE, DRAW_TO, SOLD_AS, OF_SIZE, BY_GRADE, FOR_ONE_EGG)
    yield from (THE_SAME, TO, IN_TOOL, OF_THESE, *ABOUT.values(), *ENDS.values())
    yield from (*DRY_MIX.values(), *HEADS, *PER, *(one.name for one in syringes().values()))


@dataclass(frozen=True, slots=True)
class Said:
    """A language: its name, a word or a sentence with places in it, and figures in its own way."""

    language: str = "en"
    word: Callable[[str], str] = field(default=str)
    figure: Callable[[str], str] = field(default=str)

    def __call__(self, english: str, **of: object) -> str:
        """A text in this language, its places filled."""
        told = str(self.word(english))
        return told % {key: self.figure(str(one)) for key, one in of.items()} if of else told

    def span(self, low: float, high: float, unit: str) -> str:
        """An amount, or its two ends."""
        least, to, most = between(low, high, unit).partition(" to ")
        return self(TO, least=least, most=most) if to else self.figure(least)

    def drawn(self, fill: Draw | None) -> str:
        """The mark to draw to, and the tool."""
        if fill is None:
            return ""
        amount = mark(fill).partition(" in the ")[0]
        of = {"amount": self.figure(amount), "tool": self.word(fill.tool.name)}
        return str(self.word(IN_TOOL)) % of

    def on(self, basis: Basis, found: Levels) -> str:
        """A level on a basis."""
        per = basis.per if basis.per in PER else OF_THESE
        told = self(per, size=show(found.bowl.per_egg, "ml")) if per == OF_THESE else self(per)
        return f"{self.span(basis.low, basis.high, basis.unit)} {told}"

    def dry_mix(self, found: Levels) -> str:
        """The bridge between an egg and a kilogram of mix."""
        low, high = found.bridges.low.dry_mix, found.bridges.high.dry_mix
        return self(DRY_MIX[low == high], amount=self.span(low, high, "g"))

    def about(self, found: Levels) -> str:
        """How many levels, and of what."""
        count = len(found.answers)
        return self(ABOUT[found.use, count == 1], count=count)

    def ends(self, answer: Answer, off: str) -> str:
        """How far the ends of a grade are from its middle."""
        return self(ENDS[answer.dose.low != answer.dose.high], off=off)


ENGLISH = Said()
