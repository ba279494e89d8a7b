"""What each line of a levels answer stands on, by the rows of the tables it was made with."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from baitwright.advice.answers import Statement, said
from baitwright.advice.grades import TOLD, Footing, grade_of, weakest
from baitwright.materials.defaults import default
from baitwright.materials.liquids import level_range
from baitwright.recipe.dosing import FREE_BAIT_LEVEL
from baitwright.workshop.levels.bases import Basis
from baitwright.workshop.levels.level_advice import MAKERS_EVIDENCE, SURER_EVIDENCE, advice_lines
from baitwright.workshop.levels.level_lines import answer_lines
from baitwright.workshop.levels.levels import Answer
from baitwright.workshop.levels.levels_together import together_lines
from baitwright.workshop.levels.levels_under import Under, of_row
from baitwright.workshop.levels.levels_words import dry_mix_line, eggs_line, heading
from baitwright.workshop.typed.unstated import UNSTATED_EVIDENCE


def assumptions(under: Under) -> Iterator[Statement]:
    """The eggs and the bridge, that everything else is counted on."""
    yield said("eggs", eggs_line(under.found).removeprefix("Eggs: "), under.eggs)
    yield said("dry mix", dry_mix_line(under.found).removeprefix("Dry mix: "), under.dry_mix)


def statements(under: Under) -> Iterator[Statement]:
    """Every line of every level, then all of them in one bait."""
    for answer in under.found.answers:
        about, head, bases = heading(answer), "", iter(answer.bases)
        for told, words in (*answer_lines(answer, under.found), *advice_lines(answer, under.found)):
            head = told or head
            is_basis = head == SAME
            footing = (
                _same(next(bases), answer, under) if is_basis else FOOTINGS[head](answer, under)
            )
            yield said(head, words, footing, about=about, first=head in _FIRST)
    for words in together_lines(under.found):
        yield said("", words, _of_ranges(under), about="all in one bait")


SAME = "the same"
_FIRST = ("dose", "draw to", "weigh")


def _dose(answer: Answer, under: Under) -> Footing:
    return under.on(answer.liquid.level.reference)


def _drawn(answer: Answer, under: Under) -> Footing:
    fill = answer.dose.fill or (answer.dose.blend and answer.dose.blend.fill)
    drawn = TOLD if not fill else of_row(fill.tool, f"error of the {fill.tool.name}")
    return weakest((_dose(answer, under), drawn))


def _spooned(answer: Answer, under: Under) -> Footing:
    spoons = answer.dose.spoons
    spooned = TOLD if spoons is None else of_row(spoons.spoon, spoons.spoon.name)
    return weakest((_dose(answer, under), spooned))


def _weighed(answer: Answer, under: Under) -> Footing:
    return weakest((_dose(answer, under), of_row(answer.carrier, "density of its carrier")))


def _same(basis: Basis, answer: Answer, under: Under) -> Footing:
    """The level on another basis, and its weight."""
    own = answer.liquid.level.reference
    across = () if basis.reference is own else (under.on(own), under.on(basis.reference))
    return weakest((*across, of_row(answer.carrier, "density of its carrier")))


def _judged(answer: Answer, under: Under) -> Footing:
    usual = of_row(answer.range, f"what makers use of {answer.range.strength} ones")
    assumed = (_ASSUMED,) if answer.liquid.strength_assumed else ()
    return weakest((usual, *assumed))


def _carrier(answer: Answer, under: Under) -> Footing:
    return of_row(answer.carrier, answer.carrier.name)


def _flagged(answer: Answer, under: Under) -> Footing:
    weak = level_range("weak", "hookbait")
    return weakest((of_row(weak, "what makers use of weak ones"), _dose(answer, under)))


def _other_use(answer: Answer, under: Under) -> Footing:
    row = default(FREE_BAIT_LEVEL)
    return of_row(row, row.label)


def _of_ranges(under: Under) -> Footing:
    return weakest(_judged(one, under) for one in under.found.answers)


def _makers(answer: Answer, under: Under) -> Footing:
    return weakest((_judged(answer, under), _ALIKE))


def _in_lake(answer: Answer, under: Under) -> Footing:
    surer = () if answer.carrier.mixes_with_water else (_SURER,)
    return weakest((_carrier(answer, under), *surer))


_ASSUMED = Footing(grade_of(UNSTATED_EVIDENCE), "its kind, which nobody stated", "judgement")
_ALIKE = Footing(
    grade_of(MAKERS_EVIDENCE), "that strengths lie alike within their ranges", "judgement"
)
_SURER = Footing(grade_of(SURER_EVIDENCE), "which carrier is surer in cold water", "judgement")
FOOTINGS: Mapping[str, Callable[[Answer, Under], Footing]] = {
    "dose": _dose,
    "weigh": _weighed,
    "draw to": _drawn,
    "or spoon": _spooned,
    "or blend": _drawn,
    "strength": _drawn,
    "judged": _judged,
    "carrier": _carrier,
    "flagged": _flagged,
    "free bait": _other_use,
    "hookbait": _other_use,
    "makers": _makers,
    "in lake": _in_lake,
}
"""What each line of a level stands on; a line of another head has none and fails."""
